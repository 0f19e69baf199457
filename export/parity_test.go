package export_test

import (
	"bytes"
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/export"
	sheethtml "scopewright/export/html"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
	"scopewright/export/sheet/sheettest"
)

// Paper and screen must say the same. Words are compared both ways; page numbers and what
// the PDF repeats on every page are left out, since each format counts its own pages.
func TestParity_PDFAndPageHoldTheSameWords(t *testing.T) {
	doc := sheettest.AllBlocks()
	paper, screen := words(pdfText(t)), words(pageText(t))
	for _, s := range doc.Strings() {
		for _, w := range strings.Fields(s) {
			assert.True(t, paper[w], "the PDF lacks %q of %q", w, s)
			assert.True(t, screen[w], "the page lacks %q of %q", w, s)
		}
	}
	furniture := regexp.MustCompile(`^(\d+|page|Page|document|of|·|C-\d+,|Revision|Sheet)$`)
	for w := range paper {
		assert.True(t, screen[w] || furniture.MatchString(w), "only the PDF has %q", w)
	}
	for w := range screen {
		assert.True(t, paper[w] || furniture.MatchString(w), "only the page has %q", w)
	}
}

// The same drawing must say the same in a file of its own, on a page and in a PDF, whatever
// the paper: every text of the picture that fits a paper stands in all three.
func TestParity_drawingsSayTheSameInSVGAndPDF(t *testing.T) {
	in, err := export.InputOf(demo.Scope(), june())
	require.NoError(t, err)
	doc, err := export.Build("plan", in, sheet.Only{Storeys: []domain.ID{in.Scope.Rooms[0].StoreyID}})
	require.NoError(t, err)
	require.Len(t, doc.Drawings(), 1)
	for _, size := range []pdf.Paper{pdf.ArchD, pdf.A3} {
		var file, page bytes.Buffer
		require.NoError(t, export.Write(&file, export.SVG, doc, export.Options{Paper: size}))
		require.NoError(t, export.Write(&page, export.PDF, doc, export.Options{Paper: size}))
		drawn, printed := words(textOf(t, &file)), words(toText(t, page.Bytes()))
		furniture := regexp.MustCompile(`^(\d+(\.\d+)?|\W+|Scale|\(1:\d+\)|\d+/\d+"|1'-0"|Date|Purpose|Units|Revision|Designer|Checker|Reviewer|.*,)$`) // scale and title block differ
		require.True(t, drawn["Lobby"] || size != pdf.ArchD, "names print at a large scale")
		for w := range drawn {
			assert.True(t, printed[w] || furniture.MatchString(w), "%s: only the SVG has %q", size, w)
		}
		for _, n := range []string{"101", "1S1"} {
			assert.True(t, drawn[n] && printed[n], "%s: room %s", size, n)
		}
	}
}

func words(text string) map[string]bool {
	set := map[string]bool{}
	for _, w := range strings.Fields(text) {
		set[w] = true
	}
	return set
}

func pdfText(t *testing.T) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, pdf.Render(&out, sheettest.AllBlocks(), pdf.Options{}))
	return toText(t, out.Bytes())
}

// toText reads a PDF with poppler, a reader that shares no code with us.
func toText(t *testing.T, data []byte) string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext (poppler-utils) is not installed")
	}
	file := filepath.Join(t.TempDir(), "x.pdf")
	require.NoError(t, os.WriteFile(file, data, 0o600))
	text, err := exec.Command(tool, "-raw", file, "-").Output()
	require.NoError(t, err)
	return string(text)
}

func pageText(t *testing.T) string {
	t.Helper()
	var page bytes.Buffer
	require.NoError(t, sheethtml.Document(sheettest.AllBlocks(), sheethtml.Options{}).Render(context.Background(), &page))
	return textOf(t, &page)
}

func textOf(t *testing.T, page io.Reader) string {
	t.Helper()
	root, err := html.Parse(page)
	require.NoError(t, err)
	var out strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode {
			out.WriteString(n.Data + " ")
		}
	}
	return out.String()
}
