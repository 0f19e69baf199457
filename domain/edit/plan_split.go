package edit

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// SplitRoom cuts a room in two along a straight line. The larger part stays the
// room with its design; the smaller becomes a new room of the same use with the
// seats that stand in it. Devices and luminaires stay with the design that they
// belong to: those that now stand outside their room are found by the rules.
type SplitRoom struct {
	inRooms
	Room         domain.ID
	A, B         geom.Point // two points of the line
	ID           domain.ID  // of the new room
	Number, Name string
}

// Rooms names the room.
func (g SplitRoom) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply splits the room.
func (g SplitRoom) Apply(d *Drawing) (string, error) {
	r, err := d.room(g.Room)
	if err != nil {
		return "", err
	}
	kept, cut, err := halves(r.Outline, g.A, g.B)
	if err != nil {
		return "", err
	}
	made := &Drawing{Storey: d.Storey}
	if _, err := (DrawRoom{ID: g.ID, Number: g.Number, Name: g.Name, Outline: cut.Outer}).Apply(made); err != nil {
		return "", err
	}
	twin := made.Added[0]
	twin.Outline.Holes, twin.Use, twin.Ceiling, twin.Windows = cut.Holes, r.Use, r.Ceiling, r.Windows
	twin.Area, r.Area = 0, 0
	r.Outline = kept
	takeArea(twin)
	takeArea(r.Room)
	var stay []domain.Seat
	for _, s := range r.Sitting {
		if cut.Contains(s.At) && !kept.Contains(s.At) {
			twin.Sitting = append(twin.Sitting, s)
		} else {
			stay = append(stay, s)
		}
	}
	r.Sitting = stay
	d.Added = append(d.Added, twin)
	return fmt.Sprintf("split room %s, new room %s", r.Number, twin.Number), nil
}

// halves gives the larger and the smaller part of a shape that a line cuts.
func halves(shape geom.Polygon, a, b geom.Point) (larger, smaller geom.Polygon, err error) {
	if shape.Empty() {
		return larger, smaller, fmt.Errorf("the room has no outline on the plan to split")
	}
	if !a.Finite() || !b.Finite() || a.Near(b, geom.OnEdge) {
		return larger, smaller, fmt.Errorf("a line to split along needs two points")
	}
	left, right, err := shape.SplitByLine(a, b)
	if err != nil {
		return larger, smaller, err
	}
	if len(left) == 0 || len(right) == 0 {
		return larger, smaller, fmt.Errorf("the line does not cross the room")
	}
	if len(left)+len(right) > 2 {
		return larger, smaller, fmt.Errorf("the line cuts the room into %d parts: split it where it leaves two", len(left)+len(right))
	}
	larger, smaller = left[0], right[0]
	if larger.Area() < smaller.Area() {
		larger, smaller = smaller, larger
	}
	return exactly(larger), exactly(smaller), nil
}

// exactly gives a shape with its corners as they will be written.
func exactly(shape geom.Polygon) geom.Polygon {
	return shape.Map(func(p geom.Point) geom.Point { return geom.Pt(tenths(p.X), tenths(p.Y)) })
}
