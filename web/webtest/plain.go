package webtest

import (
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// PlainForm is a form that a page offers where no script runs.
type PlainForm struct {
	Action string
	Values url.Values          // what it sends as it stands
	Offers map[string][]string // values of its selects, by name
}

// PlainForms reads a page as a browser without script does: noscript counts. It gives
// the forms that post and have a button to send them.
func (a *App) PlainForms(path string) (out []PlainForm) {
	a.T.Helper()
	root, err := html.ParseWithOptions(strings.NewReader(a.Get(path).Body.String()), html.ParseOptionEnableScripting(false))
	require.NoError(a.T, err)
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && n.Data == "form" && attribute(n, "method") == "post" {
			if form, sends := readForm(n); sends {
				out = append(out, form)
			}
		}
	}
	return out
}

// FillPlain sends the first plain form that is, or can be, about a value of a name,
// "path" or "row", with the other fields given in pairs.
func (a *App) FillPlain(page, name, value string, pairs ...string) *httptest.ResponseRecorder {
	a.T.Helper()
	for _, form := range a.PlainForms(page) {
		offered := form.Offers[name]
		if form.Values.Get(name) != value && !slices.Contains(offered, value) {
			continue
		}
		form.Values.Set(name, value)
		for i := 0; i+1 < len(pairs); i += 2 {
			require.True(a.T, form.Values.Has(pairs[i]), "the form of %s has no field %s", value, pairs[i])
			form.Values.Set(pairs[i], pairs[i+1])
		}
		var sent []string
		for key := range form.Values {
			sent = append(sent, key, form.Values.Get(key))
		}
		return a.Plain(form.Action, sent...)
	}
	require.Fail(a.T, "no plain form", "of %s %s on %s", name, value, page)
	return nil
}

func readForm(form *html.Node) (out PlainForm, sends bool) {
	out = PlainForm{Action: attribute(form, "action"), Values: url.Values{}, Offers: map[string][]string{}}
	for n := range form.Descendants() {
		name := attribute(n, "name")
		switch n.Data {
		case "button":
			sends = sends || attribute(n, "type") == "submit"
		case "input":
			out.Values.Set(name, attribute(n, "value"))
		case "textarea":
			out.Values.Set(name, text(n))
		case "select":
			out.choose(name, n)
		}
	}
	return out, sends
}

// choose reads a select: what is selected, else its first option.
func (f *PlainForm) choose(name string, n *html.Node) {
	for o := range n.Descendants() {
		if o.Data != "option" {
			continue
		}
		value := attribute(o, "value")
		if _, selected := find(o, "selected"); selected || len(f.Offers[name]) == 0 {
			f.Values.Set(name, value)
		}
		f.Offers[name] = append(f.Offers[name], value)
	}
}

func attribute(n *html.Node, key string) string {
	value, _ := find(n, key)
	return value
}

func find(n *html.Node, key string) (string, bool) {
	for _, at := range n.Attr {
		if at.Key == key {
			return at.Val, true
		}
	}
	return "", false
}

func text(n *html.Node) string {
	var out strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			out.WriteString(d.Data)
		}
	}
	return out.String()
}
