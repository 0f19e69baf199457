package edit

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// DuplicateThings copies devices, luminaires, seats, walls, rooflights and rooms,
// the copies moved by a distance in meters. A device's copy is a new device of its room's
// design, linked as the first is, with a tag of its own; a room's copy holds what
// the first does and follows the same typical, under a number of its own.
type DuplicateThings struct {
	Things []Thing
	IDs    []domain.ID // of the copies, one a thing
	By     geom.Point
}

// Rooms names the rooms of the things.
func (g DuplicateThings) Rooms() []domain.ID { return roomsOf(g.Things) }

// Walls tells whether things of the plan are among them.
func (g DuplicateThings) Walls() bool { return anyOfPlan(g.Things) }

// Apply copies them.
func (g DuplicateThings) Apply(d *Drawing) (string, error) {
	if len(g.Things) == 0 || len(g.IDs) != len(g.Things) || len(g.Things) > mostPlaced {
		return "", fmt.Errorf("select 1 to %d things to copy first", mostPlaced)
	}
	whole := map[domain.ID]bool{}
	for _, t := range g.Things {
		whole[t.Room] = whole[t.Room] || t.Kind == RoomThing
	}
	for i, t := range g.Things {
		var err error
		switch {
		case t.Kind == WallThing:
			err = d.copyWall(t.ID, g.IDs[i], g.By)
		case t.rooflight():
			err = d.copyRooflight(t.ID, g.IDs[i], g.By)
		case t.Kind == RoomThing:
			err = copyRoom(d, t.Room, g.IDs[i], g.By)
		case !whole[t.Room]: // otherwise the room's copy brings it
			err = g.copyInRoom(d, t, g.IDs[i])
		}
		if err != nil {
			return "", err
		}
	}
	return d.told("copied", g.Things), nil
}

func (g DuplicateThings) copyInRoom(d *Drawing, t Thing, id domain.ID) error {
	if t.Room == "" {
		return fmt.Errorf("a %s is copied with its wall, or by copy and paste", t.Kind)
	}
	r, err := d.room(t.Room)
	if err != nil {
		return err
	}
	switch t.Kind {
	case DeviceThing:
		first, err := placedDevice(r, t.ID)
		if err != nil {
			return err
		}
		at, turn := *first.At, first.Turn
		if _, err := (Duplicate{Part: "devices", ID: t.ID, New: id}).Apply(OfRoom(d.Project, r)); err != nil {
			return err
		}
		twin := r.Design.Device(id)
		if at, err = onPlan(at.Add(g.By)); err != nil {
			return err
		}
		twin.At, twin.Turn = &at, turn
	case FixtureThing:
		f, err := fixtureOf(r, t.ID)
		if err != nil {
			return err
		}
		twin := *f
		twin.ID = id
		if twin.At, err = onPlan(f.At.Add(g.By)); err != nil {
			return err
		}
		r.Fixtures = append(r.Fixtures, twin)
	case SeatThing:
		s, err := seatOf(r, t.ID)
		if err != nil {
			return err
		}
		twin := domain.Seat{ID: id}
		if twin.At, err = onPlan(s.At.Add(g.By)); err != nil {
			return err
		}
		r.Sitting = append(r.Sitting, twin)
	}
	return nil
}

func copyRoom(d *Drawing, from, id domain.ID, by geom.Point) error {
	r, err := d.room(from)
	if err != nil {
		return err
	}
	if r.Outline.Empty() {
		return fmt.Errorf("room %s has no outline on the plan to copy", r.Number)
	}
	twin := &domain.Resolved{Room: r.Room.Clone(), Design: unwired(&r.Design), Typical: r.Typical, Orphans: r.Orphans}
	_, err = d.addCopy(twin, id, by)
	return err
}

func (d *Drawing) copyWall(from, id domain.ID, by geom.Point) error {
	p := d.Plan
	w := p.Wall(from)
	if w == nil {
		return goneWall()
	}
	twin := *w
	twin.ID, twin.Seq = id, nextSeq(p.Walls, func(w domain.Wall) int { return w.Seq })
	twin.Openings = slices.Clone(w.Openings)
	for i := range twin.Openings {
		twin.Openings[i].ID = id + domain.ID(fmt.Sprintf("-%d", i+1))
	}
	var err error
	if twin.A, err = onPlan(w.A.Add(by)); err != nil {
		return err
	}
	if twin.B, err = onPlan(w.B.Add(by)); err != nil {
		return err
	}
	for i := range twin.Openings {
		d.settleIndoors(&twin, &twin.Openings[i])
	}
	p.Walls = append(p.Walls, twin)
	return nil
}
