package static

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Minimum contrast, WCAG 2.2: success criterion 1.4.3 for text (level AA), and
// 1.4.11 for edges of controls, focus rings and marks that carry meaning.
const (
	textContrast = 4.5
	markContrast = 3.0
)

// textPairs lists each color of words with every ground that app.css puts it on.
var textPairs = map[string][]string{
	"ink":         {"paper", "sheet", "sunken", "accent-soft"},
	"ink-soft":    {"paper", "sheet", "sunken", "accent-soft"},
	"accent":      {"paper", "sheet", "sunken", "accent-soft"},
	"accent-deep": {"paper", "sheet", "sunken", "accent-soft"},
	"on-accent":   {"accent", "accent-deep"},
	"on-error":    {"error"},
	"sheet":       {"ink-soft"},
	"error":       {"paper", "sheet", "sunken", "accent-soft", "error-soft"},
	"warning":     {"sheet", "warning-soft"},
	"info":        {"sheet", "info-soft"},
	"ok":          {"paper", "sheet", "sunken", "ok-soft"},
	"waived":      {"sheet", "waived-soft"},
	"on-lamp":     {"lamp"},
}

var markPairs = map[string][]string{
	"rule-strong": {"paper", "sheet", "sunken"},
	"focus":       {"paper", "sheet", "sunken", "accent-soft", "error-soft"},
	"accent":      {"sheet", "sunken"},
	"error":       {"sheet", "error-soft"},
	"warning":     {"sheet", "sunken"},
	"info":        {"sheet", "sunken"},
	"ok":          {"sheet", "sunken"},
	"waived":      {"sheet"},
}

func TestContrast_everyPairInBothThemes(t *testing.T) {
	tokens := readTokens(t)
	check := func(kind string, pairs map[string][]string, least float64) {
		for front, grounds := range pairs {
			for _, ground := range grounds {
				for theme, name := range []string{"light", "dark"} {
					require.Contains(t, tokens, front)
					require.Contains(t, tokens, ground)
					ratio := contrast(tokens[front][theme], tokens[ground][theme])
					assert.GreaterOrEqual(t, ratio, least, "%s, %s: --%s on --%s has %.2f:1", kind, name, front, ground, ratio)
				}
			}
		}
	}
	check("text", textPairs, textContrast)
	check("mark", markPairs, markContrast)
}

// The same formula must give the published figures.
func TestContrast_worksAsPublished(t *testing.T) {
	// WCAG 2.2, definition of contrast ratio: from 1 to 21, black on white is 21.
	assert.InDelta(t, 21.0, contrast("#000000", "#ffffff"), 0.001)
	assert.InDelta(t, 1.0, contrast("#445566", "#445566"), 0.001)
	// The lightest gray that passes on white, 4.54:1 (common practice, from memory).
	assert.InDelta(t, 4.54, contrast("#767676", "#ffffff"), 0.005)
}

var tokenUse = regexp.MustCompile(`var\((--[a-z-]+)`)
var tokenDefinition = regexp.MustCompile(`(--[a-z-]+):`)
var colorLiteral = regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b`)

func TestAppCSS_colorsComeFromTokens(t *testing.T) {
	css := readCSS(t)
	tokens, rest, found := strings.Cut(css, "/* ---- ground ---- */")
	require.True(t, found)
	assert.Empty(t, colorLiteral.FindAllString(rest, -1), "give the color a token, so that both themes and the contrast test know it")

	defined := map[string]bool{}
	for _, match := range tokenDefinition.FindAllStringSubmatch(tokens, -1) {
		defined[match[1]] = true
	}
	for _, match := range tokenUse.FindAllStringSubmatch(css, -1) {
		assert.True(t, defined[match[1]], "%s is used but not defined", match[1])
	}
}

// Only what the content security policy allows: nothing fetched from elsewhere.
func TestAppCSS_fetchesNothing(t *testing.T) {
	css := readCSS(t)
	assert.NotContains(t, css, "url(")
	assert.NotContains(t, css, "@import")
}

func readCSS(t *testing.T) string {
	t.Helper()
	css, err := FS.ReadFile("css/app.css")
	require.NoError(t, err)
	return string(css)
}

var colorToken = regexp.MustCompile(`--([a-z-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\);`)

func readTokens(t *testing.T) map[string][2]string {
	t.Helper()
	tokens := map[string][2]string{}
	for _, match := range colorToken.FindAllStringSubmatch(readCSS(t), -1) {
		tokens[match[1]] = [2]string{match[2], match[3]}
	}
	require.NotEmpty(t, tokens)
	return tokens
}

// contrast is (L1 + 0.05) / (L2 + 0.05) of the lighter and the darker color, WCAG 2.2.
func contrast(a, b string) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// luminance of an sRGB color "#rrggbb", 0 to 1: 0.2126 R + 0.7152 G + 0.0722 B on
// linear channels, WCAG 2.2, definition of relative luminance.
func luminance(color string) float64 {
	value, err := strconv.ParseUint(strings.TrimPrefix(color, "#"), 16, 32)
	if err != nil {
		panic(fmt.Sprintf("color %q: %v", color, err))
	}
	linear := func(channel uint64) float64 {
		c := float64(channel) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(value>>16) + 0.7152*linear(value>>8&0xff) + 0.0722*linear(value&0xff)
}
