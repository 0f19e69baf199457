package edit

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Drawing is what a gesture on a storey's plan changes: the rooms that it
// names, each with what stands in it, and the walls.
type Drawing struct {
	Project *domain.Project // read only
	Storey  domain.ID
	Plan    *domain.Plan // set where the gesture changes walls or rooflights
	Rooms   []*domain.Resolved
	Added   []*domain.Room // rooms that the gesture made
	Removed []domain.ID    // rooms that the gesture took out of the project
	// Taken tells whether a room of the project has a number; nil: none has.
	Taken func(number string) bool
	// Beside are all rooms of the storey, read only; they tell whether a window that
	// is drawn or pasted gives on another room.
	Beside []domain.Footprint
	// Typical gives a typical of the project, nil where it has none of that ID;
	// nil itself: pasted rooms stand alone.
	Typical func(domain.ID) *domain.Typical
}

// Gesture is one finished gesture on a plan: one change, and one step to undo.
// Apply works on copies, as Edit does.
type Gesture interface {
	// Rooms names the rooms that the gesture changes.
	Rooms() []domain.ID
	// Walls tells that it changes walls, what stands in them, or rooflights.
	Walls() bool
	Apply(*Drawing) (said string, err error)
}

// inRooms is part of the gestures that leave walls alone.
type inRooms struct{}

// Walls tells that no wall is changed.
func (inRooms) Walls() bool { return false }

// onWalls is part of the gestures that leave rooms alone.
type onWalls struct{}

// Rooms names no room.
func (onWalls) Rooms() []domain.ID { return nil }

// Walls tells that walls are changed.
func (onWalls) Walls() bool { return true }

// Draw carries out a gesture. Its errors are *FieldError or *Refused.
func Draw(d *Drawing, g Gesture) (string, error) {
	said, err := g.Apply(d)
	var field *FieldError
	if err != nil && !errors.As(err, &field) {
		err = &Refused{err}
	}
	return said, err
}

// ThingKind is a kind of thing that stands on a plan.
type ThingKind string

// The kinds of thing that a gesture can name.
const (
	RoomThing    ThingKind = "room"
	DeviceThing  ThingKind = "device"
	FixtureThing ThingKind = "fixture"
	SeatThing    ThingKind = "seat"
	WallThing    ThingKind = "wall"
	OpeningThing ThingKind = "opening" // a window, a door or a gap

	RooflightThing ThingKind = "rooflight"
)

// Thing names one thing on a plan. IDs of what a room holds are the room's own
// affair (rooms that follow one typical share them), so the room is named too.
type Thing struct {
	Kind ThingKind
	Room domain.ID // that holds it; empty for walls, openings and rooflights
	Wall domain.ID // that an opening stands in
	ID   domain.ID // empty for the room itself
}

// ParseThing reads "device/<room>/<id>", "room/<id>", "wall/<id>",
// "opening/<wall>/<id>" or "rooflight/<id>".
func ParseThing(text string) (Thing, error) {
	steps := strings.Split(text, "/")
	ids := steps[1:]
	valid := true
	for _, id := range ids {
		valid = valid && domain.ID(id).Valid()
	}
	switch kind := ThingKind(steps[0]); {
	case !valid:
	case kind == RoomThing && len(ids) == 1:
		return Thing{Kind: kind, Room: domain.ID(ids[0])}, nil
	case (kind == WallThing || kind == RooflightThing) && len(ids) == 1:
		return Thing{Kind: kind, ID: domain.ID(ids[0])}, nil
	case kind == OpeningThing && len(ids) == 2:
		return Thing{Kind: kind, Wall: domain.ID(ids[0]), ID: domain.ID(ids[1])}, nil
	case (kind == DeviceThing || kind == FixtureThing || kind == SeatThing) && len(ids) == 2:
		return Thing{Kind: kind, Room: domain.ID(ids[0]), ID: domain.ID(ids[1])}, nil
	}
	return Thing{}, fmt.Errorf("%.60q names nothing on the plan", text)
}

func (t Thing) String() string {
	out := string(t.Kind)
	for _, id := range []domain.ID{t.Room, t.Wall, t.ID} {
		if id != "" {
			out += "/" + string(id)
		}
	}
	return out
}

