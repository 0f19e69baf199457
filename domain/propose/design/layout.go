package design

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// layout is the room's floor with its doors and windows: as drawn, or a
// rectangle that stands for it. Lengths are in meters.
type layout struct {
	drawn   bool         // shape is the room's outline
	shape   geom.Polygon // empty: not even the area is known
	angle   float64      // radians, of its longest edge
	center  geom.Point
	windows []window
	doors   []door
	guessed struct{ windows, door bool } // none is drawn: one was taken for granted
}

type window struct {
	line geom.Segment
	head float64 // of the glass, over the floor
}

// door is a way into the room: a door or a gap in a wall.
type door struct {
	at    geom.Point // its middle, on the outline
	along geom.Point // unit vector along the wall
	in    geom.Point // unit vector into the room
	width float64
}

const (
	usualHead   = 2.1336 // m, 7 ft, of a window that states none: common practice
	usualDoor   = 0.9144 // m, 3 ft
	usualWall   = 0.3    // m, between an outline and the middle of a wall that states no thickness
	usualAspect = 4.0 / 3
	latchSide   = 0.15 // m, from the edge of a door to the middle of a station: common practice
)

func newLayout(p *domain.Project, r *domain.Resolved) *layout {
	l := &layout{}
	switch {
	case !r.Outline.Empty() && len(r.Outline.Validate()) == 0:
		l.drawn, l.shape = true, r.Outline.Oriented()
	case r.Area > 0:
		w := math.Sqrt(float64(r.Area) * usualAspect)
		l.shape = geom.Rectangle(0, 0, w, float64(r.Area)/w)
	default:
		return l
	}
	longest := l.longestEdge(func(geom.Segment) bool { return true })
	l.angle = math.Remainder(math.Atan2(longest.B.Y-longest.A.Y, longest.B.X-longest.A.X), math.Pi/2)
	l.center = l.shape.Bounds().Center()
	if l.drawn && r.Plan != nil {
		l.readWalls(r.Plan)
	}
	ceiling, _ := p.CeilingOf(r.Room)
	l.guess(r.Windows, math.Min(usualHead, float64(ceiling)))
	return l
}

// readWalls finds the doors and windows of walls that run along the outline.
func (l *layout) readWalls(plan *domain.Plan) {
	for i := range plan.Walls {
		w := &plan.Walls[i]
		if w.Kind != domain.FullWall && w.Kind != domain.Partition && w.Kind != "" {
			continue
		}
		for j := range w.Openings {
			o := &w.Openings[j]
			span := w.Span(o)
			if !l.alongOutline(span, float64(w.Thickness)) {
				continue
			}
			if o.Kind == domain.Window {
				head := float64(o.Head)
				if head == 0 {
					head = usualHead
				}
				l.windows = append(l.windows, window{span, head})
			} else if d, ok := l.doorAt(span); ok && !l.near(d) {
				l.doors = append(l.doors, d)
			}
		}
	}
}

// alongOutline tells that an opening lies in a wall on the room's edge.
func (l *layout) alongOutline(s geom.Segment, thickness float64) bool {
	reach := thickness/2 + geom.OnEdge
	if thickness == 0 {
		reach = 0
	}
	reach = math.Max(reach, usualWall)
	for _, t := range []float64{0.25, 0.5, 0.75} {
		if _, d := l.shape.NearestOnBoundary(s.At(t)); d > reach {
			return false
		}
	}
	return s.Length() > 0.1
}

func (l *layout) doorAt(s geom.Segment) (door, bool) {
	at, _ := l.shape.NearestOnBoundary(s.Middle())
	along := s.B.Sub(s.A).Times(1 / s.Length())
	for _, in := range []geom.Point{geom.Pt(-along.Y, along.X), geom.Pt(along.Y, -along.X)} {
		if l.shape.Contains(at.Add(in.Times(0.3))) {
			return door{at, along, in, s.Length()}, true
		}
	}
	return door{}, false
}

// near tells that a door is another leaf of one that is known.
func (l *layout) near(d door) bool {
	for _, o := range l.doors {
		if o.at.Distance(d.at) < (o.width+d.width)/2+0.3 {
			return true
		}
	}
	return false
}

// guess takes a door for granted, and windows where the room is said to have
// some, as long as none is drawn.
func (l *layout) guess(windows bool, head float64) {
	if windows && len(l.windows) == 0 {
		side := l.longestEdge(func(e geom.Segment) bool { return !l.hasDoor(e) })
		l.windows, l.guessed.windows = []window{{side, head}}, true
	}
	if !windows {
		l.windows = nil // what is drawn then lets no daylight in
	}
	if len(l.doors) > 0 {
		return
	}
	side := l.longestEdge(func(e geom.Segment) bool { return e.Length() > usualDoor && !l.hasWindow(e) })
	half := math.Min(usualDoor/2, side.Length()/3)
	t := half / math.Max(side.Length(), 1e-9)
	if d, ok := l.doorAt(geom.Segment{A: side.At(0.5 - t), B: side.At(0.5 + t)}); ok {
		l.doors, l.guessed.door = []door{d}, true
	}
}

func (l *layout) hasDoor(e geom.Segment) bool {
	for _, d := range l.doors {
		if e.Distance(d.at) < 0.05 {
			return true
		}
	}
	return false
}

func (l *layout) hasWindow(e geom.Segment) bool {
	for _, w := range l.windows {
		if e.Distance(w.line.Middle()) < usualWall {
			return true
		}
	}
	return false
}

// longestEdge gives the longest edge of the outline that is as asked, else the
// longest of all; of like ones the first.
func (l *layout) longestEdge(want func(geom.Segment) bool) geom.Segment {
	var best, any geom.Segment
	for e := range geom.Edges(l.shape.Outer) {
		if e.Length() > any.Length()+1e-6 {
			any = e
		}
		if e.Length() > best.Length()+1e-6 && want(e) {
			best = e
		}
	}
	if best.Length() == 0 {
		return any
	}
	return best
}

// toGlass gives how far a point is from the nearest window, and how high that
// window's head is; ok is false in a room without.
func (l *layout) toGlass(p geom.Point) (distance, head float64, ok bool) {
	distance = math.Inf(1)
	for _, w := range l.windows {
		if d := w.line.Distance(p); d < distance {
			distance, head, ok = d, w.head, true
		}
	}
	return distance, head, ok
}

// zoneOf gives the row at the windows that a place is in: the first is as deep
// as the head of the glass is high, the second as deep again, which is how
// energy codes measure sidelit zones.
func (l *layout) zoneOf(p geom.Point) domain.WindowZone {
	switch distance, head, ok := l.toGlass(p); {
	case !ok || distance > 2*head:
		return domain.ZoneNone
	case distance <= head:
		return domain.ZoneWindow
	}
	return domain.ZoneSecondary
}
