package propose

import (
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
)

// spot is a place for a sensor of a type, with what it would see: bits of seats,
// entrances and then cells.
type spot struct {
	typ     string
	at      geom.Point
	turn    float64
	device  int // of the room's own that hangs there; -1: none
	outside float64
	sees    []uint64
}

// mostSpots is about how many places of one type are looked at; closestSpots is
// the least distance of two, m.
const (
	mostSpots    = 250
	closestSpots = 1.0
)

// spotsOf gives the places of a stage.
func (s *sensorSearch) spotsOf(stage sensorStage) []spot {
	limit := s.p.Limits.Value(domain.LeakArea)
	var out []spot
	for _, id := range stage.types {
		for _, one := range s.placesOf(id) {
			if stage.leaks || one.outside <= limit {
				out = append(out, one)
			}
		}
	}
	return out
}

// placesOf gives the places of a type, those of the room's own sensors first.
func (s *sensorSearch) placesOf(id string) []spot {
	if known, ok := s.spots[id]; ok {
		return known
	}
	var out []spot
	add := func(at geom.Point, turn float64, device int) {
		if one, ok := s.look(id, at, turn, device); ok {
			out = append(out, one)
		}
	}
	t := s.p.Book.Find(id)
	if t == nil {
		return nil
	}
	for _, i := range s.have {
		if d := &s.r.Design.Devices[i]; d.At != nil && d.Type == id {
			add(*d.At, d.Turn, i)
		}
	}
	if hangsOnWalls(t) {
		s.onWalls(t, add)
	} else {
		s.underCeiling(t, add)
	}
	s.spots[id] = out
	return out
}

// look tries a place; device is the room's own that hangs there, else -1.
func (s *sensorSearch) look(typ string, at geom.Point, turn float64, device int) (spot, bool) {
	d := s.fresh(typ)
	d.At, d.Turn = &at, turn
	if device >= 0 {
		d.Height, d.Mounting = s.r.Design.Devices[device].Height, s.r.Design.Devices[device].Mounting
	}
	t, ok := s.room.Try(s.p, s.r, &d)
	if !ok {
		return spot{}, false
	}
	return spot{typ, at, turn, device, t.Outside, s.bits(&t)}, true
}

func hangsOnWalls(t *equipment.Type) bool {
	where := strings.ToLower(t.Mounting)
	return strings.Contains(where, "wall") || strings.Contains(where, "corner")
}

// underCeiling lays a grid between the room's sides, a line of it in the middle
// or two beside it: a wedge looks four ways at each place.
func (s *sensorSearch) underCeiling(t *equipment.Type, add func(geom.Point, float64, int)) {
	box := s.room.Outline.Bounds()
	columns, rows := parts(box.Width(), s.step()), parts(box.Height(), s.step())
	turns := []float64{0}
	if t.Angle > 0 && t.Angle < 360 {
		turns = []float64{0, 90, 180, 270}
	}
	for row := 1; row < rows; row++ {
		for column := 1; column < columns; column++ {
			at := geom.Pt(hundredths(box.Min.X+box.Width()*float64(column)/float64(columns)), hundredths(box.Min.Y+box.Height()*float64(row)/float64(rows)))
			if !s.room.Outline.Contains(at) {
				continue
			}
			for _, turn := range turns {
				add(at, turn, -1)
			}
		}
	}
}

// step is how far apart places under the ceiling are, m.
func (s *sensorSearch) step() float64 {
	return max(closestSpots, math.Sqrt(s.room.Outline.Area()/mostSpots))
}

// parts gives into how many steps a length is cut, 2 at the least.
func parts(length, step float64) int { return max(2, int(math.Round(length/step))) }

func hundredths(v float64) float64 { return math.Round(v*100)/100 + 0 } // + 0: no minus zero

// onWalls takes corners and places along the walls that are neither door nor
// window.
func (s *sensorSearch) onWalls(t *equipment.Type, add func(geom.Point, float64, int)) {
	if t.Angle > 0 && t.Angle <= 120 {
		at, facing := s.room.Corners()
		for i := range at {
			add(geom.Pt(at[i].X+0, at[i].Y+0), facing[i], -1)
		}
	}
	step := max(closestSpots, s.room.Outline.Perimeter()/mostSpots)
	at, facing := s.room.Along(step)
	for i := range at {
		if p := geom.Pt(hundredths(at[i].X), hundredths(at[i].Y)); !s.inOpening(at[i]) {
			add(p, hundredths(facing[i]), -1)
		}
	}
}

// inOpening tells that a place on a wall lies in a door, a window or a gap.
func (s *sensorSearch) inOpening(at geom.Point) bool {
	const frame = 0.1 // m
	if s.r.Plan == nil {
		return false
	}
	for i := range s.r.Plan.Walls {
		w := &s.r.Plan.Walls[i]
		for j := range w.Openings {
			if w.Span(&w.Openings[j]).Distance(at) < frame+float64(w.Thickness) {
				return true
			}
		}
	}
	return false
}

func (s *sensorSearch) targets() int { return len(s.room.Seats) + len(s.room.Entrances) }
func (s *sensorSearch) words() int   { return (s.targets() + len(s.cells) + 63) / 64 }

// bits writes what a sensor sees as a set.
func (s *sensorSearch) bits(t *coverage.Trial) []uint64 {
	out := make([]uint64, s.words())
	set := func(n int) { out[n/64] |= 1 << (n % 64) }
	for _, i := range t.Seats {
		set(i)
	}
	for _, i := range t.Entrances {
		set(len(s.room.Seats) + i)
	}
	g, seen := s.room.Grid, t.Seen(coverage.Major)
	for i, c := range s.cells {
		if g.At(seen, c.column, c.row) {
			set(s.targets() + i)
		}
	}
	return out
}

// undominated drops places that see nothing more than another: the room's own
// stay.
func (s *sensorSearch) undominated(spots []spot) []spot {
	var out []spot
	for i := range spots {
		a := &spots[i]
		keep := count(a.sees) > 0
		for j := range spots {
			b := &spots[j]
			if !keep || a.device >= 0 {
				break
			}
			keep = i == j || !subset(a.sees, b.sees) || j > i && subset(b.sees, a.sees)
		}
		if keep {
			out = append(out, *a)
		}
	}
	return out
}

func subset(a, b []uint64) bool {
	for i := range a {
		if a[i]&^b[i] != 0 {
			return false
		}
	}
	return true
}
