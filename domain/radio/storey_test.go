package radio_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	. "scopewright/domain/radio"
	"scopewright/domain/units"
)

// level gives a storey of rooms with a gateway each, 2.5 m over the floor.
func level(id domain.ID, base float64, at ...geom.Point) Level {
	l := Level{Storey: id, Base: base}
	for i := range at {
		r := &domain.Room{ID: domain.ID(fmt.Sprint(id, i)), StoreyID: id, Number: fmt.Sprint(100 + i)}
		d := domain.Device{ID: domain.ID(fmt.Sprint("gw", id, i)), Type: "gw-room", At: &at[i], Height: 2.5}
		l.Rooms = append(l.Rooms, &domain.Resolved{Room: r, Design: domain.Design{Devices: []domain.Device{d}}})
	}
	return l
}

// short gives a project whose radios carry so many meters in the open.
func short(meters float64) *domain.Project {
	p := domaintest.Project(units.SI)
	for i := range p.Book {
		p.Book[i].TxPower, p.Book[i].Gain, p.Book[i].Sensitivity = 0, 0, -10-FreeSpace(units.Metres(meters), MeshMHz)
	}
	return p
}

// A link between storeys: FreeSpace over the oblique way, 20 dB for the floor, and
// the walls of each storey where the way runs on it. From (0,0) to (6,0) one
// storey of 4 m up, 7.2111 m: 57.39 dB by FreeSpace. The way is 2.5 m high at x 0
// and leaves the lower storey, at 4 m, at x 2.25.
func TestBackbone_betweenStoreys(t *testing.T) {
	p := domaintest.Project(units.SI)
	low, high := level("low", 0, geom.Pt(0, 0)), level("high", 4, geom.Pt(6, 0))
	for _, c := range []struct {
		name       string
		low, above []domain.Wall
		loss       float64
	}{
		{"nothing between but the floor", nil, nil, 20},
		{"a wall below, before the way leaves", []domain.Wall{wall("w", 2, -1, 2, 1, domain.StudWall)}, nil, 23},
		{"a wall below, where the way is above", []domain.Wall{wall("w", 3, -1, 3, 1, domain.StudWall)}, nil, 20},
		{"a wall above, where the way is below", nil, []domain.Wall{wall("w", 2, -1, 2, 1, domain.Concrete200)}, 20},
		{"walls on both", []domain.Wall{wall("w", 1, -1, 1, 1, domain.StudWall)}, []domain.Wall{wall("w", 5, -1, 5, 1, domain.Concrete200)}, 45},
	} {
		a, b := low, high
		a.Plan, b.Plan = &domain.Plan{Walls: c.low}, &domain.Plan{Walls: c.above}
		for _, levels := range [][]Level{{a, b}, {b, a}} {
			if levels[0].Storey == "high" {
				levels[0].Base, levels[1].Base = 0, -4
			}
			bone := NewBackbone(p, levels...)
			margin, ok := bone.Margin(0, 1)
			require.True(t, ok)
			assert.InDelta(t, 108-57.39-c.loss, margin, 0.0051, c.name)
			why := bone.Why(0, 1)
			assert.InDelta(t, margin, why.Margin, 1e-9, c.name)
			assert.Equal(t, 1, why.Floors)
			assert.InDelta(t, c.loss-20, why.Walls, 1e-9, c.name)
			assert.False(t, why.Band.InRange, "the later form of P.1238 is for one storey")
		}
	}
}

// Two floors lie between storeys of which the one between has no gateway here.
func TestBackbone_countsTheFloorsBetween(t *testing.T) {
	bone := NewBackbone(domaintest.Project(units.SI), level("mid", 0), level("low", -4, geom.Pt(0, 0)), level("high", 4, geom.Pt(0, 0)))
	margin, _ := bone.Margin(0, 1)
	assert.InDelta(t, 108-float64(FreeSpace(8, MeshMHz))-40, margin, 1e-9)
	assert.False(t, bone.Own(0) || bone.Own(1))
}

// Parts, single gates and the head: a path of five has its head in the middle.
func TestBackbone_mesh(t *testing.T) {
	row := func(n int) []geom.Point {
		var out []geom.Point
		for i := range n {
			out = append(out, geom.Pt(9*float64(i), 0))
		}
		return out
	}
	b := NewBackbone(short(10), level("s", 0, row(5)...))
	assert.Equal(t, 2, b.Head)
	assert.Equal(t, []int{2, 1, 0, 1, 2}, b.Hops)
	assert.Equal(t, []Cut{{1, []int{0}}, {2, []int{3, 4}}, {3, []int{4}}}, b.Cuts)

	apart := NewBackbone(short(10), level("s", 0, append(row(3), geom.Pt(50, 0), geom.Pt(59, 0))...))
	assert.Equal(t, [][]int{{0, 1, 2}, {3, 4}}, apart.Parts, "the largest first")
	assert.Equal(t, -1, apart.Hops[3])

	one := NewBackbone(short(10), level("s", 0, geom.Pt(0, 0)))
	assert.Empty(t, one.Parts)
	assert.Equal(t, -1, one.Head)
}

// A storey with many gates must come to the same as if each pair were looked at.
func TestBackbone_manyGates(t *testing.T) {
	for _, clusters := range []float64{6, 40} { // all in reach, and crowds of 40 that only one way joins
		var at []geom.Point
		for i := range 160 {
			at = append(at, geom.Pt(clusters*float64(i/40)+math.Mod(float64(i)*0.37, 5), math.Mod(float64(i)*1.3, 7)))
		}
		b := NewBackbone(short(38), level("s", 0, at...))
		want := 0
		for i := range at {
			for j := range i {
				if at[i].Distance(at[j]) <= 38 {
					want++
				}
			}
		}
		require.Positive(t, want)
		assert.Len(t, b.Parts, 1)
		assert.Empty(t, b.Cuts)
		assert.LessOrEqual(t, b.Farthest(), 5)
	}
}

func BenchmarkBackbone(b *testing.B) {
	obstacles, places := storey(2000, 300)
	plan := &domain.Plan{}
	for i, o := range obstacles {
		plan.Walls = append(plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint(i)), A: o.A, B: o.B, Kind: domain.FullWall, Material: domain.StudWall})
	}
	p := domaintest.Project(units.SI)
	for _, n := range []int{10, 50, 300} {
		var at []geom.Point
		for i := range n {
			at = append(at, places[i].At)
		}
		l := level("s", 0, at...)
		l.Plan = plan
		b.Run(fmt.Sprint(n, " gateways, 2000 walls"), func(b *testing.B) {
			for b.Loop() {
				NewBackbone(p, l)
			}
		})
	}
}
