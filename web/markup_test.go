package web

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// These checks read one page as a browser and an assistive technology would.
// They hold what the HTML standard asks of any document (html.spec.whatwg.org:
// nesting, unique ids, "for" names a control) and WCAG 2.2 success criteria
// 1.1.1, 1.3.1, 2.4.6 and 4.1.2 (from memory): pictures have text, headings
// skip no level, controls and links have names.

// faultsOf lists what is wrong with a page; whole says that it is a document
// and not a fragment of one.
func faultsOf(page string, whole bool) []string {
	m := &markup{ids: map[string]*html.Node{}}
	m.nesting(page)
	var err error
	if m.root, err = html.Parse(strings.NewReader(page)); err != nil {
		return []string{err.Error()}
	}
	for n := range m.root.Descendants() {
		m.identify(n)
	}
	for n := range m.root.Descendants() {
		m.references(n, whole)
		m.naming(n)
		m.words(n)
		m.scripts(n)
	}
	if whole {
		m.headings()
	}
	return m.faults
}

type markup struct {
	root   *html.Node
	ids    map[string]*html.Node
	faults []string
}

func (m *markup) fault(format string, args ...any) {
	m.faults = append(m.faults, fmt.Sprintf(format, args...))
}

// implied are elements that the parser puts in where a page leaves them out.
var implied = []string{"html", "head", "body", "tbody"}

// nesting compares the tags as written with the tree as parsed: where an
// element may not stand, the parser moves, closes or drops it.
func (m *markup) nesting(page string) {
	var written []string
	for z := html.NewTokenizer(strings.NewReader(page)); z.Next() != html.ErrorToken; {
		if t := z.Token(); t.Type == html.StartTagToken || t.Type == html.SelfClosingTagToken {
			written = append(written, strings.ToLower(t.Data))
		}
	}
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		m.fault("%v", err)
		return
	}
	var parsed []string
	for n := range root.Descendants() {
		if n.Type == html.ElementNode {
			parsed = append(parsed, strings.ToLower(n.Data))
		}
	}
	skip := func(name string) bool { return slices.Contains(implied, name) }
	written, parsed = slices.DeleteFunc(written, skip), slices.DeleteFunc(parsed, skip)
	for i := range max(len(written), len(parsed)) {
		if i >= len(written) || i >= len(parsed) || written[i] != parsed[i] {
			m.fault("element %d is nested wrongly: written %v, parsed %v", i, around(written, i), around(parsed, i))
			return
		}
	}
}

func around(list []string, i int) []string {
	return list[min(max(i-4, 0), len(list)):min(i+3, len(list))]
}

func (m *markup) identify(n *html.Node) {
	id, has := attribute(n, "id")
	switch {
	case !has:
	case id == "" || strings.ContainsAny(id, " \t\n"):
		m.fault("<%s id=%q>: no such id can be named", n.Data, id)
	case m.ids[id] != nil:
		m.fault("id %q stands twice", id)
	default:
		m.ids[id] = n
	}
}

// references follows what names another element by its id.
func (m *markup) references(n *html.Node, whole bool) {
	if !whole {
		return
	}
	for _, name := range []string{"for", "list", "form", "headers", "aria-labelledby", "aria-describedby", "aria-controls", "aria-owns", "popovertarget"} {
		value, has := attribute(n, name)
		if has && value == "" {
			m.fault("<%s %s> names nothing", n.Data, name)
		}
		for _, id := range strings.Fields(value) {
			if m.ids[id] == nil {
				m.fault("<%s %s=%q> leads nowhere", n.Data, name, id)
			}
		}
	}
	if href, _ := attribute(n, "href"); len(href) > 1 && href[0] == '#' && m.ids[href[1:]] == nil {
		m.fault("link %q leads nowhere", href)
	}
}

// naming holds that whatever can be used has a name.
func (m *markup) naming(n *html.Node) {
	switch n.Data {
	case "img", "svg":
		_, alt := attribute(n, "alt")
		hidden, _ := attribute(n, "aria-hidden")
		if n.Type == html.ElementNode && !alt && hidden != "true" && m.name(n) == "" {
			m.fault("<%s> has no words for those who do not see it", n.Data)
		}
	case "input", "select", "textarea":
		kind, _ := attribute(n, "type")
		if n.Type != html.ElementNode || slices.Contains([]string{"hidden", "submit", "reset", "button"}, kind) {
			return
		}
		if m.name(n) == "" && m.label(n) == "" {
			m.fault("%s has no label", tagOf(n))
		}
	case "a", "button", "summary", "label", "th", "legend", "dialog":
		_, href := attribute(n, "href")
		empty := m.name(n) == "" && strings.TrimSpace(textOf(n)) == "" && !holdsControl(n)
		switch {
		case n.Type != html.ElementNode || !empty || n.Data == "a" && !href:
		case n.Data == "th":
			m.fault("an empty heading cell in a row of %q: make it a td", textOf(n.Parent))
		default:
			m.fault("%s has no name", tagOf(n))
		}
	}
}

