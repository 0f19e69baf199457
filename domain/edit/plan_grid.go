package edit

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// PlaceGrid places luminaires of a load, or seats, in columns and rows. With a
// spacing the grid lies in the middle of the room; without one it fills the
// room evenly, half a spacing from its edges, and places that the shape of the
// room leaves out stay empty.
type PlaceGrid struct {
	inRooms
	Room, Load   domain.ID // no load: seats
	Across, Down int       // columns and rows
	StepX, StepY units.Metres
	Turn         float64 // degrees, counterclockwise
	New          func() domain.ID
}

// Rooms names the room.
func (g PlaceGrid) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply places the grid.
func (g PlaceGrid) Apply(d *Drawing) (string, error) {
	r, err := d.room(g.Room)
	if err != nil {
		return "", err
	}
	places, err := g.places(r)
	if err != nil {
		return "", err
	}
	ids := make([]domain.ID, len(places))
	for i := range ids {
		ids[i] = g.New()
	}
	if g.Load == "" {
		return PlaceSeats{Room: g.Room, IDs: ids, At: places}.Apply(d)
	}
	return PlaceFixtures{Room: g.Room, Load: g.Load, IDs: ids, At: places, Turn: g.Turn}.Apply(d)
}

func (g PlaceGrid) places(r *domain.Resolved) ([]geom.Point, error) {
	if r.Outline.Empty() {
		return nil, fmt.Errorf("room %s has no outline on the plan: draw it first, then fill it", r.Number)
	}
	if g.Across < 1 || g.Down < 1 || g.Across > mostPlaced || g.Down > mostPlaced || g.Across*g.Down > mostPlaced {
		return nil, fmt.Errorf("a grid has at least 1 column and 1 row, and at most %d places", mostPlaced)
	}
	box := r.Outline.Bounds()
	stepX, errX := g.step(g.StepX, box.Width(), g.Across)
	stepY, errY := g.step(g.StepY, box.Height(), g.Down)
	if errX != nil || errY != nil {
		return nil, fmt.Errorf("a spacing lies between 1 cm and 100 m; leave it empty to fill the room")
	}
	first := box.Center().Add(geom.Pt(-stepX*float64(g.Across-1)/2, stepY*float64(g.Down-1)/2))
	var out []geom.Point
	for row := range g.Down {
		for column := range g.Across {
			at := first.Add(geom.Pt(stepX*float64(column), -stepY*float64(row)))
			if r.Outline.Contains(at) {
				out = append(out, at)
			}
		}
	}
	fills := g.StepX == 0 && g.StepY == 0
	if missed := g.Across*g.Down - len(out); missed > 0 && (!fills || len(out) == 0) {
		return nil, fmt.Errorf("%d of the %d places lie outside room %s: take fewer, or set them closer together", missed, g.Across*g.Down, r.Number)
	}
	return out, nil
}

// step gives the spacing of n places in a direction: as asked, or so that they
// fill the room with half a spacing at the edges.
func (g PlaceGrid) step(asked units.Metres, size float64, n int) (float64, error) {
	if asked == 0 {
		return size / float64(n), nil
	}
	if !(asked >= 0.01 && asked <= 100) {
		return 0, fmt.Errorf("spacing")
	}
	return float64(asked), nil
}
