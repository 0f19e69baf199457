package export_test

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	sheethtml "scopewright/export/html"
	"scopewright/export/pdf"
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

func words(text string) map[string]bool {
	set := map[string]bool{}
	for _, w := range strings.Fields(text) {
		set[w] = true
	}
	return set
}

func pdfText(t *testing.T) string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext (poppler-utils) is not installed")
	}
	var out bytes.Buffer
	require.NoError(t, pdf.Render(&out, sheettest.AllBlocks(), pdf.Options{}))
	file := filepath.Join(t.TempDir(), "x.pdf")
	require.NoError(t, os.WriteFile(file, out.Bytes(), 0o600))
	text, err := exec.Command(tool, "-raw", file, "-").Output()
	require.NoError(t, err)
	return string(text)
}

func pageText(t *testing.T) string {
	t.Helper()
	var page bytes.Buffer
	require.NoError(t, sheethtml.Document(sheettest.AllBlocks(), sheethtml.Options{}).Render(context.Background(), &page))
	root, err := html.Parse(&page)
	require.NoError(t, err)
	var out strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode {
			out.WriteString(n.Data + " ")
		}
	}
	return out.String()
}
