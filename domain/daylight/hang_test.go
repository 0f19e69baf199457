package daylight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	. "scopewright/domain/daylight"
	"scopewright/domain/geom"
)

// Head 2.4 m: the primary zone is 2.4 m deep, the secondary one to 4.8 m (90.1
// section 3.2, adopted code text). Luminaires of 0.6 by 0.6 m, counted by hand.
func TestHang_countsLuminairesByZone(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}}
	lamp := func(load domain.ID, y float64) Luminaire {
		return Luminaire{Load: load, At: geom.Pt(5, y), Length: 0.6, Width: 0.6}
	}
	list := []Luminaire{lamp("b", 2.5), lamp("a", 1), lamp("b", 4), lamp("b", 4.2), lamp("a", 8), lamp("c", 8)}
	rules, z := rulesOf(t, ashrae2013), zonesOf(t, ashrae2013, &s)
	assert.Equal(t, []Hung{{Load: "b", Primary: 1, Secondary: 2}, {Load: "a", Primary: 1, Apart: 1}, {Load: "c", Apart: 1}}, rules.Hang(&z, list))
	z = zonesOf(t, california, &s) // half of it must hang there, from memory
	assert.Equal(t, Hung{Load: "b", Secondary: 3}, rulesOf(t, california).Hang(&z, list)[0])

	h := Hung{Primary: 1, Secondary: 2}
	assert.Equal(t, domain.ZoneSecondary, h.Most())
	assert.Equal(t, domain.ZoneWindow, (&Hung{Primary: 2, Secondary: 2}).Most())
	assert.Equal(t, domain.ZoneRoof, (&Hung{Toplit: 1, Apart: 1}).Most())
	assert.Equal(t, domain.ZoneNone, (&Hung{Apart: 1}).Most())
	assert.Equal(t, 2, h.In(domain.ZoneSecondary))
	assert.Zero(t, h.In(domain.ZoneNone))
}

func TestKnows(t *testing.T) {
	assert.True(t, rulesOf(t, ashrae2013).Knows(domain.ZoneSecondary))
	assert.False(t, rulesOf(t, iecc2018).Knows(domain.ZoneSecondary), "IECC 2018 draws none (from memory)")
	assert.True(t, rulesOf(t, iecc2018).Knows(domain.ZoneNone))
}

// A partition of 1.6 m at 1.8 m cuts by 90.1 (from 1.524 m: adopted code text) and
// not by California's rules (1.83 m, from memory). What stands behind it, and what
// stands far off, cuts nothing of its own; two in one line cut both.
func TestCutting_namesWhatCuts(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}}
	cutting := func(code string, list ...Obstruction) []int {
		s.Obstructions = list
		z := zonesOf(t, code, &s)
		out, err := rulesOf(t, code).Cutting(&s, &z)
		require.NoError(t, err)
		return out
	}
	near, far, low := screen(0, 1.8, 12, 1.8, 1.6), screen(0, 8, 12, 8, 1.6), screen(0, 1, 12, 1, 1.2)
	assert.Equal(t, []int{1}, cutting(ashrae2013, far, near, low))
	assert.Empty(t, cutting(california, far, near, low))
	assert.Equal(t, []int{0, 1}, cutting(ashrae2013, near, near))
	assert.Empty(t, cutting(ashrae2013))
}
