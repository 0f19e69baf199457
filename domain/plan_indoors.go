package domain

import (
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// LeastRooflight is the least side of a rooflight: less is a slip of the hand.
const LeastRooflight units.Metres = 0.05

// usualThickness is taken of a wall that states none, as it is drawn.
const usualThickness units.Metres = 0.1

// Standing says what lies on the two sides of a window.
type Standing string

// What lies on the two sides of a window.
const (
	BetweenRooms Standing = "between" // a room on either side
	OnOneRoom    Standing = "one"     // a room on one side alone: the other is outdoors, or not drawn
	NoRoom       Standing = "none"    // no room is drawn there
)

// Sides gives the places so far beyond the faces of a wall beside the middle of
// an opening.
func (w *Wall) Sides(o *Opening, beyond units.Metres) (a, b geom.Point) {
	middle, thick := w.Span(o).Middle(), w.Thickness
	if thick <= 0 {
		thick = usualThickness
	}
	length := w.A.Distance(w.B)
	if length == 0 {
		return middle, middle
	}
	along := w.B.Sub(w.A).Times(1 / length)
	off := geom.Pt(-along.Y, along.X).Times(float64(thick)/2 + float64(beyond))
	return middle.Add(off), middle.Sub(off)
}

// Footprint is where a room lies on its storey. A ceiling of 0 is not known.
type Footprint struct {
	Outline geom.Polygon
	Ceiling units.Metres
}

// Footprint gives the room's.
func (r *Room) Footprint() Footprint { return Footprint{r.Outline, r.Ceiling} }

// Ground is the rooms of a storey by their shapes.
type Ground struct {
	rooms []Footprint
	boxes []geom.Box
}

// GroundOf makes a ground of rooms; one without an outline holds nothing.
func GroundOf(rooms ...Footprint) *Ground {
	g := &Ground{rooms: rooms, boxes: make([]geom.Box, len(rooms))}
	for i := range rooms {
		g.boxes[i] = rooms[i].Outline.Bounds().Grow(geom.OnEdge)
	}
	return g
}

// At gives the index of a room at a place, -1 where there is none: of those that
// reach above a height, or whose ceiling is not known.
func (g *Ground) At(p geom.Point, above units.Metres) int {
	for i := range g.rooms {
		r := &g.rooms[i]
		if (r.Ceiling <= 0 || r.Ceiling > above) && g.boxes[i].Contains(p) && r.Outline.Contains(p) {
			return i
		}
	}
	return -1
}

// Beside gives the indexes of the rooms on the two sides of an opening, -1 for
// none. Rooms may begin so far beyond the faces of its wall. One whose ceiling
// lies no higher than the sill is not beside it: a clerestory looks out above it.
func (g *Ground) Beside(w *Wall, o *Opening, beyond units.Metres) (a, b int) {
	if w.A == w.B {
		return -1, -1 // a wall of no length has no sides
	}
	left, right := w.Sides(o, beyond)
	return g.At(left, o.Sill), g.At(right, o.Sill)
}

// Stands tells whether an opening stands between rooms, which may begin so far
// beyond the faces of its wall. A window in a partition within one room stands
// between rooms too: no daylight comes in through it.
func (w *Wall) Stands(o *Opening, beyond units.Metres, rooms *Ground) Standing {
	switch a, b := rooms.Beside(w, o, beyond); {
	case a >= 0 && b >= 0:
		return BetweenRooms
	case a >= 0 || b >= 0:
		return OnOneRoom
	}
	return NoRoom
}
