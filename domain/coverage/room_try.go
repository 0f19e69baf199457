package coverage

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Trial is what a sensor would see of a room.
type Trial struct {
	RoomSensor
	Seats     []int   // indices of the room's Seats at which it would notice small motion
	Entrances []int   // indices of the room's Entrances at which it would see a person walk
	Outside   float64 // m2 that it would see through open doors and gaps
}

// Try tells what a device would see of the room at its place, which it must
// have; ok is false for one that is no presence sensor or for whose height its
// type is not made. The room itself does not change.
func (room *Room) Try(p *domain.Project, r *domain.Resolved, d *domain.Device) (t Trial, ok bool) {
	typ := p.Book.Find(d.Type)
	if typ == nil || !typ.Kind.Traits().Presence || d.At == nil {
		return t, false
	}
	t.RoomSensor = newRoomSensor(p, r, d, typ, &room.given)
	if t.Refused != nil {
		return t, false
	}
	t.look(room)
	for _, l := range t.leaks {
		t.Outside += l.Area
	}
	t.Seats, t.Entrances = seenOf(t.looks[1], room.Seats), seenOf(t.looks[0], room.Entrances)
	return t, true
}

func seenOf(l *glance, targets []Target) []int {
	var out []int
	for i := range targets {
		if l.sees(targets[i].At) {
			out = append(out, i)
		}
	}
	return out
}

// Empty gives the room as it would be without presence sensors: its seats,
// entrances and floor, for trying places.
func Empty(p *domain.Project, r *domain.Resolved) *Room {
	bare := *r
	bare.Design.Devices = nil
	return NewRoom(p, &bare)
}

// Corners gives the room's corners of less than 135 degrees, each with the
// direction into the room halfway between its walls, in degrees: where corner
// sensors hang.
func (room *Room) Corners() (at []geom.Point, facing []float64) {
	shape := room.Outline.Oriented()
	n := len(shape.Outer)
	for i, p := range shape.Outer {
		before, after := shape.Outer[(i+n-1)%n], shape.Outer[(i+1)%n]
		in, out := before.Sub(p), after.Sub(p)
		turn := degrees(out, in)
		if turn > 20 && turn < 135 {
			at, facing = append(at, p), append(facing, direction(out)+turn/2)
		}
	}
	return at, facing
}

// degrees gives the angle from one direction counterclockwise to another, 0 to
// under 360.
func degrees(from, to geom.Point) float64 {
	return positive(math.Atan2(from.Cross(to), from.Dot(to)) * 180 / math.Pi)
}

func direction(p geom.Point) float64 { return positive(math.Atan2(p.Y, p.X) * 180 / math.Pi) }

func positive(angle float64) float64 {
	if angle < 0 {
		return angle + 360
	}
	return angle
}

// Along gives places along the room's walls, about a step in meters apart, each
// with the direction into the room, in degrees.
func (room *Room) Along(step float64) (at []geom.Point, facing []float64) {
	shape := room.Outline.Oriented()
	for _, e := range shape.Edges() {
		n := int(math.Ceil(e.Length()/step - 1e-9))
		d := e.B.Sub(e.A)
		for i := range n {
			at, facing = append(at, e.At((float64(i)+0.5)/float64(n))), append(facing, direction(geom.Pt(-d.Y, d.X)))
		}
	}
	return at, facing
}
