package html

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"scopewright/export/sheet"
	"scopewright/export/sheet/sheettest"
)

var update = flag.Bool("update", false, "write the golden files anew")

func page(t *testing.T, doc sheet.Document, opt Options) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, Document(doc, opt).Render(context.Background(), &out))
	return out.String()
}

// nodes walks the page as a browser's parser would build it.
func nodes(t *testing.T, page string, visit func(*html.Node)) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	require.NoError(t, err)
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		visit(n)
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(root)
}

func text(t *testing.T, page string) string {
	t.Helper()
	var out strings.Builder
	nodes(t, page, func(n *html.Node) {
		if n.Type == html.TextNode {
			out.WriteString(n.Data)
		}
	})
	return strings.Join(strings.Fields(out.String()), " ")
}

func TestDocument_printsEveryString(t *testing.T) {
	doc := sheettest.AllBlocks()
	got := text(t, page(t, doc, Options{}))
	for _, want := range doc.Strings() {
		assert.Contains(t, got, strings.Join(strings.Fields(want), " "))
	}
}

// The content policy is style-src 'self'; script-src 'self': nothing inline may be needed.
func TestDocument_holdsNoInlineStyleOrScript(t *testing.T) {
	nodes(t, page(t, sheettest.AllBlocks(), Options{BigType: true}), func(n *html.Node) {
		assert.NotContains(t, []string{"script", "style"}, n.Data)
		for _, a := range n.Attr {
			assert.NotEqual(t, "style", a.Key)
			assert.False(t, strings.HasPrefix(a.Key, "on"), a.Key)
		}
	})
}

func TestDocument_hostileNamesStayText(t *testing.T) {
	const payload = `"><script>alert(1)</script><img src=x onerror=alert(1)>`
	head := sheettest.Head(payload)
	head.Project, head.Caution, head.Hash = payload, payload, payload
	doc := sheet.Document{Title: payload, Sheets: []sheet.Sheet{{ID: "a", Number: payload, Title: payload, Head: head, Blocks: []sheet.Block{
		sheet.Heading{Level: 1, Text: payload}, sheet.Paragraph{Text: payload}, sheet.BigText{Text: payload},
		sheet.Facts{Columns: 1, Items: []sheet.Fact{{Name: payload, Value: payload}}},
		sheet.Table{Caption: payload, Columns: []sheet.Column{{Title: payload, Unit: payload}}, Rows: []sheet.Row{{Cells: []sheet.Cell{sheet.TextCell(payload)}}}, Note: payload},
		sheet.Statements{Items: []sheet.Statement{{ID: payload, Text: payload, Source: payload}}},
		sheet.Findings{Items: []sheet.FindingLine{{Severity: sheet.SeverityInfo, Rule: payload, Text: payload, Waiver: payload}}},
		sheet.Buttons{Station: payload, Where: payload, Items: []sheet.ButtonLine{{Number: 1, Label: payload, Action: payload}}},
		sheet.Checklist{Items: []sheet.CheckLine{{Number: payload, Subject: payload, Text: payload, Verdict: payload, Comment: payload, Answer: payload}}},
		sheet.Signatures{Items: []sheet.Signature{{Role: payload, Name: payload, Date: payload, State: payload}}}, sheet.Caution{Title: payload, Text: payload},
		sheet.Legend{Items: []sheet.LegendItem{{Symbol: payload, Meaning: payload}}}, sheet.Index{Items: []sheet.IndexLine{{Number: payload, Title: payload, Page: payload}}},
	}}}}
	nodes(t, page(t, doc, Options{}), func(n *html.Node) {
		if n.Type == html.ElementNode {
			assert.NotContains(t, []string{"script", "img"}, n.Data)
		}
	})
}

func TestDocument_tablesAreSemantic(t *testing.T) {
	count := map[string]int{}
	nodes(t, page(t, sheettest.AllBlocks(), Options{}), func(n *html.Node) {
		if n.Type != html.ElementNode {
			return
		}
		count[n.Data]++
		if n.Data == "th" {
			scope := ""
			for _, a := range n.Attr {
				if a.Key == "scope" {
					scope = a.Val
				}
			}
			assert.Contains(t, []string{"col", "row", "colgroup"}, scope)
		}
	})
	assert.Equal(t, 4, count["caption"], "devices, loads, matrix, scenes")
	assert.Equal(t, count["table"], count["thead"])
	assert.Equal(t, 2, count["header"])
}

// A class that the style sheet does not know prints without its looks.
func TestDocument_everyClassIsInTheStyleSheet(t *testing.T) {
	css, err := os.ReadFile("../../static/css/sheet.css")
	require.NoError(t, err)
	unstyled := map[string]bool{"left": true, "sheet-info": true, "sheet-changed": true, "sheet-exception": true, "sheet-waived": true, "sheet-list-1": true, "sheet-button-action": true}
	nodes(t, page(t, sheettest.AllBlocks(), Options{BigType: true}), func(n *html.Node) {
		for _, a := range n.Attr {
			if a.Key != "class" {
				continue
			}
			for _, class := range strings.Fields(a.Val) {
				if !unstyled[class] {
					assert.True(t, regexp.MustCompile(`\.`+regexp.QuoteMeta(class)+`\b`).Match(css), class)
				}
			}
		}
	})
}

// A drawing is made to fit the paper that the print style names.
func TestPapers_areThoseOfTheStyleSheets(t *testing.T) {
	for name, size := range papers {
		css, err := os.ReadFile("../../static/css/paper-" + name + ".css")
		require.NoError(t, err, name)
		upright := map[string]string{"letter": "letter", "a4": "A4", "tabloid": "11in 17in", "a3": "A3", "arch-c": "18in 24in", "arch-d": "24in 36in",
			"a2": fmt.Sprintf("%gmm %gmm", size.width, size.height), "a1": fmt.Sprintf("%gmm %gmm", size.width, size.height)}[name]
		assert.Contains(t, string(css), "@page { size: "+upright, name)
	}
}

func TestPageStyles_quoteHostileTitles(t *testing.T) {
	doc := sheettest.AllBlocks()
	doc.Sheets[0].Title = "x\"} body{display:none} @import url(//evil.example)\n\\"
	css, err := PageStyles(doc, "a4")
	require.NoError(t, err)
	assert.Contains(t, css, "@page s-cover {\n  size: 210mm 297mm;")
	assert.Contains(t, css, `.sheet[id="room-214"] { page: s-room-214; }`)
	outside := regexp.MustCompile(`"[^"\n]*"`).ReplaceAllString(css, "")
	assert.NotContains(t, outside, "display")
	assert.NotContains(t, outside, "import")
	assert.NotContains(t, css, "@import", "the at sign must be an escape")
	_, err = PageStyles(doc, "legal")
	require.ErrorContains(t, err, `paper "legal" is unknown`)
}

func TestGolden_allBlocks(t *testing.T) {
	got := strings.ReplaceAll(page(t, sheettest.AllBlocks(), Options{}), "><", ">\n<") + "\n"
	const file = "testdata/all_blocks.html"
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run the test with -update once")
	sameLines(t, string(want), got)
}

func BenchmarkSetOf200Sheets(b *testing.B) {
	doc := sheettest.Set(200)
	for b.Loop() {
		require.NoError(b, Document(doc, Options{}).Render(context.Background(), &bytes.Buffer{}))
	}
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
