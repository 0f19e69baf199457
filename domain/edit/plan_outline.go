package edit

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// mostCorners is how many corners an outline drawn by hand may have.
const mostCorners = 2000

// SetOutline gives a room a shape on the plan: its first, or another one.
type SetOutline struct {
	inRooms
	Room    domain.ID
	Outline []geom.Point
}

// Rooms names the room.
func (g SetOutline) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply sets the outline.
func (g SetOutline) Apply(d *Drawing) (string, error) {
	r, err := d.room(g.Room)
	if err != nil {
		return "", err
	}
	had := !r.Outline.Empty()
	shape, err := outline(g.Outline)
	if err != nil {
		return "", err
	}
	shape.Holes = r.Outline.Holes
	r.Outline = shape
	if had {
		return "changed the outline of room " + r.Number, nil
	}
	takeArea(r.Room)
	return "drew room " + r.Number, nil
}

// DrawRoom makes a new room of an outline.
type DrawRoom struct {
	inRooms
	ID           domain.ID
	Number, Name string
	Outline      []geom.Point
}

// Rooms names no room that is there already.
func (g DrawRoom) Rooms() []domain.ID { return nil }

// Apply adds the room.
func (g DrawRoom) Apply(d *Drawing) (string, error) {
	number, err := domain.CleanLine(g.Number, domain.MaxName)
	if err != nil {
		return "", err
	}
	if number == "" {
		return "", fmt.Errorf("a new room needs a number: type one")
	}
	name, err := domain.CleanLine(g.Name, domain.MaxName)
	if err != nil {
		return "", err
	}
	shape, err := outline(g.Outline)
	if err != nil {
		return "", err
	}
	r := &domain.Room{ID: g.ID, StoreyID: d.Storey, Number: number, Name: name, Outline: shape}
	takeArea(r)
	d.Added = append(d.Added, r)
	return "drew new room " + number, nil
}

// takeArea gives a room that states no area that of its outline, to the
// hundredth of a square meter.
func takeArea(r *domain.Room) {
	if r.Area == 0 {
		r.Area = hundredths(r.Measured())
	}
}

func hundredths(area units.SquareMetres) units.SquareMetres {
	return units.SquareMetres(math.Round(float64(area)*100) / 100)
}

// outline gives the polygon of drawn corners, counterclockwise, or what is
// wrong with it.
func outline(corners []geom.Point) (geom.Polygon, error) {
	if len(corners) > mostCorners {
		return geom.Polygon{}, fmt.Errorf("%d corners are more than the %d of one outline", len(corners), mostCorners)
	}
	shape := geom.Polygon{}
	for _, p := range corners {
		at, err := onPlan(p)
		if err != nil {
			return geom.Polygon{}, err
		}
		if n := len(shape.Outer); n > 0 && shape.Outer[n-1].Near(at, geom.Coincident) {
			continue // a double click sets its corner twice
		}
		shape.Outer = append(shape.Outer, at)
	}
	if n := len(shape.Outer); n > 1 && shape.Outer[n-1].Near(shape.Outer[0], geom.Coincident) {
		shape.Outer = shape.Outer[:n-1]
	}
	if faults := shape.Validate(); len(faults) > 0 {
		return geom.Polygon{}, fmt.Errorf("not drawn: %s", faults[0].Message())
	}
	return shape.Oriented(), nil
}