// ofPlan tells that a thing belongs to the storey's plan and to no room.
func (t Thing) ofPlan() bool {
	return t.Kind == WallThing || t.Kind == OpeningThing || t.Kind == RooflightThing
}

func (t Thing) rooflight() bool { return t.Kind == RooflightThing }

func anyOfPlan(things []Thing) bool { return slices.ContainsFunc(things, Thing.ofPlan) }

// roomsOf gives the rooms of things, each once.
func roomsOf(things []Thing) []domain.ID {
	var out []domain.ID
	seen := map[domain.ID]bool{}
	for _, t := range things {
		if t.Room != "" && !seen[t.Room] {
			seen[t.Room] = true
			out = append(out, t.Room)
		}
	}
	return out
}

// room gives a room of the drawing.
func (d *Drawing) room(id domain.ID) (*domain.Resolved, error) {
	for _, r := range d.Rooms {
		if r.ID == id {
			return r, nil
		}
	}
	return nil, fmt.Errorf("a room is no longer on this storey: it may have been moved or removed in another window")
}

// device gives a device that has a place.
func placedDevice(r *domain.Resolved, id domain.ID) (*domain.Device, error) {
	dev := r.Design.Device(id)
	if dev == nil {
		return nil, gone("the device")
	}
	if dev.At == nil {
		return nil, fmt.Errorf("%s in room %s has no place on the plan yet", dev.Tag, r.Number)
	}
	return dev, nil
}

func fixtureOf(r *domain.Resolved, id domain.ID) (*domain.Fixture, error) {
	for i := range r.Fixtures {
		if r.Fixtures[i].ID == id {
			return &r.Fixtures[i], nil
		}
	}
	return nil, gone("the luminaire")
}

func seatOf(r *domain.Resolved, id domain.ID) (*domain.Seat, error) {
	for i := range r.Sitting {
		if r.Sitting[i].ID == id {
			return &r.Sitting[i], nil
		}
	}
	return nil, gone("the seat")
}

// name says what a thing is called in a sentence.
func (d *Drawing) name(t Thing) string {
	switch t.Kind {
	case WallThing:
		return "a wall"
	case RooflightThing:
		return "a rooflight"
	case OpeningThing:
		if w := d.Plan.Wall(t.Wall); w != nil {
			if o := openingOf(w, t.ID); o != nil {
				return "a " + string(o.Kind)
			}
		}
		return "an opening"
	}
	r, err := d.room(t.Room)
	if err != nil {
		return "a thing"
	}
	switch t.Kind {
	case DeviceThing:
		if dev := r.Design.Device(t.ID); dev != nil {
			return dev.Tag + " in " + r.Number
		}
	case FixtureThing:
		return "a luminaire in " + r.Number
	case SeatThing:
		return "a seat in " + r.Number
	}
	return "room " + r.Number
}

// told says what was done with things: "moved PS-1 in 204", "moved 3 things".
func (d *Drawing) told(verb string, things []Thing) string {
	if len(things) == 1 {
		return verb + " " + d.name(things[0])
	}
	return fmt.Sprintf("%s %d things on the plan", verb, len(things))
}

// onPlan gives a point as it will be written, or why it cannot stand there.
func onPlan(p geom.Point) (geom.Point, error) {
	if !p.Finite() {
		return p, fmt.Errorf("a place must lie within 10,000 km of the plan's origin")
	}
	return geom.Pt(tenths(p.X), tenths(p.Y)), nil
}

// tenths rounds to the tenth of a millimeter that plans are written with.
func tenths(v float64) float64 {
	if v = math.Round(v*1e4) / 1e4; v == 0 {
		return 0 // no minus zero
	}
	return v
}

// facing gives a direction that a person states for a device, over 0 to 360 degrees:
// 0 is a device whose direction nobody has stated, so that to the right is 360.
func facing(deg float64) float64 {
	if deg = full(deg); deg == 0 {
		return 360
	}
	return deg
}

// direction is facing of a value that may be not stated, 0.
func direction(deg float64) float64 {
	if deg == 0 {
		return 0
	}
	return facing(deg)
}

// full gives an angle from 0 to under 360 degrees.
func full(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	if deg = math.Round(deg*100) / 100; deg >= 360 {
		return 0
	}
	return deg
}
