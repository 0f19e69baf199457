package coverage_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	. "scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// drawRoom draws a room with walls, partitions and sensors at random.
func drawRoom(t *rapid.T) *domaintest.Builder {
	r := rand.New(rand.NewPCG(uint64(rapid.IntRange(0, 1<<30).Draw(t, "seed")), 7))
	outline := rapid.SampledFrom([]geom.Polygon{room(8, 6), ell, yoo}).Draw(t, "outline")
	var walls []domain.Wall
	for i := range rapid.IntRange(0, 6).Draw(t, "walls") {
		w := domain.Wall{ID: domain.ID(fmt.Sprint("w", i)), A: geom.Pt(r.Float64()*12, r.Float64()*8), B: geom.Pt(r.Float64()*12, r.Float64()*8), Kind: domain.Partition, Height: units.Metres(0.9 + 2*r.Float64())}
		if i == 0 {
			w.Kind, w.Height = domain.FullWall, 0
		}
		walls = append(walls, w)
	}
	typ := rapid.SampledFrom([]equipment.Type{cone(3.845), cone(6), plane(5)}).Draw(t, "type")
	typ.Senses = rapid.SampledFrom(equipment.Sensings()).Draw(t, "senses")
	typ.Angle = rapid.SampledFrom([]float64{0, 90, 200}).Draw(t, "angle")
	var at []geom.Point
	for range rapid.IntRange(1, 4).Draw(t, "sensors") {
		at = append(at, geom.Pt(r.Float64()*8, r.Float64()*6))
	}
	b := roomOf(outline, typ, 0.25, walls, at...)
	for i := range b.R.Design.Devices {
		b.R.Design.Devices[i].Turn = r.Float64() * 360
		b.R.Design.Devices[i].Height = rapid.SampledFrom([]units.Metres{0, 2.2, 3.5, 1.2}).Draw(t, "height")
	}
	for i := range 12 {
		b.R.Sitting = append(b.R.Sitting, domain.Seat{ID: domain.ID(fmt.Sprint("s", i)), At: geom.Pt(r.Float64()*12, r.Float64()*8)})
	}
	return b
}

// A person who walks under an infrared cone is seen where any part of the body,
// from the floor to the head, lies in the cone and shows over the partitions:
// tried for parts 2 cm apart.
func TestRoom_aBodyIsSeenByItsParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawRoom(t)
		b.P.Book[len(b.P.Book)-1] = cone(3.845)
		b.P.Book[len(b.P.Book)-1].ID = b.R.Design.Devices[0].Type
		for i := range b.R.Design.Devices {
			b.R.Design.Devices[i].Height = max(b.R.Design.Devices[i].Height, 2)
		}
		b.R.Outline = room(8, 6)
		r := NewRoom(b.P, b.R)
		s, g := r.Sensors[0], r.Grid
		doubtful := 0
		for row := 0; row < g.Rows; row += 3 {
			for column := 0; column < g.Columns; column += 3 {
				p := geom.Pt(g.X(column), g.Y(row))
				sure, maybe := seenByParts(&s, p, b.R.Plan.Walls, 0.02), seenByParts(&s, p, b.R.Plan.Walls, -0.02)
				if sure != maybe || onWall(p, b.R.Plan.Walls) {
					doubtful++
					continue
				}
				if got := g.At(s.Seen(Major), column, row); got != sure {
					t.Fatalf("%v from %v at %g m: %v", p, s.At, s.Height, got)
				}
			}
		}
		if doubtful > 60 {
			t.Fatalf("%d points are too near an edge to tell", doubtful)
		}
	})
}

func onWall(p geom.Point, walls []domain.Wall) bool {
	for i := range walls {
		if walls[i].Line().Distance(p) < 0.001 {
			return true
		}
	}
	return false
}

// seenByParts tries parts of a body; partitions are taller by more than they
// are, and the cone narrower.
func seenByParts(s *RoomSensor, p geom.Point, walls []domain.Wall, more float64) bool {
	d := s.At.Distance(p)
	for z := 0.0; z <= 1.6; z += 0.01 {
		if d > 3.845/2.7*(s.Height-z)-more {
			break
		}
		hidden := false
		for _, w := range walls {
			at, meets := (geom.Segment{A: s.At, B: p}).Intersect(w.Line())
			if !meets {
				continue
			}
			sight := s.Height + (z-s.Height)*s.At.Distance(at)/d
			hidden = hidden || w.Kind == domain.FullWall || sight < float64(w.Height)+more
		}
		if !hidden {
			return true
		}
	}
	return false
}

// Whatever moves, taking over what is left alone finds what reckoning anew
// finds; seats and cells agree; patches are the floor.
func TestRoom_againIsAnew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawRoom(t)
		room := NewRoom(b.P, b.R)
		b.R.Design.Devices = append([]domain.Device(nil), b.R.Design.Devices...)
		d := &b.R.Design.Devices[0]
		switch rapid.IntRange(0, 5).Draw(t, "change") {
		case 0:
			at := geom.Pt(rapid.Float64Range(0, 8).Draw(t, "x"), rapid.Float64Range(0, 6).Draw(t, "y"))
			d.At = &at
		case 1:
			d.Turn += 30
		case 2:
			d.At = nil
		case 3:
			setLimit(b.P, domain.SeatedHeight, 1.2)
		case 4:
			b.R.Plan = &domain.Plan{ID: "s1", Walls: walled(domain.Partition, 1.5, geom.Pt(1, 1), geom.Pt(5, 2))}
		case 5:
			d.Height = 2.5
		}
		again, anew := room.Again(b.P, b.R), NewRoom(b.P, b.R)
		for _, m := range []Motion{Major, Minor} {
			require.Equal(t, anew.Seen(m), again.Seen(m))
			require.Equal(t, anew.Twice(m), again.Twice(m))
			checkPatches(t, again, m)
		}
		require.Equal(t, anew.Seats, again.Seats)
		require.Equal(t, anew.Entrances, again.Entrances)
		require.Equal(t, anew.Leaks(), again.Leaks())
	})
}

func checkPatches(t require.TestingT, room *Room, m Motion) {
	var area [3]float64
	for _, p := range room.Patches(m) {
		area[p.Seen] += p.Box.Width() * p.Box.Height()
	}
	require.InDelta(t, room.Area(room.Twice(m)), area[2], 1e-6)
	require.InDelta(t, room.Area(room.Seen(m)), area[1]+area[2], 1e-6)
	require.InDelta(t, room.Area(room.Floor), area[0]+area[1]+area[2], 1e-6)
}
