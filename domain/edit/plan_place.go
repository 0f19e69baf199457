package edit

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// mostPlaced is how many luminaires or seats one gesture may place.
const mostPlaced = 500

// PlaceDevice puts a device of a room on the plan, or at another place there.
type PlaceDevice struct {
	inRooms
	Room, Device domain.ID
	At           geom.Point
}

// Rooms names the room.
func (g PlaceDevice) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply places the device.
func (g PlaceDevice) Apply(d *Drawing) (string, error) {
	r, err := d.room(g.Room)
	if err != nil {
		return "", err
	}
	dev := r.Design.Device(g.Device)
	if dev == nil {
		return "", gone("the device")
	}
	at, err := onPlan(g.At)
	if err != nil {
		return "", err
	}
	dev.At = &at
	return fmt.Sprintf("placed %s in %s", dev.Tag, r.Number), nil
}

// PlaceFixtures puts luminaires of a load on the plan.
type PlaceFixtures struct {
	inRooms
	Room, Load domain.ID
	IDs        []domain.ID // of the new luminaires, one a place
	At         []geom.Point
	Turn       float64 // degrees, counterclockwise
}

// Rooms names the room.
func (g PlaceFixtures) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply places the luminaires.
func (g PlaceFixtures) Apply(d *Drawing) (string, error) {
	r, err := d.room(g.Room)
	if err != nil {
		return "", err
	}
	l := r.Design.Load(g.Load)
	if l == nil {
		return "", gone("the load")
	}
	if l.Kind != domain.Lighting {
		return "", fmt.Errorf("%s is no lighting load: it has no luminaires", l.Tag)
	}
	places, err := newPlaces(g.IDs, g.At)
	if err != nil {
		return "", err
	}
	for i, at := range places {
		r.Fixtures = append(r.Fixtures, domain.Fixture{ID: g.IDs[i], Load: l.ID, At: at, Turn: full(g.Turn)})
	}
	return fmt.Sprintf("placed %s of %s in %s", counted(len(places), "luminaire"), l.Tag, r.Number), nil
}

// PlaceSeats puts seats of a room on the plan.
type PlaceSeats struct {
	inRooms
	Room domain.ID
	IDs  []domain.ID
	At   []geom.Point
}

// Rooms names the room.
func (g PlaceSeats) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply places the seats.
func (g PlaceSeats) Apply(d *Drawing) (string, error) {
	r, err := d.room(g.Room)
	if err != nil {
		return "", err
	}
	places, err := newPlaces(g.IDs, g.At)
	if err != nil {
		return "", err
	}
	for i, at := range places {
		r.Sitting = append(r.Sitting, domain.Seat{ID: g.IDs[i], At: at})
	}
	return fmt.Sprintf("placed %s in %s", counted(len(places), "seat"), r.Number), nil
}

func newPlaces(ids []domain.ID, at []geom.Point) ([]geom.Point, error) {
	if len(at) == 0 || len(at) > mostPlaced || len(ids) != len(at) {
		return nil, fmt.Errorf("place 1 to %d at once", mostPlaced)
	}
	out := make([]geom.Point, len(at))
	for i := range at {
		var err error
		if out[i], err = onPlan(at[i]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// TakeOff takes things off the plan. A device stays in its room's design and
// loses its place; luminaires and seats, which are only places, are gone; a
// room loses its outline and keeps all that was designed; a wall goes with its
// windows and doors, a rooflight alone.
type TakeOff struct{ Things []Thing }

// Rooms names the rooms of the things.
func (g TakeOff) Rooms() []domain.ID { return roomsOf(g.Things) }

// Walls tells whether things of the plan are among them.
func (g TakeOff) Walls() bool { return anyOfPlan(g.Things) }

// Apply takes them off.
func (g TakeOff) Apply(d *Drawing) (string, error) {
	if len(g.Things) == 0 {
		return "", fmt.Errorf("nothing is selected: choose what to take off the plan first")
	}
	said := d.told("took off the plan:", g.Things)
	for _, t := range g.Things {
		if t.ofPlan() {
			if err := d.removeOfPlan(t, g.Things); err != nil {
				return "", err
			}
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
			dev.At, dev.Turn = nil, 0
		case FixtureThing:
			if _, err := fixtureOf(r, t.ID); err != nil {
				return "", err
			}
			r.Fixtures = slices.DeleteFunc(r.Fixtures, func(f domain.Fixture) bool { return f.ID == t.ID })
		case SeatThing:
			if _, err := seatOf(r, t.ID); err != nil {
				return "", err
			}
			r.Sitting = slices.DeleteFunc(r.Sitting, func(s domain.Seat) bool { return s.ID == t.ID })
		case RoomThing:
			if r.Outline.Empty() {
				return "", fmt.Errorf("room %s has no outline on the plan", r.Number)
			}
			r.Outline = geom.Polygon{}
		}
	}
	return said, nil
}
