package building

import (
	"fmt"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// view is what the page shows, ready to print.
type view struct {
	Path     string
	Project  domain.ID
	Sums     []sum // of the whole project
	Query    query
	Heads    []headView
	Groups   []group
	Filters  filters
	Found    string // "48 of 120 rooms"
	All      string // label of "all that match"
	Pages    pages
	Findings []findingView
	Further  []further // findings beside those of rooms
	Later    string    // where the findings are fetched after the page; "" where they are here
	Typicals []typicalView
	Uses     []domain.Choice
	Spaces   []domain.Choice
	Empty    string // why no rooms are shown; "" where some are
	Width    int    // columns of the table
}

// sum is one number of a summary with its word; Severity colors it, Hint is
// said on pointing.
type sum struct{ Text, Severity, Hint string }

type headView struct {
	Title, Hint, Sort, Aria string
	Num                     bool
	Choices                 string
}

// group is a storey with the rooms of it that the page shows.
type group struct {
	ID    string
	Title string
	Plan  string // address of the storey's drawing
	Sums  []sum
	Rows  []row
	Add   *addView // nil where the storey goes on on the next page
}

// addView is the line at the foot of a storey that adds rooms to it.
type addView struct{ Storey, Number string }

type row struct {
	ID                              domain.ID
	DOM, Path, SetPath              string
	Number, Select                  string
	Cells                           []ui.Cell // name, use, area, kind of space
	Propose                         string    // kind of space that a click confirms; empty: none
	Storey                          string    // only where rooms are not grouped
	Typical, TypicalPath, Exception string
	Devices, Watts                  string
	Badges, Review                  []sum
}

// kindCell is the place of the kind of space among a row's cells: it stands last in the
// table, by itself.
const kindCell = 3

type pages struct {
	Text       string
	Prev, Next string // addresses, empty at the ends
}

func newView(st *state, found []findingView) view {
	p := st.Project
	v := view{
		Path: ui.Project(p.ID), Project: p.ID, Query: st.Query, Findings: found, Filters: newFilters(st), Uses: useChoices(), Spaces: spaceChoices(p),
		Typicals: newTypicalViews(st), Pages: newPages(st), Width: len(columns) + 1,
	}
	v.Further = furtherOf(p.ID, found)
	if st.large() {
		v.Later = v.Path + "/findings"
	}
	all := add(st.Totals)
	v.Sums = sums(all)
	v.Found = edits.Count(all.Rooms, "room")
	if st.Query.filtered() {
		v.Found = fmt.Sprintf("%d of %s", st.Found, edits.Count(all.Rooms, "room"))
	}
	v.All = "all that match (" + strconv.Itoa(st.Found) + ")"
	for _, c := range columns {
		h := headView{Title: c.Title, Hint: c.Hint, Num: c.Num}
		if c.Sort != "" {
			h.Sort, h.Aria = st.Query.nextSort(c.Sort), st.Query.ariaSort(c.Sort)
		}
		if c.Sort == store.ByUse {
			h.Choices = "uses"
		}
		if c.Title == kindTitle {
			h.Choices = "kinds"
		}
		v.Heads = append(v.Heads, h)
	}
	v.Groups = newGroups(st)
	if st.Found == 0 && st.Query.filtered() {
		v.Empty = "No room matches. Change or clear the filters."
	}
	return v
}

// add sums up storeys.
func add(totals []store.StoreyTotals) store.StoreyTotals {
	var all store.StoreyTotals
	for _, t := range totals {
		all.Rooms += t.Rooms
		all.Controlled += t.Controlled
		all.Devices += t.Devices
		all.Gateways += t.Gateways
		all.Watts += t.Watts
		all.Errors += t.Errors
		all.Warnings += t.Warnings
		all.Objections += t.Objections
		all.Signed += t.Signed
		all.Stale += t.Stale
	}
	return all
}

func sums(t store.StoreyTotals) []sum {
	out := []sum{{Text: edits.Count(t.Rooms, "room")}}
	if t.Rooms == 0 {
		return out
	}
	out = append(out, sum{Text: fmt.Sprintf("%d controlled", t.Controlled)}, sum{Text: edits.Count(t.Devices, "device")},
		sum{Text: edits.Count(t.Gateways, "gateway")}, sum{Text: watts(t.Watts)})
	if t.Errors > 0 {
		out = append(out, sum{Text: edits.Count(t.Errors, "error"), Severity: "error"})
	}
	if t.Warnings > 0 {
		out = append(out, sum{Text: edits.Count(t.Warnings, "warning"), Severity: "warning"})
	}
	if t.Objections > 0 {
		out = append(out, sum{Text: edits.Count(t.Objections, "open objection"), Severity: "warning"})
	}
	if held := t.Signed - t.Stale; held > 0 {
		out = append(out, sum{Text: fmt.Sprintf("%d signed", held), Severity: "ok"})
	}
	return out
}

func watts(w float64) string {
	if w >= 10000 {
		return units.Trim(w/1000, 1) + " kW"
	}
	return units.Trim(w, 0) + " W"
}

func newRow(st *state, l *store.RoomLine) row {
	p := st.Project
	path := "rooms/" + string(l.ID)
	room := domain.Room{Name: l.Name, Use: l.Use, Area: l.Area}
	out := row{
		ID: l.ID, DOM: "room-" + string(l.ID), Path: ui.Room(p.ID, l.ID), SetPath: ui.Project(p.ID) + "/set", Number: l.Number, Select: "Select room " + l.Number,
		Typical: l.TypicalName, Devices: countOr(l.Devices), Watts: countOr(int(l.Watts + 0.5)),
		Badges: badges(l), Review: reviewed(l),
	}
	for _, name := range []string{"name", "use", "area_m2"} {
		f, _ := domain.FieldNamed(domain.RoomFields, name)
		out.Cells = append(out.Cells, ui.Cell{Path: path + "/" + name, Text: f.Show(domain.Env{Project: p}, &room)})
	}
	out.Cells[2].Class = "num"
	k := st.Kinds[l.ID]
	cell := ui.Cell{Path: path + "/space_type", Text: k.Text, Title: k.Why}
	if !k.Own {
		cell.Class = "from-typical"
	}
	if out.Cells = append(out.Cells, cell); k.proposed() {
		out.Propose = string(k.Space)
	}
	if l.TypicalID != "" {
		out.TypicalPath = ui.Typical(p.ID, l.TypicalID)
	}
	if l.Exceptions > 0 {
		out.Exception = edits.Count(l.Exceptions, "exception")
	}
	if !st.Query.inOrder() {
		out.Storey = l.StoreyName
	}
	return out
}

func countOr(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func badges(l *store.RoomLine) []sum {
	var out []sum
	for _, b := range []struct {
		n              int
		severity, word string
	}{{l.Errors, "error", "error"}, {l.Warnings, "warning", "warning"}, {l.Infos, "info", "note"}, {l.Waived, "waived", "waived finding"}} {
		if b.n > 0 {
			out = append(out, sum{Text: strconv.Itoa(b.n), Severity: b.severity, Hint: edits.Count(b.n, b.word)})
		}
	}
	return out
}

func reviewed(l *store.RoomLine) []sum {
	var out []sum
	if l.Objections > 0 {
		out = append(out, sum{Text: edits.Count(l.Objections, "objection"), Severity: "warning"})
	}
	switch {
	case l.Stale:
		out = append(out, sum{Text: "signature stale", Severity: "warning", Hint: "signed " + day(l.SignedAt) + ", and changed since"})
	case l.SignedHash != "":
		out = append(out, sum{Text: "signed", Severity: "ok", Hint: "signed " + day(l.SignedAt)})
	}
	return out
}

// day gives the date of an RFC 3339 time.
func day(at string) string { return at[:min(len("2006-01-02"), len(at))] }

func newPages(st *state) pages {
	last := max(1, (st.Found+perPage-1)/perPage)
	if last == 1 {
		return pages{}
	}
	from := (st.Query.Page - 1) * perPage
	out := pages{Text: fmt.Sprintf("Rooms %d to %d of %d", from+1, from+len(st.Lines), st.Found)}
	if st.Query.Page > 1 {
		out.Prev = st.Query.at(st.Query.Page - 1).address(st.Project.ID)
	}
	if st.Query.Page < last {
		out.Next = st.Query.at(st.Query.Page + 1).address(st.Project.ID)
	}
	return out
}

// spaceChoices are the values of the column of kinds of space.
func spaceChoices(p *domain.Project) []domain.Choice {
	f, _ := domain.FieldNamed(domain.RoomFields, "space_type")
	return f.Choices(domain.Env{Project: p}, &domain.Room{})
}

func useChoices() []domain.Choice {
	var out []domain.Choice
	for _, u := range domain.Uses() {
		out = append(out, domain.Choice{Value: string(u.Use), Label: u.Name})
	}
	return out
}

// value tells of a cell how it is called and what it holds.
func (st *state) value(path string) (title, now string) {
	id, name := splitPath(path)
	for i := range st.Lines {
		if l := &st.Lines[i]; l.ID == id {
			f, _ := domain.FieldNamed(domain.RoomFields, name)
			for _, c := range newRow(st, l).Cells {
				if c.Path == path {
					return "Room " + l.Number + ", " + f.Title, c.Text
				}
			}
		}
	}
	return path, "gone"
}
