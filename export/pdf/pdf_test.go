package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/export/drawing"
	"scopewright/export/sheet"
	"scopewright/export/sheet/sheettest"
)

var update = flag.Bool("update", false, "write the golden files anew")

func render(t testing.TB, doc sheet.Document, opt Options) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, Render(&out, doc, opt))
	return out.Bytes()
}

// pdftotext reads a PDF back with poppler, a reader that shares no code with us.
func pdftotext(t *testing.T, pdf []byte, args ...string) string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext (poppler-utils) is not installed")
	}
	file := filepath.Join(t.TempDir(), "x.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o600))
	out, err := exec.Command(tool, append(args, file, "-")...).CombinedOutput()
	require.NoError(t, err, string(out))
	return string(out)
}

// squeeze drops white space, so that line breaks do not count.
func squeeze(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}

func TestRender_printsEveryString(t *testing.T) {
	doc := sheettest.AllBlocks()
	text := squeeze(pdftotext(t, render(t, doc, Options{}), "-raw"))
	for _, want := range doc.Strings() {
		assert.Contains(t, text, squeeze(want))
	}
}

func TestRender_wideMatrixLosesNoTitleAndNoRow(t *testing.T) {
	doc := sheettest.Hostile()
	doc.Sheets[0].Blocks = []sheet.Block{sheettest.Matrix(40, 30)}
	for _, paper := range Papers {
		t.Run(string(paper), func(t *testing.T) {
			text := squeeze(pdftotext(t, render(t, doc, Options{Paper: paper}), "-raw"))
			for _, want := range sheettest.Matrix(40, 30).Columns {
				assert.Contains(t, text, squeeze(want.Title))
			}
			dots := 0
			for _, r := range sheettest.Matrix(40, 30).Rows {
				for _, c := range r.Cells {
					dots += strings.Count(c.Text, "●")
				}
			}
			assert.Equal(t, dots+strings.Count(sheettest.Matrix(1, 1).Note, "●"), strings.Count(text, "●"))
		})
	}
}

func TestRender_sameBytesTwice(t *testing.T) {
	for _, doc := range []sheet.Document{sheettest.AllBlocks(), sheettest.Hostile(), sheettest.Set(3)} {
		require.True(t, bytes.Equal(render(t, doc, Options{}), render(t, doc, Options{})), doc.Title[:10])
	}
}

// Several windows may print at the same time.
func TestRender_sideBySide(t *testing.T) {
	want := render(t, sheettest.AllBlocks(), Options{})
	results := make(chan []byte, 8)
	for range cap(results) {
		go func() {
			var out bytes.Buffer
			_ = Render(&out, sheettest.AllBlocks(), Options{}) // an error shows as other bytes
			results <- out.Bytes()
		}()
	}
	for range cap(results) {
		require.True(t, bytes.Equal(want, <-results))
	}
}

var wordBox = regexp.MustCompile(`<(page|word)[^>]*?(?:width="([\d.-]+)" height="([\d.-]+)"|xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)")`)

