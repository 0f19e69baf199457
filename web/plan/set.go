package plan

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"scopewright/domain/edit"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// set stores places typed into the table as one step.
func (s Screen) set(w http.ResponseWriter, r *http.Request) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	cells, gestures := cornersOf(cells)
	for _, c := range cells {
		thing, field, err := splitPath(c.Path)
		if err != nil {
			edits.Refuse(w, r, s.Log, err)
			return
		}
		gestures = append(gestures, setting(thing, field, c))
	}
	outcome, err := s.draw(r, gestures)
	s.desk(r).Done(w, r, outcome, err, "")
}

// setting gives the gesture that sets a field of a thing.
func setting(thing edit.Thing, field string, c edits.Cell) edit.Gesture {
	switch thing.Kind {
	case edit.WallThing, edit.OpeningThing:
		return edit.SetWall{Thing: thing, Field: field, Text: c.Text, Path: c.Path}
	case edit.RooflightThing:
		return edit.SetRooflight{Thing: thing, Field: field, Text: c.Text, Path: c.Path}
	}
	return edit.SetPlace{Thing: thing, Field: field, Text: c.Text, Path: c.Path}
}

// splitPath reads a thing and its field: "device/<room>/<id>/<field>",
// "wall/<id>/<field>", "rooflight/<id>/<field>".
func splitPath(path string) (edit.Thing, string, error) {
	at := strings.LastIndexByte(path, '/')
	if at < 0 {
		return edit.Thing{}, "", edits.Refusef("there is no field %.60q", path)
	}
	thing, err := edit.ParseThing(path[:at])
	if err != nil {
		return edit.Thing{}, "", &edit.Refused{Err: err}
	}
	return thing, path[at+1:], nil
}

// value tells of a cell how it is called and what it holds.
func (st *state) value(path string) (title, now string) {
	if room, corner, field, ok := splitCorner(path); ok {
		if r := st.room(room); r != nil {
			return fmt.Sprintf("Room %s, corner %d, %s", r.Number, corner+1, field), cellText(st.cornerRows(r, ""), path)
		}
		return path, "gone"
	}
	thing, field, err := splitPath(path)
	if err != nil {
		return path, "gone"
	}
	var rows []ui.GridRow
	where := ""
	if r := st.room(thing.Room); r != nil {
		rows, where = st.placeRows(r), "Room "+r.Number+", "
	} else if thing.Room == "" {
		rows = slices.Concat(st.wallGrid().Rows, st.openingGrid().Rows, st.rooflightGrid("").Rows)
	}
	for _, row := range rows {
		for _, c := range row.Cells {
			if c.Path == path {
				return where + row.Cells[0].Text + ", " + field, c.Text
			}
		}
	}
	return path, "gone"
}

func cellText(rows []ui.GridRow, path string) string {
	for _, row := range rows {
		for _, c := range row.Cells {
			if c.Path == path {
				return c.Text
			}
		}
	}
	return "gone"
}
