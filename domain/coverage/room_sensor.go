package coverage

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// RoomSensor is one presence sensor of a room at its place.
//
// A ceiling sensor whose radius is stated on the floor looks down a cone: a
// person who walks is noticed where the cone meets the body, at its rim the
// feet, so that the walk's radius is the one on the floor; what a partition hides
// is reckoned for the highest part of the body that lies in the cone. A radius
// stated on the target's plane is taken to that of the standing person. A minor
// radius holds on the plane of the arm of NEMA WD 7, unless it was stated on the
// target's plane; a type that states none notices small motion where its major
// cone reaches the seated person. A sensor that hangs no higher than a standing
// person looks sideways and has its radii at any height.
//
// Ultrasound fills the room behind partitions that end below the sensor; walls
// to the ceiling stop it. Dual sensors turn on when both notice and hold while
// either does: an entrance and the walk are reckoned for the infrared, small
// motion for the ultrasound.
type RoomSensor struct {
	ID     domain.ID
	Tag    string
	At     geom.Point // where it looks from: its place, drawn in from the wall that it hangs on
	Place  geom.Point // as drawn
	Height float64    // m above the floor
	Guess  bool       // its height follows from the kind of mounting
	Facing float64    // degrees counterclockwise from x; of a wedge
	Span   float64    // degrees; 0: all around
	Senses equipment.Sensing
	Walk   float64 // m, radius for a person who walks, on the floor
	Small  float64 // m, radius for small motion of a seated person

	Assumed bool  // its type states no radius: a disc of its coverage, or of the limit, stands for it
	Refused error // why what it sees is not reckoned: it hangs outside of the heights that its type is for, or the type lacks numbers

	cone  cone
	looks [2]*glance // by motion, as cells
	cells [2]Cells
	leaks []Leak
}

// cone is how a pattern that was stated on the floor widens downwards: slope is
// m of radius for each m under the sensor; 0: the pattern has no cone.
type cone struct{ slope, atHead float64 }

// newRoomSensor reads a device and its type; it does not look yet.
func newRoomSensor(p *domain.Project, r *domain.Resolved, d *domain.Device, t *equipment.Type, g *given) RoomSensor {
	h, guess := p.HeightOf(r.Room, d)
	wedge := t.Angle > 0 && t.Angle < 360
	s := RoomSensor{ID: d.ID, Tag: d.Tag, Place: *d.At, At: drawnIn(r.Outline, *d.At, wedge), Height: float64(h), Guess: guess, Facing: d.Turn, Senses: t.Senses}
	s.pattern(p, t, g)
	return s
}

// pattern settles the radii at the sensor's height.
func (s *RoomSensor) pattern(p *domain.Project, t *equipment.Type, g *given) {
	major, minor := Pattern{}, Pattern{}
	major, s.Assumed = PatternOf(p, t, units.Metres(s.Height))
	if major.Angle > 0 && major.Angle < 360 {
		s.Span = major.Angle
	}
	minor = major
	walkAt := units.Metres(g.standing)
	if major.Rule == OnFloor {
		walkAt = 0
		if major.Minor > 0 {
			minor.Rule, minor.TargetOfMinor = OnTarget, WD7Arm
		}
	}
	if s.Height <= g.standing { // looks sideways
		s.Walk, s.Small, s.Refused = float64(major.Major), float64(major.Major), inRange(major, units.Metres(s.Height))
		if major.Minor > 0 {
			s.Small = float64(major.Minor)
		}
	} else {
		walk, err := major.Radius(Major, units.Metres(s.Height), walkAt)
		small, err2 := minor.Radius(Minor, units.Metres(s.Height), units.Metres(g.seated))
		s.Walk, s.Small, s.Refused = float64(walk), float64(small), err
		if err == nil {
			s.Refused = err2
		}
		if major.Rule == OnFloor && major.StatedAt > 0 {
			s.cone.slope = float64(major.Major / major.StatedAt)
			s.cone.atHead = min(s.Walk, s.cone.slope*(s.Height-g.standing))
		}
	}
	if s.Refused != nil {
		s.Walk, s.Small, s.cone = 0, 0, cone{}
	}
}

// inRange refuses a height outside of those that a type is for.
func inRange(p Pattern, h units.Metres) error {
	p.StatedAt, p.Rule = max(p.StatedAt, 1), OnFloor
	_, err := p.Radius(Major, h, 0)
	return err
}

// PatternOf gives the pattern that a type states. Of one that states no radius,
// a disc of its coverage, else of the limit AreaPerPresenceSensor, stands for
// it, as a cone stated on the floor at the height where it hangs; assumed tells
// so.
func PatternOf(p *domain.Project, t *equipment.Type, mounted units.Metres) (out Pattern, assumed bool) {
	out = Pattern{Major: t.MajorRadius, Minor: t.MinorRadius, StatedAt: t.StatedAt, Rule: OnFloor, Angle: t.Angle, Lowest: t.Lowest, Highest: t.Highest, MostRadius: t.MostRadius}
	if t.StatedOn == equipment.TargetPlane {
		out.Rule = OnTarget
	}
	if t.MajorRadius > 0 {
		return out, false
	}
	area := float64(t.Coverage)
	if area <= 0 {
		area = p.Limits.Value(domain.AreaPerPresenceSensor)
	}
	span := 2 * math.Pi
	if t.Angle > 0 && t.Angle < 360 {
		span = t.Angle * math.Pi / 180
	}
	out.Major, out.Minor, out.StatedAt, out.Rule = units.Metres(math.Sqrt(2*area/span)), 0, mounted, OnFloor
	return out, true
}

// Radius gives the radius for a motion, m.
func (s *RoomSensor) Radius(m Motion) float64 {
	if m == Minor {
		return s.Small
	}
	return s.Walk
}

// Seen gives the cells of the room's grid that the sensor sees, in the room or
// not. It is shared: do not change it.
func (s *RoomSensor) Seen(m Motion) Cells { return s.cells[m.index()] }

// sameAs tells that two sensors see the same of the same scene.
func (s *RoomSensor) sameAs(o *RoomSensor) bool {
	return s.At == o.At && s.Height == o.Height && s.Facing == o.Facing && s.Span == o.Span && s.Senses == o.Senses &&
		s.Walk == o.Walk && s.Small == o.Small && s.cone == o.cone
}

// look finds the cells that the sensor sees, and what it sees through doors.
func (s *RoomSensor) look(room *Room) {
	s.leaks = room.given.leaksOf(s)
	for _, m := range []Motion{Major, Minor} {
		look := s.view(&room.given, m)
		s.cells[m.index()], s.looks[m.index()] = look.cells(room.Grid), look.ready()
	}
}
