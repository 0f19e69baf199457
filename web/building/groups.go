package building

import (
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/ui"
)

// newGroups sorts the page's rooms under their storeys. Where the list is
// sorted by a column, all rooms stand in one group without a heading.
func newGroups(st *state) []group {
	if !st.Query.inOrder() {
		g := group{ID: "all"}
		for i := range st.Lines {
			g.Rows = append(g.Rows, newRow(st, &st.Lines[i]))
		}
		return []group{g}
	}
	p := placer{st: st, rows: map[domain.ID][]row{}, totals: map[domain.ID]store.StoreyTotals{}}
	for i := range st.Lines {
		l := &st.Lines[i]
		p.rows[l.StoreyID] = append(p.rows[l.StoreyID], newRow(st, l))
	}
	for _, t := range st.Totals {
		p.totals[t.Storey] = t
	}
	return p.groups()
}

// placer says which storeys the page shows: those with rooms on it and, where
// nothing is filtered out, the empty ones between them, so that rooms can be
// added there.
type placer struct {
	st     *state
	rows   map[domain.ID][]row
	totals map[domain.ID]store.StoreyTotals
}

func (p *placer) groups() []group {
	q := p.st.Query
	from := (q.Page - 1) * perPage
	to := from + len(p.st.Lines)
	addable := !q.filtered() || q == query{Storey: q.Storey, Page: q.Page}
	var out []group
	before := 0 // rooms on the storeys above, of those that are listed
	for _, b := range p.st.Project.Buildings {
		for _, s := range b.Storeys {
			if q.Storey != "" && q.Storey != string(s.ID) {
				continue
			}
			n := len(p.rows[s.ID])
			total := p.totals[s.ID].Rooms
			start, end := before, before+total
			before = end
			// An empty storey belongs to the page on which it comes after a
			// room, or to the first.
			bare := addable && total == 0 && start <= to && (start > from || from == 0)
			if n == 0 && !bare {
				continue
			}
			g := group{ID: "storey-" + string(s.ID), Plan: ui.Plan(p.st.Project.ID, s.ID), Title: ui.StoreyTitle(p.st.Project, b.Name, s.Name), Sums: sums(p.totals[s.ID]), Rows: p.rows[s.ID]}
			if addable && end <= to {
				g.Add = &addView{Storey: string(s.ID), Number: p.nextNumber(s, len(out))}
			}
			out = append(out, g)
		}
	}
	return out
}

// nextNumber proposes a number for the next room of a storey: after its last
// one, or the first of the storey's hundred.
func (p *placer) nextNumber(s domain.Storey, place int) string {
	if rows := p.rows[s.ID]; len(rows) > 0 {
		return countUp(rows[len(rows)-1].Number, 1)
	}
	level := place + 1
	if digits := strings.IndexFunc(s.Name, func(r rune) bool { return r >= '0' && r <= '9' }); digits >= 0 {
		if n, err := strconv.Atoi(strings.TrimRightFunc(s.Name[digits:], func(r rune) bool { return r < '0' || r > '9' })); err == nil && n < 1000 {
			level = n
		}
	}
	return strconv.Itoa(100*level + 1)
}
