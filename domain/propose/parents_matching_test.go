package propose

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The worked case: two routers of two, costs a 60/72, b 61/63, c 62/80, d 75/66.
// The best is a and c to A, b and d to B: 251, worst link 66; taking each in turn
// gives 267. Found apart by trying all.
func TestPairing_workedCosts(t *testing.T) {
	p := pairing{capacity: []int{2, 2}}
	for _, costs := range [][2]float64{{60, 72}, {61, 63}, {62, 80}, {75, 66}} {
		p.choices = append(p.choices, []choice{{router: 0, loss: costs[0]}, {router: 1, loss: costs[1]}})
	}
	got := p.evenly()
	assert.Equal(t, []int{0, 1, 0, 1}, got)
	placed, total, worst := p.sum(got)
	assert.Equal(t, 4, placed)
	assert.InDelta(t, 251, total.loss, 1e-9)
	assert.InDelta(t, 66, worst, 1e-9)
}

// Two children of two routers with room for one each, whose sums are the same both
// ways: 60 + 80 and 70 + 70. The better worst link is taken.
func TestPairing_ofEqualSumsTheBetterWorstLink(t *testing.T) {
	p := pairing{capacity: []int{1, 1}, choices: [][]choice{{{router: 0, loss: 60}, {router: 1, loss: 70}}, {{router: 0, loss: 70}, {router: 1, loss: 80}}}}
	assert.Equal(t, []int{1, 0}, p.evenly())
	assert.Equal(t, []int{-1, -1}, (&pairing{capacity: []int{0}, choices: [][]choice{{{router: 0}}, nil}}).evenly())
}

// Cases of reach, each agreed between flow and the Hall sets, computed apart: who
// hears A, B or C at a number each.
func TestPairing_workedReach(t *testing.T) {
	type group struct {
		n     int
		hears string
	}
	for _, c := range []struct {
		each   int
		groups []group
		placed int
	}{
		{6, []group{{7, "A"}, {1, "AB"}, {1, "B"}}, 8},
		{6, []group{{4, "A"}, {6, "AB"}, {2, "B"}}, 12},
		{6, []group{{13, "AB"}}, 12},
		{2, []group{{2, "A"}, {2, "AB"}, {2, "BC"}, {1, "C"}}, 6},
	} {
		p := pairing{capacity: []int{c.each, c.each, c.each}}
		for _, g := range c.groups {
			var list []choice
			for _, r := range g.hears {
				list = append(list, choice{router: int(r - 'A')})
			}
			for range g.n {
				p.choices = append(p.choices, list)
			}
		}
		placed, _, _ := p.sum(p.evenly())
		assert.Equal(t, c.placed, placed, "%+v", c)
	}
}
