package radio_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	. "scopewright/domain/radio"
)

func wall(id domain.ID, ax, ay, bx, by float64, material string, openings ...domain.Opening) domain.Wall {
	return domain.Wall{ID: id, A: geom.Pt(ax, ay), B: geom.Pt(bx, by), Kind: domain.FullWall, Material: material, Openings: openings}
}

func at(x, y, z float64) Place { return Place{geom.Pt(x, y), z} }

// Worked links: distance, FreeSpace, walls and margin at 0 dBm and -95 dBm,
// computed apart.
func TestField_workedLinks(t *testing.T) {
	for _, c := range []struct {
		a, b      Place
		losses    []float64
		d, margin float64
		upright   bool
	}{
		{at(1, 1, 2.7), at(9, 7, 1.1), []float64{2.3, 2.3}, 10.127, 30.06, true},
		{at(0, 0, 2.7), at(12, 5, 2.7), []float64{2.3, 4.0}, 13.000, 26.19, true},
		{at(0, 0, 2.7), at(25, 0, 2.7), []float64{2.3, 14.8, 2.3}, 25.000, 7.41, true},
	} {
		var obstacles []Obstacle
		for i, loss := range c.losses { // walls right across the way, one behind the other
			share := float64(i+1) / float64(len(c.losses)+1)
			p := geom.Segment{A: c.a.At, B: c.b.At}.At(share)
			along := c.b.At.Sub(c.a.At)
			across := geom.Pt(-along.Y, along.X)
			obstacles = append(obstacles, Obstacle{A: p.Sub(across), B: p.Add(across), Top: 3, Loss: loss})
		}
		f := NewField(obstacles)
		assert.InDelta(t, c.d, float64(c.a.Distance(c.b)), 0.0005)
		loss := FreeSpace(c.a.Distance(c.b), MeshMHz) + f.Prober().Loss(c.a, c.b)
		plain := Radio{0, 0, -95}
		assert.InDelta(t, c.margin, Margin(plain, plain, loss), 0.0051)
	}
}

// A wall of 10 m with a door and a window: what a line meets depends on where
// and how high it passes.
func TestObstacles(t *testing.T) {
	plan := &domain.Plan{Walls: []domain.Wall{
		wall("w1", 0, 0, 10, 0, domain.Brick110, domain.Opening{ID: "o2", Kind: domain.Window, At: 6, Width: 2, Sill: 0.9, Head: 2.1}, domain.Opening{ID: "o1", Kind: domain.Door, At: 1, Width: 1, Head: 2.1},
			domain.Opening{ID: "o3", Kind: domain.Gap, At: 9, Width: 0.5, Head: 2.5}),
		{ID: "w2", A: geom.Pt(0, 5), B: geom.Pt(10, 5), Kind: domain.Partition, Height: 1.5, Material: domain.StudWall},
		{ID: "w3", A: geom.Pt(0, 6), B: geom.Pt(10, 6), Kind: domain.Boundary},
		wall("w4", 0, 8, 10, 8, "something else"),
	}}
	p := NewField(Obstacles(plan, UsualLosses())).Prober()
	for _, c := range []struct {
		x, z float64
		what string
		loss float64
	}{{0.5, 1, domain.Brick110, 5}, {1.5, 1, "door", 2}, {1.5, 2.2, domain.Brick110, 5}, {7, 0.5, domain.Brick110, 5}, {7, 1.5, "window", 2}, {7, 2.5, domain.Brick110, 5}, {9.2, 2, "", 0}, {9.2, 2.6, domain.Brick110, 5}} {
		got := p.Crossed(at(c.x, -1, c.z), at(c.x, 1, c.z))
		if c.what == "" {
			assert.Empty(t, got)
			continue
		}
		require.Len(t, got, 1, "x %g z %g", c.x, c.z)
		assert.Equal(t, c.what, got[0].What)
		assert.Equal(t, c.loss, got[0].Loss)
		assert.Equal(t, domain.ID("w1"), got[0].Wall)
	}
	// Over the partition, into it, and on a slope that passes its top just there.
	assert.Zero(t, p.Loss(at(5, 4, 1.5), at(5, 5.5, 1.5)), "exactly at the top passes over")
	assert.Equal(t, 3.0, p.Loss(at(5, 4, 1.49), at(5, 5.5, 1.49)))
	assert.Zero(t, p.Loss(at(5, 4, 2.7), at(5, 6, 0.4)), "at the partition the line is 1.55 m high")
	assert.Equal(t, 3.0, p.Loss(at(5, 4, 2.7), at(5, 6, 0.2)), "and here 1.45 m")
	assert.Equal(t, UsualLosses().Wall, p.Loss(at(5, 7, 1), at(5, 9, 1)))
	// Both ways are alike.
	assert.Equal(t, p.Loss(at(1, -1, 1), at(9, 9, 2)), p.Loss(at(9, 9, 2), at(1, -1, 1)))
}

