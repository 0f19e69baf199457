package daylight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "scopewright/domain/daylight"
	"scopewright/domain/geom"
)

// Under an overcast sky a point's year is its daylight factor times the sky: the
// published-formula path of TestYear, taken through a room. The factor at 2 m of room
// A is 4.7554 % of sky (integral apart from this program) and what split flux adds.
func TestIndoors_overcastIsTheFactor(t *testing.T) {
	y := NewYear(plains, 2025, OfficeHours())
	s := roomA(pane068)
	l := lit(t, &s)
	p := geom.Pt(2, 2)
	n := Need{Factor: 4.7554 + l.Reflected(), Set: 500, Lamps: Dimming{LeastLight: 0.1, LeastPower: 0.2}}
	want := y.Level(Always(Overcast)).Saved(&n)
	n.Factor = 100
	got := y.In(l, Always(Overcast)).At(p).Saved(&n)
	assert.InDelta(t, want.Light, got.Light, 1e-5)
	assert.InDelta(t, want.Power, got.Power, 1e-5)
	assert.InDelta(t, want.Enough, got.Enough, 0.001)
}

// Two facades and a rooflight add up to the whole factor; a load's year is that of
// the mean under its luminaires.
func TestIndoors_partsAddUp(t *testing.T) {
	y := NewYear(plains, 2025, OfficeHours())
	s := roomA(pane068)
	s.Windows = append(s.Windows, Window{A: geom.Pt(4, 1), B: geom.Pt(4, 4), Sill: 1, Head: 2.5, Glass: pane068, Outside: Outside{Altitude: 15}})
	s.Rooflights = []Rooflight{{At: geom.Pt(1, 5), Width: 0.8, Length: 0.8, Glass: pane068}}
	s.Luminaires = []Luminaire{{Load: "l1", At: geom.Pt(1, 2)}, {Load: "l1", At: geom.Pt(3, 5)}, {Load: "l2", At: geom.Pt(2, 3)}}
	l := lit(t, &s)
	in := y.In(l, Always(Overcast))
	n := Need{Set: 1e5, Lamps: Dimming{}}
	saved := func(o Outdoors, factor float64) float64 { n.Factor = factor; return o.Saved(&n).Light }
	p := geom.Pt(2, 3)
	assert.InDelta(t, saved(y.Level(Always(Overcast)), l.At(p).Total()), saved(in.At(p), 100), 1e-9)
	under, known := in.Under("l1")
	require.True(t, known)
	assert.InDelta(t, saved(y.Level(Always(Overcast)), l.Under("l1").Mean), saved(under, 100), 1e-9)
	assert.Equal(t, 2, l.Under("l1").Points)
	_, known = in.Under("l9")
	assert.False(t, known)
	assert.Zero(t, l.Under("l9").Points)
}

// On clear days the light comes from the side that the sun is on: the east window
// of a room helps in the morning, the west one after noon; over ten hours of which
// six lie after noon the west is ahead. No published value.
func TestIndoors_orientation(t *testing.T) {
	y := NewYear(plains, 2025, OfficeHours())
	s := roomA(pane068)
	n := Need{Factor: 100, Set: 500, Lamps: Dimming{LeastLight: 0.1, LeastPower: 0.2}}
	power := func(north float64) float64 {
		s.North = north
		return y.In(lit(t, &s), Always(Clear)).At(geom.Pt(2, 3)).Saved(&n).Power
	}
	south, west, northward, east := power(0), power(-90), power(180), power(90)
	assert.Less(t, south, west)
	assert.Less(t, west, east)
	assert.Less(t, east, northward)
}
