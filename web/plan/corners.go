package plan

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/units"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// cornerPrefix begins the path of a corner's cell: "corner/<room>/<number from
// 0>/x".
const cornerPrefix = "corner/"

// cornerGrid is the corners of every outline in numbers.
func (st *state) cornerGrid(path string) ui.Grid {
	g := ui.Grid{ID: "plan-corners", Fit: true, Empty: "No room of this storey has an outline yet.", Columns: []ui.Column{
		{Title: "Corner"}, {Title: "x", Hint: "to the right from the plan's origin; empty: the corner goes", Number: true}, {Title: "y", Hint: "up the sheet from the plan's origin; empty: the corner goes", Number: true},
		{Title: "To the next", Hint: "length of the side to the next corner", Number: true},
	}}
	for _, state := range st.Rooms {
		rows := st.cornerRows(state.Resolved, path)
		if len(rows) > 0 {
			rows[0].Group = state.Resolved.Label()
		}
		g.Rows = append(g.Rows, rows...)
	}
	return g
}

func (st *state) cornerRows(r *domain.Resolved, path string) (out []ui.GridRow) {
	sys := st.Project.Units
	ring := r.Outline.Outer
	for i, p := range ring {
		row := fmt.Sprintf("%s%s/%d", cornerPrefix, r.ID, i)
		next := ring[(i+1)%len(ring)]
		out = append(out, ui.GridRow{ID: row, Cells: []ui.Cell{
			{Text: strconv.Itoa(i + 1)}, {Path: row + "/x", Class: "num", Text: units.Offset(units.Metres(p.X), sys)}, {Path: row + "/y", Class: "num", Text: units.Offset(units.Metres(p.Y), sys)},
			{Class: "num", Text: units.Length(units.Metres(p.Distance(next)), sys)},
		}, Actions: []ui.RowAction{
			{Name: "Add", Title: "Add a corner in the middle of the side behind this one", Path: path + "/corner/add"},
			{Name: "Remove", Title: "Take this corner out", Path: path + "/corner/remove"},
		}})
	}
	return out
}

// cornerRow reads which corner's button was pressed.
func cornerRow(r *http.Request) (domain.ID, int, error) {
	room, corner, field, ok := splitCorner(r.FormValue("row") + "/x")
	if !ok || field != "x" {
		return "", 0, edits.Refusef("there is no corner %.60q", r.FormValue("row"))
	}
	return room, corner, nil
}

func splitCorner(path string) (room domain.ID, corner int, field string, ok bool) {
	steps := strings.Split(path, "/")
	if len(steps) != 4 || steps[0]+"/" != cornerPrefix || !domain.ID(steps[1]).Valid() {
		return "", 0, "", false
	}
	corner, err := strconv.Atoi(steps[2])
	return domain.ID(steps[1]), corner, steps[3], err == nil
}

// cornersOf takes the cells of corners out of a list and gives what to do with
// them: first what is typed, then the corners that were emptied, each once and
// the last first, so that none moves up before it is taken out.
func cornersOf(cells []edits.Cell) (rest []edits.Cell, out []edit.Gesture) {
	var gone []edit.SetCorner
	for _, c := range cells {
		room, corner, field, ok := splitCorner(c.Path)
		if !ok {
			rest = append(rest, c)
			continue
		}
		g := edit.SetCorner{Room: room, Corner: corner, Field: field, Text: c.Text, Path: c.Path}
		switch {
		case strings.TrimSpace(c.Text) != "":
			out = append(out, g)
		case !slices.ContainsFunc(gone, func(o edit.SetCorner) bool { return o.Room == room && o.Corner == corner }):
			gone = append(gone, g)
		}
	}
	slices.SortStableFunc(gone, func(a, b edit.SetCorner) int { return b.Corner - a.Corner })
	for _, g := range gone {
		out = append(out, g)
	}
	return rest, out
}