func holdsControl(n *html.Node) bool {
	for c := range n.Descendants() {
		if c.Data == "input" || c.Data == "button" {
			return true
		}
	}
	return false
}

func (m *markup) name(n *html.Node) string {
	for _, name := range []string{"aria-label", "title", "alt"} {
		if text, _ := attribute(n, name); strings.TrimSpace(text) != "" {
			return text
		}
	}
	var text strings.Builder
	by, _ := attribute(n, "aria-labelledby")
	for _, id := range strings.Fields(by) {
		if m.ids[id] != nil {
			text.WriteString(textOf(m.ids[id]))
		}
	}
	return strings.TrimSpace(text.String())
}

// label gives the words of the label around a control or of the one for it.
func (m *markup) label(n *html.Node) string {
	for up := n.Parent; up != nil; up = up.Parent {
		if up.Data == "label" {
			return strings.TrimSpace(textOf(up))
		}
	}
	id, has := attribute(n, "id")
	for l := range m.root.Descendants() {
		if to, _ := attribute(l, "for"); has && l.Data == "label" && to == id {
			return strings.TrimSpace(textOf(l))
		}
	}
	return ""
}

// headings begin with one of the first level and skip none on the way down.
func (m *markup) headings() {
	last, tops := 0, 0
	for n := range m.root.Descendants() {
		if n.Type != html.ElementNode || len(n.Data) != 2 || n.Data[0] != 'h' || n.Data[1] < '1' || n.Data[1] > '6' {
			continue
		}
		level := int(n.Data[1] - '0')
		if level > last+1 {
			m.fault("heading %q is of level %d after one of level %d", textOf(n), level, last)
		}
		if last = level; level == 1 {
			tops++
		}
	}
	if tops == 0 {
		m.fault("the page has no heading of the first level")
	}
}

// slips are traces of values that were printed without being made for people.
var slips = []string{"%!", "<nil>", "NaN", "+Inf", "-Inf", "undefined", "[object", "0x0", "map["}

func (m *markup) words(n *html.Node) {
	if n.Type != html.TextNode || n.Parent != nil && (n.Parent.Data == "script" || n.Parent.Data == "style") {
		return
	}
	for _, slip := range slips {
		if strings.Contains(n.Data, slip) {
			m.fault("%q stands in the text %q", slip, strings.TrimSpace(n.Data))
		}
	}
}

// scripts holds that nothing runs but files of our own.
func (m *markup) scripts(n *html.Node) {
	if n.Type != html.ElementNode {
		return
	}
	src, _ := attribute(n, "src")
	if n.Data == "script" && (!strings.HasPrefix(src, "/static/") || textOf(n) != "") {
		m.fault("a script that is no file of ours: %s", textOf(n))
	}
	for _, a := range n.Attr {
		name, value := strings.ToLower(a.Key), strings.ToLower(strings.TrimSpace(a.Val))
		if strings.HasPrefix(name, "on") || name == "style" || (name == "href" || name == "src" || name == "action") && strings.HasPrefix(value, "javascript:") {
			m.fault("%s holds code or style", tagOf(n))
		}
	}
}

// valuesOf gives every value of an attribute in a page.
func valuesOf(t *testing.T, page, name string) (list []string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	require.NoError(t, err)
	for n := range root.Descendants() {
		if value, has := attribute(n, name); has {
			list = append(list, value)
		}
	}
	return list
}

func attribute(n *html.Node, name string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val, true
		}
	}
	return "", false
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			b.WriteString(c.Data)
		}
	}
	return b.String()
}

// tagOf shows an element as it was written, without what it holds.
func tagOf(n *html.Node) string {
	short := *n
	short.FirstChild, short.LastChild = nil, nil
	var b strings.Builder
	if err := html.Render(&b, &short); err != nil {
		return n.Data
	}
	return b.String()
}
