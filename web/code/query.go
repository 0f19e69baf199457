package code

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/web/ui"
)

const (
	perPage    = 100
	mostSearch = 100 // letters
)

// What the table of rooms may be narrowed to.
const (
	showShort    = "short"    // some check is not met
	showUntold   = "untold"   // some check cannot be told
	showEither   = "either"   // one or the other
	showProposed = "proposed" // nobody has confirmed the kind of space
)

func shows() []domain.Choice {
	return []domain.Choice{{Value: "", Label: "all rooms"}, {Value: showShort, Label: "does not meet"}, {Value: showUntold, Label: "cannot tell"}, {Value: showEither, Label: "does not meet or cannot tell"},
		{Value: showProposed, Label: "kind of space not confirmed"}}
}

// query is what the page shows of the rooms; it stands in the page's address.
type query struct {
	Text, Storey, Show string
	Page               int // from 1
}

func readQuery(v url.Values) query {
	q := query{Text: strings.TrimSpace(v.Get("q")), Storey: v.Get("storey"), Show: v.Get("show")}
	if letters := []rune(q.Text); len(letters) > mostSearch {
		q.Text = string(letters[:mostSearch])
	}
	if !slices.ContainsFunc(shows(), func(c domain.Choice) bool { return c.Value == q.Show }) {
		q.Show = ""
	}
	q.Page, _ = strconv.Atoi(v.Get("page")) // none or nonsense: the first
	q.Page = min(max(1, q.Page), 1+domain.MaxRooms/perPage)
	return q
}

func (q query) filtered() bool { return q.Text != "" || q.Storey != "" || q.Show != "" }

// address gives the page's address for the query, on another page of the list.
func (q query) address(project domain.ID, page int) string {
	v := url.Values{}
	for name, text := range map[string]string{"q": q.Text, "storey": q.Storey, "show": q.Show} {
		if text != "" {
			v.Set(name, text)
		}
	}
	if page > 1 {
		v.Set("page", strconv.Itoa(page))
	}
	if len(v) == 0 {
		return ui.Code(project)
	}
	return ui.Code(project) + "?" + v.Encode()
}

// pick gives the places of the rooms that the query asks for.
func (b *building) pick(q query) []int {
	words := strings.Fields(strings.ToLower(q.Text))
	var out []int
	for i := range b.Lines {
		l := &b.Lines[i]
		name := strings.ToLower(l.Number + " " + l.Name)
		holds := !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(name, w) })
		if holds && (q.Storey == "" || q.Storey == string(l.StoreyID)) && b.shown(i, q.Show) {
			out = append(out, i)
		}
	}
	return out
}

func (b *building) shown(i int, show string) bool {
	var sum energycode.SummaryRow
	if b.Pack != nil {
		sum = b.Docs.Summary[i]
	}
	switch show {
	case showShort:
		return sum.DoesNotMeet > 0
	case showUntold:
		return sum.CannotTell+sum.Open > 0
	case showEither:
		return sum.DoesNotMeet+sum.CannotTell+sum.Open > 0
	case showProposed:
		return !b.Found[i].Confirmed
	}
	return true
}
