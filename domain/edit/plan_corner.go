package edit

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// MoveCorner puts a corner of a room's outline elsewhere. Corners are counted
// from 0 along the outer ring, as the plan shows them.
type MoveCorner struct {
	inRooms
	Room   domain.ID
	Corner int
	To     geom.Point
}

// Rooms names the room.
func (g MoveCorner) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply moves the corner.
func (g MoveCorner) Apply(d *Drawing) (string, error) {
	return reshape(d, g.Room, g.Corner, func(ring []geom.Point) []geom.Point {
		ring[g.Corner] = g.To
		return ring
	})
}

// AddCorner puts a new corner behind one of a room's outline.
type AddCorner struct {
	inRooms
	Room  domain.ID
	After int
	At    geom.Point
}

// Rooms names the room.
func (g AddCorner) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply adds the corner.
func (g AddCorner) Apply(d *Drawing) (string, error) {
	return reshape(d, g.Room, g.After, func(ring []geom.Point) []geom.Point { return slices.Insert(ring, g.After+1, g.At) })
}

// RemoveCorner takes a corner out of a room's outline.
type RemoveCorner struct {
	inRooms
	Room   domain.ID
	Corner int
}

// Rooms names the room.
func (g RemoveCorner) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply removes the corner.
func (g RemoveCorner) Apply(d *Drawing) (string, error) {
	return reshape(d, g.Room, g.Corner, func(ring []geom.Point) []geom.Point { return slices.Delete(ring, g.Corner, g.Corner+1) })
}

// SetCorner sets x or y of a corner from the text that a person typed; empty
// text takes the corner out.
type SetCorner struct {
	inRooms
	Room   domain.ID
	Corner int
	Field  string
	Text   string
	Path   string // of the cell, for the error
}

// Rooms names the room.
func (g SetCorner) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply sets the number.
func (g SetCorner) Apply(d *Drawing) (string, error) {
	said, err := g.set(d)
	if err != nil {
		return "", &FieldError{Path: g.Path, Text: g.Text, Err: err}
	}
	return said, nil
}

func (g SetCorner) set(d *Drawing) (string, error) {
	if g.Field != "x" && g.Field != "y" {
		return "", fmt.Errorf("there is no field %q", g.Path)
	}
	if strings.TrimSpace(g.Text) == "" {
		return RemoveCorner{Room: g.Room, Corner: g.Corner}.Apply(d)
	}
	v, err := units.ParseOffset(g.Text, d.Project.Units)
	if err != nil {
		return "", err
	}
	return reshape(d, g.Room, g.Corner, func(ring []geom.Point) []geom.Point {
		if g.Field == "x" {
			ring[g.Corner].X = float64(v)
		} else {
			ring[g.Corner].Y = float64(v)
		}
		return ring
	})
}

// reshape changes the outer ring of a room's outline at a corner that it has.
func reshape(d *Drawing, room domain.ID, corner int, change func([]geom.Point) []geom.Point) (string, error) {
	r, err := d.room(room)
	if err != nil {
		return "", err
	}
	if r.Outline.Empty() {
		return "", fmt.Errorf("room %s has no outline on the plan", r.Number)
	}
	if corner < 0 || corner >= len(r.Outline.Outer) {
		return "", fmt.Errorf("room %s has no corner %d: it has %d", r.Number, corner+1, len(r.Outline.Outer))
	}
	ring := change(slices.Clone(r.Outline.Outer))
	if len(ring) < 3 {
		return "", fmt.Errorf("an outline needs at least three corners: take the room off the plan instead")
	}
	shape, err := outline(ring)
	if err != nil {
		return "", err
	}
	shape.Holes = r.Outline.Holes
	if faults := shape.Validate(); len(faults) > 0 {
		return "", fmt.Errorf("not drawn: %s", faults[0].Message())
	}
	r.Outline = shape
	return "changed the outline of room " + r.Number, nil
}
