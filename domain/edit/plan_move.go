package edit

import (
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// MoveThings moves things on the plan by a distance in meters. A room takes
// along what stands in it.
type MoveThings struct {
	Things []Thing
	By     geom.Point
}

// Rooms names the rooms of the things.
func (g MoveThings) Rooms() []domain.ID { return roomsOf(g.Things) }

// Walls tells whether things of the plan are among them.
func (g MoveThings) Walls() bool { return anyOfPlan(g.Things) }

// Apply moves them.
func (g MoveThings) Apply(d *Drawing) (string, error) {
	if len(g.Things) == 0 {
		return "", fmt.Errorf("nothing is selected: choose what to move first")
	}
	whole := map[domain.ID]bool{}
	for _, t := range g.Things {
		whole[t.Room] = whole[t.Room] || t.Kind == RoomThing
	}
	for _, t := range g.Things {
		if t.ofPlan() {
			if err := d.moveOfPlan(t, g.By); err != nil {
				return "", err
			}
			continue
		}
		r, err := d.room(t.Room)
		if err != nil {
			return "", err
		}
		switch {
		case t.Kind == RoomThing:
			err = moveRoom(r, g.By)
		case !whole[t.Room]: // otherwise the room takes it along
			err = moveThing(r, t, g.By)
		}
		if err != nil {
			return "", err
		}
	}
	return d.told("moved", g.Things), nil
}

func moveThing(r *domain.Resolved, t Thing, by geom.Point) error {
	switch t.Kind {
	case DeviceThing:
		dev, err := placedDevice(r, t.ID)
		if err != nil {
			return err
		}
		at, err := onPlan(dev.At.Add(by))
		dev.At = &at
		return err
	case FixtureThing:
		f, err := fixtureOf(r, t.ID)
		if err != nil {
			return err
		}
		f.At, err = onPlan(f.At.Add(by))
		return err
	case SeatThing:
		s, err := seatOf(r, t.ID)
		if err != nil {
			return err
		}
		s.At, err = onPlan(s.At.Add(by))
		return err
	}
	return fmt.Errorf("%q cannot be moved", t.Kind)
}

func moveRoom(r *domain.Resolved, by geom.Point) error {
	var wrong error
	r.Outline = r.Outline.Map(func(p geom.Point) geom.Point {
		p, err := onPlan(p.Add(by))
		if err != nil {
			wrong = err
		}
		return p
	})
	for i := range r.Design.Devices {
		if at := r.Design.Devices[i].At; at != nil && wrong == nil {
			wrong = moveThing(r, Thing{Kind: DeviceThing, Room: r.ID, ID: r.Design.Devices[i].ID}, by)
		}
	}
	for i := range r.Fixtures {
		if wrong == nil {
			r.Fixtures[i].At, wrong = onPlan(r.Fixtures[i].At.Add(by))
		}
	}
	for i := range r.Sitting {
		if wrong == nil {
			r.Sitting[i].At, wrong = onPlan(r.Sitting[i].At.Add(by))
		}
	}
	return wrong
}

// TurnThings turns devices, luminaires and rooflights where they stand,
// counterclockwise in degrees.
type TurnThings struct {
	Things []Thing
	By     float64
}

// Rooms names the rooms of the things.
func (g TurnThings) Rooms() []domain.ID { return roomsOf(g.Things) }

// Walls tells whether rooflights are among them.
func (g TurnThings) Walls() bool { return slices.ContainsFunc(g.Things, Thing.rooflight) }

// Apply turns them; what has no direction stays as it is.
func (g TurnThings) Apply(d *Drawing) (string, error) {
	if math.IsNaN(g.By) || math.Abs(g.By) > 360 {
		return "", fmt.Errorf("turn by at most 360 degrees")
	}
	var turned []Thing
	for _, t := range g.Things {
		if t.rooflight() {
			if err := d.turnRooflight(t.ID, g.By); err != nil {
				return "", err
			}
			turned = append(turned, t)
		}
		if t.ofPlan() {
			continue
		}
		r, err := d.room(t.Room)
		if err != nil {
			return "", err
		}
		switch t.Kind {
		case DeviceThing:
			dev, err := placedDevice(r, t.ID)
			if err != nil {
				return "", err
			}
			dev.Turn = facing(dev.Turn + g.By)
		case FixtureThing:
			f, err := fixtureOf(r, t.ID)
			if err != nil {
				return "", err
			}
			f.Turn = full(f.Turn + g.By)
		default:
			continue
		}
		turned = append(turned, t)
	}
	if len(turned) == 0 {
		return "", fmt.Errorf("nothing selected has a direction: choose a device, a luminaire or a rooflight")
	}
	return d.told("turned", turned), nil
}
