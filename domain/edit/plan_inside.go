package edit

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// meeting is how far apart in meters two wall ends may lie and still meet.
const meeting = 0.05

// DrawInside gives a room the shape that the walls around a point enclose, by
// their center lines: a room that has none yet, or a new one.
type DrawInside struct {
	At           geom.Point
	Room         domain.ID // empty: a new room
	ID           domain.ID // of the new room
	Number, Name string
}

// Rooms names the room that takes the shape.
func (g DrawInside) Rooms() []domain.ID {
	if g.Room == "" {
		return nil
	}
	return []domain.ID{g.Room}
}

// Walls tells that the walls must be as they were seen.
func (g DrawInside) Walls() bool { return true }

// Apply draws the room.
func (g DrawInside) Apply(d *Drawing) (string, error) {
	lines := make([]geom.Segment, len(d.Plan.Walls))
	for i := range d.Plan.Walls {
		lines[i] = d.Plan.Walls[i].Line()
	}
	faces, err := geom.Faces(lines, meeting)
	if err != nil {
		return "", err
	}
	for i := len(faces) - 1; i >= 0; i-- { // the smallest that holds the point
		if !faces[i].Contains(g.At) {
			continue
		}
		if g.Room == "" {
			return DrawRoom{ID: g.ID, Number: g.Number, Name: g.Name, Outline: faces[i].Outer}.Apply(d)
		}
		return SetOutline{Room: g.Room, Outline: faces[i].Outer}.Apply(d)
	}
	return "", fmt.Errorf("no walls enclose this place: close the gaps between them, or draw the outline")
}
