package coverage

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Room is what the presence sensors of a room see of it. It is made by NewRoom
// and then only read, so that windows, rules and drawings may share it.
//
// What is to be seen: seats, where small motion at SeatedHeight must be
// noticed; entrances, half a meter inside of each door and gap of the outline,
// where a person who walks in must be; and the floor, in square cells, each of
// which counts as what its center is. Small motion is reckoned on the plane of
// SeatedHeight. A person who walks counts as seen where any part of the body is,
// from the floor up to StandingHeight: see RoomSensor.
//
// What stands in the way: walls of the plan with doors shut and glass as walls,
// partitions up to their own height or the limit PartitionHeight, and the
// outline itself where no wall is drawn along it. Furniture is not in it.
type Room struct {
	Outline  geom.Polygon
	Seated   float64 // m, height of a seated person
	Standing float64 // m, height of a standing one
	Grid     Grid
	Floor    Cells // the cells of the room

	Sensors   []RoomSensor
	Unplaced  []domain.ID // presence sensors without a place on the plan
	Seats     []Target
	Entrances []Target

	given given
	cover [2]union
}

// Target is a place at which somebody is to be seen.
type Target struct {
	ID   domain.ID // of a seat, or of the door or gap
	Wall domain.ID // of an entrance: in which it is
	At   geom.Point
	By   []int // indices of Sensors that see what is to be seen there: small motion at a seat, a walking person at an entrance
	Walk []int // of a seat: indices of Sensors that see a person walk there
}

// Seen tells that a sensor sees what is to be seen there.
func (t *Target) Seen() bool { return len(t.By) > 0 }

// union is what all sensors see together of one motion.
type union struct{ once, twice Cells }

// mostRoomCells bounds the cells of one room, so that judging a hall of any
// size stays within a millisecond or two: 125 by 125 m at 0.25 m.
const mostRoomCells = 250_000

// NewRoom reckons what a room's presence sensors see. It gives nil where the
// room has no sound outline. Without a plan, the outline is all that stands in
// the way.
func NewRoom(p *domain.Project, r *domain.Resolved) *Room {
	if r.Room == nil || r.Outline.Empty() || len(r.Outline.Validate()) > 0 {
		return nil
	}
	return newRoom(p, r, nil)
}

// Again reckons the room anew after a change and takes over what each sensor
// sees that the change left alone: a moved sensor costs its own cells only.
func (room *Room) Again(p *domain.Project, r *domain.Resolved) *Room {
	if room == nil || r.Room == nil || !sameOutline(room.Outline, r.Outline) {
		return NewRoom(p, r)
	}
	return newRoom(p, r, room)
}

func newRoom(p *domain.Project, r *domain.Resolved, old *Room) *Room {
	room := &Room{Outline: r.Outline, given: newGiven(p, r)}
	room.Seated, room.Standing = room.given.seated, room.given.standing
	same := old != nil && room.given.sameScene(&old.given)
	if same {
		room.Grid, room.Floor, room.given = old.Grid, old.Floor, old.given
	} else {
		room.Grid = roomGrid(r.Outline.Bounds(), room.given.cell)
		room.Floor = room.Grid.Inside(r.Outline)
		room.given.build(r)
	}
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		t := p.Book.Find(d.Type)
		switch {
		case t == nil || !t.Kind.Traits().Presence:
		case d.At == nil || !d.At.Finite():
			room.Unplaced = append(room.Unplaced, d.ID)
		default:
			room.add(newRoomSensor(p, r, d, t, &room.given), old, same)
		}
	}
	room.targets(r)
	room.unite()
	return room
}

func (room *Room) add(s RoomSensor, old *Room, same bool) {
	if same {
		for i := range old.Sensors {
			if o := &old.Sensors[i]; o.ID == s.ID && o.sameAs(&s) {
				s.looks, s.cells, s.leaks = o.looks, o.cells, o.leaks
				room.Sensors = append(room.Sensors, s)
				return
			}
		}
	}
	s.look(room)
	room.Sensors = append(room.Sensors, s)
}

func roomGrid(b geom.Box, step float64) Grid {
	if !(step >= 0.01) {
		step = 0.25
	}
	for b.Width()/step*(b.Height()/step) > mostRoomCells {
		step *= 2
	}
	return NewGrid(b, step)
}

// targets finds the seats and entrances and who sees them.
func (room *Room) targets(r *domain.Resolved) {
	for i := range r.Sitting {
		if s := &r.Sitting[i]; room.Outline.Contains(s.At) {
			room.Seats = append(room.Seats, Target{ID: s.ID, At: s.At})
		}
	}
	room.Entrances = room.given.entrances()
	n := len(room.Sensors)
	hold := make([]int, 0, n*(2*len(room.Seats)+len(room.Entrances))) // one piece for all lists
	list := func() []int {
		hold = hold[:len(hold)+n]
		return hold[len(hold)-n : len(hold)-n : len(hold)]
	}
	for j := range room.Seats {
		room.Seats[j].By, room.Seats[j].Walk = list(), list()
	}
	for j := range room.Entrances {
		room.Entrances[j].By = list()
	}
	for i := range room.Sensors {
		s := &room.Sensors[i]
		walk, small := s.looks[0], s.looks[1]
		for j := range room.Seats {
			t := &room.Seats[j]
			if small.sees(t.At) {
				t.By = append(t.By, i)
			}
			if walk.sees(t.At) {
				t.Walk = append(t.Walk, i)
			}
		}
		for j := range room.Entrances {
			if t := &room.Entrances[j]; walk.sees(t.At) {
				t.By = append(t.By, i)
			}
		}
	}
}

// Whole tells that all of the room's presence sensors are placed and that what
// they see is known, so that what none of them sees is not seen at all.
func (room *Room) Whole() bool {
	for i := range room.Sensors {
		if room.Sensors[i].Refused != nil {
			return false
		}
	}
	return len(room.Unplaced) == 0
}

// Sensor gives the sensor of that ID, nil where the room has none placed.
func (room *Room) Sensor(id domain.ID) *RoomSensor {
	for i := range room.Sensors {
		if room.Sensors[i].ID == id {
			return &room.Sensors[i]
		}
	}
	return nil
}

func sameOutline(a, b geom.Polygon) bool {
	return slices.Equal(a.Outer, b.Outer) && slices.EqualFunc(a.Holes, b.Holes, func(x, y []geom.Point) bool { return slices.Equal(x, y) })
}
