package edit

import (
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Alignment says on which line things are brought.
type Alignment string

// The alignments: onto the outermost of the things, or onto the middle between
// the outermost two.
const (
	AlignLeft   Alignment = "left"
	AlignRight  Alignment = "right"
	AlignTop    Alignment = "top"
	AlignBottom Alignment = "bottom"
	AlignColumn Alignment = "column" // centers in one column
	AlignRow    Alignment = "row"    // centers in one row
)

// AlignThings brings devices, luminaires, seats and rooflights onto one line.
type AlignThings struct {
	Things []Thing
	To     Alignment
}

// Rooms names the rooms of the things.
func (g AlignThings) Rooms() []domain.ID { return roomsOf(g.Things) }

// Walls tells whether rooflights are among them.
func (g AlignThings) Walls() bool { return slices.ContainsFunc(g.Things, Thing.rooflight) }

// Apply aligns them.
func (g AlignThings) Apply(d *Drawing) (string, error) {
	spots, err := d.spots(g.Things, 2, "align")
	if err != nil {
		return "", err
	}
	box, _ := geom.BoundsOf(spots...)
	for i, t := range g.Things {
		to := spots[i]
		switch g.To {
		case AlignLeft:
			to.X = box.Min.X
		case AlignRight:
			to.X = box.Max.X
		case AlignTop:
			to.Y = box.Max.Y
		case AlignBottom:
			to.Y = box.Min.Y
		case AlignColumn:
			to.X = box.Center().X
		case AlignRow:
			to.Y = box.Center().Y
		default:
			return "", fmt.Errorf("things cannot be aligned to %.20q", g.To)
		}
		if err := d.moveTo(t, spots[i], to); err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("aligned %d things on the plan", len(g.Things)), nil
}

// DistributeThings sets devices, luminaires, seats and rooflights at equal gaps
// between the outermost two, which stay.
type DistributeThings struct {
	Things []Thing
	Up     bool // along y; otherwise along x
}

// Rooms names the rooms of the things.
func (g DistributeThings) Rooms() []domain.ID { return roomsOf(g.Things) }

// Walls tells whether rooflights are among them.
func (g DistributeThings) Walls() bool { return slices.ContainsFunc(g.Things, Thing.rooflight) }

// Apply distributes them.
func (g DistributeThings) Apply(d *Drawing) (string, error) {
	spots, err := d.spots(g.Things, 3, "distribute")
	if err != nil {
		return "", err
	}
	along := func(p geom.Point) float64 {
		if g.Up {
			return p.Y
		}
		return p.X
	}
	order := make([]int, len(spots))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch x, y := along(spots[a]), along(spots[b]); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	first, last := along(spots[order[0]]), along(spots[order[len(order)-1]])
	if math.Abs(last-first) < geom.OnEdge {
		return "", fmt.Errorf("the selected things stand in one line across: there is nothing to distribute between")
	}
	for n, i := range order {
		to, at := spots[i], first+(last-first)*float64(n)/float64(len(order)-1)
		if g.Up {
			to.Y = at
		} else {
			to.X = at
		}
		if err := d.moveTo(g.Things[i], spots[i], to); err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("distributed %d things on the plan", len(g.Things)), nil
}

// spots gives where devices, luminaires, seats and rooflights are.
func (d *Drawing) spots(things []Thing, least int, verb string) ([]geom.Point, error) {
	if len(things) < least {
		return nil, fmt.Errorf("select at least %d devices, luminaires, seats or rooflights to %s", least, verb)
	}
	out := make([]geom.Point, len(things))
	for i, t := range things {
		if slices.Contains(things[:i], t) {
			return nil, fmt.Errorf("one thing is named twice: select again")
		}
		var err error
		if out[i], err = d.spot(t, verb); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (d *Drawing) spot(t Thing, verb string) (geom.Point, error) {
	if t.rooflight() {
		l, err := d.rooflight(t.ID)
		if err != nil {
			return geom.Point{}, err
		}
		return l.At, nil
	}
	if t.ofPlan() || t.Kind == RoomThing {
		return geom.Point{}, fmt.Errorf("a %s does not %s: select devices, luminaires, seats or rooflights", t.Kind, verb)
	}
	r, err := d.room(t.Room)
	if err != nil {
		return geom.Point{}, err
	}
	switch t.Kind {
	case DeviceThing:
		dev, err := placedDevice(r, t.ID)
		if err != nil {
			return geom.Point{}, err
		}
		return *dev.At, nil
	case FixtureThing:
		f, err := fixtureOf(r, t.ID)
		if err != nil {
			return geom.Point{}, err
		}
		return f.At, nil
	}
	s, err := seatOf(r, t.ID)
	if err != nil {
		return geom.Point{}, err
	}
	return s.At, nil
}

func (d *Drawing) moveTo(t Thing, from, to geom.Point) error {
	if from == to {
		return nil
	}
	if t.rooflight() {
		return d.moveOfPlan(t, to.Sub(from))
	}
	r, err := d.room(t.Room)
	if err != nil {
		return err
	}
	return moveThing(r, t, to.Sub(from))
}
