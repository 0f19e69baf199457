package sheet

import (
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Answers in cells: a blank cell is an error, so each says why it holds no value.
const (
	none      = "–"          // does not apply
	notStated = "not stated" // the design lacks it
	undecided = "?"          // someone must decide
)

// orDash gives the text, or the sign for "does not apply".
func orDash(text string) string { return or(text, none) }

func or(text, otherwise string) string {
	if strings.TrimSpace(text) == "" {
		return otherwise
	}
	return text
}

// sentence makes the first letter a capital one.
func sentence(text string) string { return domain.UpperFirst(text) }

// number prints a bare number with at most two decimals.
func number(v float64) string { return units.Trim(v, 2) }

// decimalsOf is the fewest decimals, at most two, that print every value as it is.
func decimalsOf(values ...float64) int {
	most := 0
	for _, v := range values {
		for d := most; d < 2; d++ {
			if p := math.Pow10(d); math.Abs(v*p-math.Round(v*p)) > 1e-6 {
				most = d + 1
			}
		}
	}
	return most
}

// roundTo rounds as paper prints, so that totals are sums of what the reader sees.
func roundTo(v float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(v*p) / p
}

func count(n int, one, many string) string { return domain.Count(n, one, many) }

func joined(words []string) string { return domain.JoinWords(words) }

func toCaution(c domain.Caution) Caution { return Caution{Title: c.Title, Text: c.Text} }
