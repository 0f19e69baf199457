package plan

import (
	"net/http"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/web/edits"
)

// arranging gives the gestures that arrange what is there already: copies,
// alignments, grids, corners, merged rooms; nil for another gesture.
func (g *wire) arranging(things []edit.Thing) (edit.Gesture, error) {
	switch g.Do {
	case "copy":
		next := domain.NewID
		if slices.ContainsFunc(things, func(t edit.Thing) bool { return t.Kind == edit.RoomThing }) {
			next = g.roomIDs()
		}
		ids := make([]domain.ID, len(things))
		for i := range ids {
			ids[i] = next()
		}
		return edit.DuplicateThings{Things: things, IDs: ids, By: g.By}, nil
	case "cut":
		return edit.Cut{Things: things}, nil
	case "paste":
		clip, err := edit.ReadClip(g.Clip)
		if err != nil {
			return nil, &edit.Refused{Err: err}
		}
		next := domain.NewID
		if len(clip.Rooms) > 0 {
			next = g.roomIDs()
		}
		return edit.Paste{Clip: clip, By: g.By, New: next}, nil
	case "merge":
		out := edit.MergeRooms{}
		for _, t := range things {
			if t.Kind != edit.RoomThing {
				return nil, edits.Refusef("only rooms can be merged: select rooms alone")
			}
			out.IDs = append(out.IDs, t.Room)
		}
		return out, nil
	case "align":
		return edit.AlignThings{Things: things, To: edit.Alignment(g.To)}, nil
	case "distribute":
		return edit.DistributeThings{Things: things, Up: g.To == "up"}, nil
	case "grid":
		return edit.PlaceGrid{Room: g.Room, Load: g.Load, Across: g.Columns, Down: g.Rows, StepX: units.Metres(g.Step.X), StepY: units.Metres(g.Step.Y), Turn: g.Turn, New: domain.NewID}, nil
	}
	return g.cornering()
}

func (g *wire) cornering() (edit.Gesture, error) {
	if g.Do != "remove corner" && (g.Do == "move corner" || g.Do == "add corner") && len(g.At) != 1 {
		return nil, edits.Refusef("a corner has one place")
	}
	switch g.Do {
	case "move corner":
		return edit.MoveCorner{Room: g.Room, Corner: g.Corner, To: g.At[0]}, nil
	case "add corner":
		return edit.AddCorner{Room: g.Room, After: g.Corner, At: g.At[0]}, nil
	case "remove corner":
		return edit.RemoveCorner{Room: g.Room, Corner: g.Corner}, nil
	}
	return nil, nil
}

// around looks beyond the rooms that gestures name, where some need to: which
// rooms lie under what is pasted or beside a window, which numbers are taken. It fills that in, and
// gives what a drawing must know besides.
func (s Screen) around(r *http.Request, gestures []edit.Gesture) (func(*store.Tx, *edit.Drawing), error) {
	makesRooms, windows := false, false
	for i, g := range gestures {
		switch g := g.(type) {
		case edit.DuplicateThings:
			makesRooms = makesRooms || slices.ContainsFunc(g.Things, func(t edit.Thing) bool { return t.Kind == edit.RoomThing })
			windows = windows || g.Walls()
		case edit.AddOpening:
			windows = windows || g.Kind == domain.Window
		case edit.DivideRoom:
			makesRooms = true
		case edit.Paste:
			makesRooms, windows = makesRooms || len(g.Clip.Rooms) > 0, windows || g.Clip.Windows()
			var err error
			if g.Into, err = s.under(r, g); err != nil {
				return nil, err
			}
			gestures[i] = g
		}
	}
	taken := map[string]bool{}
	if makesRooms {
		lines, _, err := s.Store.RoomLines(r.Context(), edits.ProjectID(r), store.Filter{})
		if err != nil {
			return nil, err
		}
		for _, l := range lines {
			taken[strings.ToLower(l.Number)] = true
		}
	}
	var beside []domain.Footprint
	if windows {
		var err error
		if beside, err = s.footprints(r); err != nil {
			return nil, err
		}
	}
	return func(tx *store.Tx, d *edit.Drawing) {
		d.Beside = beside
		d.Taken = func(number string) bool { return taken[strings.ToLower(number)] }
		d.Typical = func(id domain.ID) *domain.Typical {
			t, err := tx.Typical(id)
			if err != nil {
				return nil // another project's, or gone: the room stands alone
			}
			return t
		}
	}, nil
}

// footprints are those of all rooms of the storey: a window looks for them.
func (s Screen) footprints(r *http.Request) ([]domain.Footprint, error) {
	rooms, err := s.Store.StoreyRooms(r.Context(), edits.ProjectID(r), storeyID(r))
	if err != nil {
		return nil, err
	}
	var out []domain.Footprint
	for _, room := range rooms {
		out = append(out, room.Resolved.Footprint())
	}
	return out, nil
}

// under gives the rooms of the storey under the places of what is pasted.
func (s Screen) under(r *http.Request, g edit.Paste) ([]domain.ID, error) {
	places := g.Clip.Places()
	if len(places) == 0 {
		return nil, nil
	}
	rooms, err := s.Store.StoreyRooms(r.Context(), edits.ProjectID(r), storeyID(r))
	if err != nil {
		return nil, err
	}
	var out []domain.ID
	for _, room := range rooms {
		outline := room.Resolved.Outline
		if outline.Empty() {
			continue
		}
		box := outline.Bounds()
		for _, p := range places {
			if at := p.Add(g.By); at.Finite() && box.Contains(at) && outline.Contains(at) {
				out = append(out, room.Resolved.ID)
				break
			}
		}
	}
	return out, nil
}