// storey is a grid of rooms of 5 by 4 m with walls of 1 m pieces, and devices.
func storey(walls, devices int) ([]Obstacle, []Place) {
	r := rand.New(rand.NewPCG(1, 2))
	var out []Obstacle
	width, depth := 90.0, 60.0
	for len(out) < walls {
		x, y := float64(r.IntN(18))*5, float64(r.IntN(15))*4
		o := Obstacle{A: geom.Pt(x, y), B: geom.Pt(x+5, y), Top: 3, Loss: 3}
		if r.IntN(2) == 0 {
			o.B = geom.Pt(x, y+4)
		}
		if r.IntN(10) == 0 {
			o.B = geom.Pt(x+r.Float64()*6, y+r.Float64()*6)
		}
		out = append(out, o)
	}
	places := make([]Place, devices)
	for i := range places {
		places[i] = at(r.Float64()*width, r.Float64()*depth, 1+r.Float64()*2)
	}
	return out, places
}

// brute tests each obstacle for each pair.
func brute(f *Field, places []Place, mhz float64, out []Pair) []Pair {
	for i := range places {
		for j := i + 1; j < len(places); j++ {
			out = append(out, Pair{int32(i), int32(j), FreeSpace(places[i].Distance(places[j]), mhz) + f.LossByEach(places[i], places[j])})
		}
	}
	return out
}

// The grid must find what testing each obstacle finds, to the last bit.
func TestField_pairsAreThoseOfTestingEach(t *testing.T) {
	obstacles, places := storey(600, 150)
	f := NewField(obstacles)
	want := brute(f, places, MeshMHz, nil)
	got := f.Pairs(places, MeshMHz, 0, nil)
	require.Len(t, got, len(want))
	for i := range want {
		require.Equal(t, want[i].A, got[i].A)
		require.InDelta(t, want[i].Loss, got[i].Loss, 1e-9)
	}
	near := f.Pairs(places, MeshMHz, 30, nil)
	n := 0
	for _, w := range want {
		if places[w.A].Distance(places[w.B]) <= 30 {
			require.InDelta(t, w.Loss, near[n].Loss, 1e-9)
			n++
		}
	}
	assert.Len(t, near, n)
	places[7] = at(3, 3, 2)
	again := f.Pairs(places, MeshMHz, 0, nil)
	for _, m := range f.Prober().PairsOf(places, 7, MeshMHz, 0, nil) {
		for _, a := range again {
			if a.A == m.A && a.B == m.B {
				require.Equal(t, a, m)
			}
		}
	}
}

func BenchmarkPairs(b *testing.B) {
	obstacles, places := storey(2000, 1000)
	f := NewField(obstacles)
	out := make([]Pair, 0, len(places)*len(places)/2)
	b.Run("each wall for each pair", func(b *testing.B) {
		for b.Loop() {
			out = brute(f, places, MeshMHz, out[:0])
		}
	})
	b.Run("by the grid", func(b *testing.B) {
		for b.Loop() {
			out = f.Pairs(places, MeshMHz, 0, out[:0])
		}
	})
	b.Run("by the grid, 30 m", func(b *testing.B) {
		for b.Loop() {
			out = f.Pairs(places, MeshMHz, 30, out[:0])
		}
	})
	b.Run("one device moved", func(b *testing.B) {
		p := f.Prober()
		for b.Loop() {
			out = p.PairsOf(places, 5, MeshMHz, 30, out[:0])
		}
	})
	b.Run("file the walls", func(b *testing.B) {
		for b.Loop() {
			f = NewField(obstacles)
		}
	})
}