func TestRender_nothingOutsideThePaper(t *testing.T) {
	for _, paper := range Papers {
		for _, orientation := range []Orientation{AlwaysPortrait, AlwaysLandscape} {
			for _, doc := range []sheet.Document{sheettest.AllBlocks(), sheettest.Hostile()} {
				boxes := pdftotext(t, render(t, doc, Options{Paper: paper, Orientation: orientation, BigType: paper == A4}), "-bbox")
				words, width, height := 0, 0.0, 0.0
				for _, m := range wordBox.FindAllStringSubmatch(boxes, -1) {
					if m[1] == "page" {
						width, height = number(t, m[2]), number(t, m[3])
						continue
					}
					words++
					require.GreaterOrEqual(t, number(t, m[4]), 0.0, m[0])
					require.GreaterOrEqual(t, number(t, m[5]), 0.0, m[0])
					require.LessOrEqual(t, number(t, m[6]), width, m[0])
					require.LessOrEqual(t, number(t, m[7]), height, m[0])
				}
				require.Greater(t, words, 100)
			}
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

func TestRender_everyPageSaysWhatItIs(t *testing.T) {
	pages := strings.Split(strings.TrimSuffix(pdftotext(t, render(t, sheettest.Set(2), Options{}), "-layout"), "\f"), "\f")
	require.Greater(t, len(pages), 3)
	for i, p := range pages {
		for _, want := range []string{
			"C-", "Revision", "2026-03-01", "US customary", "Invented demo data", "for construction", "licensed people",
			fmt.Sprintf("document page %d of %d", i+1, len(pages)),
		} {
			assert.Contains(t, p, want, "page %d", i+1)
		}
		assert.Regexp(t, `Page \d of \d`, p)
	}
}

func TestRender_repeatsColumnTitlesAfterABreak(t *testing.T) {
	doc := sheettest.AllBlocks()
	doc.Sheets = doc.Sheets[1:]
	doc.Sheets[0].Blocks = []sheet.Block{sheettest.Matrix(120, 4)}
	pages := strings.Split(strings.TrimSuffix(pdftotext(t, render(t, doc, Options{}), "-layout"), "\f"), "\f")
	require.GreaterOrEqual(t, len(pages), 3)
	for i, p := range pages {
		assert.Contains(t, p, "L1 window row", "page %d", i+1)
		if i > 0 {
			assert.Contains(t, p, "Control matrix (continued)")
		}
	}
}

func TestRender_indexHoldsTheRealPage(t *testing.T) {
	doc := sheettest.Set(3)
	book, err := layOut(doc, Options{})
	require.NoError(t, err)
	text := pdftotext(t, render(t, doc, Options{}), "-layout", "-l", "1")
	for i, s := range doc.Sheets[1:] {
		assert.Regexp(t, regexp.QuoteMeta(s.Number)+`\s+`+regexp.QuoteMeta(s.Title)+`\s+`+strconv.Itoa(book.first[i+1])+`\n`, text)
	}
}

func TestRender_missingCharactersAreShown(t *testing.T) {
	doc := sheet.Document{Title: "日本 \U0001F4A1", Sheets: []sheet.Sheet{{ID: "a", Title: "x日y", Blocks: []sheet.Block{
		sheet.Paragraph{Text: "lamp \U0001F4A1 end"}, sheet.Paragraph{Text: "bad \xff byte"}, sheet.Paragraph{Text: "bell \a!"},
		sheet.Paragraph{Text: "mirror \u202e override"}, sheet.Paragraph{Text: "✓ ⚠ ≤ → Δ Ω"},
	}}}}
	text := squeeze(pdftotext(t, render(t, doc, Options{}), "-raw"))
	for _, want := range []string{"x\uFFFDy", "lamp\uFFFDend", "bad\uFFFDbyte", "bell\uFFFD!", "mirror\uFFFDoverride", "✓⚠≤→ΔΩ"} {
		assert.Contains(t, text, want)
	}
}

func TestRender_refusesWhatDoesNotValidate(t *testing.T) {
	err := Render(&bytes.Buffer{}, sheet.Document{Title: "x"}, Options{})
	require.ErrorContains(t, err, "no sheets")
	err = Render(&bytes.Buffer{}, sheettest.AllBlocks(), Options{Paper: "legal"})
	require.ErrorContains(t, err, `paper "legal" is unknown`)
}

func TestAuto_turnsASheetOnlyWhenItHelps(t *testing.T) {
	doc := sheettest.AllBlocks()
	book, err := layOut(doc, Options{Orientation: Auto})
	require.NoError(t, err)
	assert.Less(t, book.pages[1].width, book.pages[1].height)
	doc.Sheets[1].Blocks = append(doc.Sheets[1].Blocks, sheettest.Matrix(3, 27))
	book, err = layOut(doc, Options{Orientation: Auto})
	require.NoError(t, err)
	assert.Greater(t, book.pages[1].width, book.pages[1].height)
}

func TestFonts_matchTheirChecksumsAndCarryTheirLicenses(t *testing.T) {
	sums, err := os.ReadFile("fonts/SHA256SUMS")
	require.NoError(t, err)
	files, err := filepath.Glob("fonts/*.ttf")
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(sums)), "\n")
	require.Len(t, lines, len(files))
	for _, line := range lines {
		want, name, _ := strings.Cut(line, "  ")
		data, err := os.ReadFile(filepath.Join("fonts", name))
		require.NoError(t, err)
		got := sha256.Sum256(data)
		assert.Equal(t, want, hex.EncodeToString(got[:]), name)
	}
	for file, phrase := range map[string]string{"LICENSE-NotoSans.txt": "SIL OPEN FONT LICENSE Version 1.1", "LICENSE-DejaVu.txt": "Bitstream Vera Fonts Copyright"} {
		text, err := os.ReadFile(filepath.Join("fonts", file))
		require.NoError(t, err)
		assert.Contains(t, string(text), phrase)
	}
}

// The golden file holds where each text stands; refresh it with -update and read the diff.
func TestGolden_layoutOfAllBlocks(t *testing.T) {
	book, err := layOut(sheettest.AllBlocks(), Options{})
	require.NoError(t, err)
	var got strings.Builder
	for i, p := range book.pages {
		fmt.Fprintf(&got, "page %d, %.1f x %.1f mm\n", i+1, p.width, p.height)
		for _, o := range p.ops {
			if o.text != "" {
				fmt.Fprintf(&got, "%6.1f %6.1f  %s %.1f  %s\n", o.x, o.y, o.face.family(), o.size, strings.ReplaceAll(o.text, "\x00", " | "))
			}
			if d, ok := o.shape.(drawing.Text); ok {
				fmt.Fprintf(&got, "%6.1f %6.1f  drawn %.1f mm  %s\n", o.x+d.At.X, o.y+d.At.Y, d.Size, d.Text)
			}
		}
	}
	const file = "testdata/all_blocks_letter.txt"
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(file, []byte(got.String()), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run the test with -update once")
	sameLines(t, string(want), got.String())
}

// sameLines names the first line that differs, since a whole page is too long to read.
func sameLines(t *testing.T, want, got string) {
	t.Helper()
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		require.Equal(t, w[i], g[i], "line %d; if it is meant, run with -update and read the diff", i+1)
	}
	require.Len(t, g, len(w))
}
