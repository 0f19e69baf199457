package propose_test

import (
	"math"
	"math/bits"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	. "scopewright/domain/propose"
)

func setOf(elements ...int) []uint64 {
	var w uint64
	for _, e := range elements {
		w |= 1 << e
	}
	return []uint64{w}
}

// A known trap: taking the largest gain each time uses three sets where two do.
func TestCover_greedyTrap(t *testing.T) {
	a := func(n int) int { return n - 1 }
	b := func(n int) int { return n + 6 }
	p := CoverProblem{Must: []uint64{1<<14 - 1}, Sets: [][]uint64{
		setOf(a(1), a(2), a(3), a(4), b(1), b(2), b(3), b(4)), setOf(a(5), a(6), b(5), b(6)), setOf(a(7), b(7)),
		setOf(a(1), a(2), a(3), a(4), a(5), a(6), a(7)), setOf(b(1), b(2), b(3), b(4), b(5), b(6), b(7)),
	}}
	got := p.Solve()
	assert.ElementsMatch(t, []int{3, 4}, got.Chosen)
	assert.True(t, got.Proved)
	assert.Equal(t, 2, got.Bound)
	p.Nodes = 1
	short := p.Solve()
	assert.Len(t, short.Chosen, 3, "cut short, the search keeps the largest gains")
	assert.False(t, short.Proved)
	assert.Equal(t, 2, short.Bound, "ceil(14/8): three are not proved to be the fewest")
}

// Eight seats in a room of 12 by 6 m, sensors on a grid of 1 m that reach 2.2 m:
// the fewest are two, at (3, 3) and (9, 3), and no other two.
func TestCover_geometricTrap(t *testing.T) {
	type point struct{ x, y float64 }
	var seats, sites []point
	for _, x := range []float64{1.5, 4.5, 7.5, 10.5} {
		for _, y := range []float64{1.5, 4.5} {
			seats = append(seats, point{x, y})
		}
	}
	for y := 1.0; y <= 5; y++ {
		for _, x := range []float64{6, 5, 7, 4, 8, 3, 9, 2, 10, 1, 11} { // ties from the middle lead astray
			sites = append(sites, point{x, y})
		}
	}
	p := CoverProblem{Must: []uint64{1<<len(seats) - 1}}
	for _, s := range sites {
		var w uint64
		for i, q := range seats {
			if math.Hypot(s.x-q.x, s.y-q.y) <= 2.2 {
				w |= 1 << i
			}
		}
		p.Sets = append(p.Sets, []uint64{w})
	}
	got := p.Solve()
	assert.Len(t, got.Chosen, 2)
	for _, i := range got.Chosen {
		assert.Contains(t, []point{{3, 3}, {9, 3}}, sites[i])
	}
	assert.True(t, got.Proved)
}

func TestHarmonic(t *testing.T) {
	for m, want := range map[int]float64{2: 1.5, 4: 2.0833, 5: 2.2833, 8: 2.7179, 10: 2.9290, 14: 3.2516, 20: 3.5977, 50: 4.4992, 100: 5.1874} {
		assert.InDelta(t, want, Harmonic(m), 0.00005)
	}
}

// Against trying all choices: the fewest where it says so, never below the bound,
// and all that can be covered is.
func TestCover_againstAllChoices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "sets")
		p := CoverProblem{Share: rapid.SampledFrom([]float64{0, 0.5, 0.95, 1}).Draw(t, "share"),
			Must: []uint64{uint64(rapid.IntRange(0, 1023).Draw(t, "must"))}, Should: []uint64{uint64(rapid.IntRange(0, 1023).Draw(t, "should"))}}
		for range n {
			p.Sets = append(p.Sets, []uint64{uint64(rapid.IntRange(0, 1023).Draw(t, "set"))})
		}
		p.Nodes = rapid.SampledFrom([]int{0, 1, 3}).Draw(t, "nodes")
		got := p.Solve()
		covered := func(choice int) (must, should int) {
			var w uint64
			for i := range n {
				if choice>>i&1 != 0 {
					w |= p.Sets[i][0]
				}
			}
			return bits.OnesCount64(w & p.Must[0]), bits.OnesCount64(w & p.Should[0])
		}
		allMust, allShould := covered(1<<n - 1)
		need := min(allShould, int(math.Ceil(p.Share*float64(bits.OnesCount64(p.Should[0]))-1e-9)))
		fewest := n + 1
		for choice := range 1 << n {
			if m, s := covered(choice); m == allMust && s >= need {
				fewest = min(fewest, bits.OnesCount(uint(choice)))
			}
		}
		mine := 0
		for _, i := range got.Chosen {
			mine |= 1 << i
		}
		if m, s := covered(mine); m != allMust || s < need {
			t.Fatalf("covers %d of %d and %d of %d", m, allMust, s, need)
		}
		if got.Bound > fewest || len(got.Chosen) < fewest || got.Proved && len(got.Chosen) != fewest {
			t.Fatalf("%d sets, bound %d, proved %v; fewest are %d", len(got.Chosen), got.Bound, got.Proved, fewest)
		}
		if got.Missed != bits.OnesCount64(p.Must[0])-allMust {
			t.Fatalf("missed %d", got.Missed)
		}
	})
}
