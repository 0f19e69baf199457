package daylight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	. "scopewright/domain/daylight"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

func kinds(faults []Fault) (out []PlaceFault) {
	for _, f := range faults {
		out = append(out, f.Kind)
	}
	return out
}

// Each limit from below, at and above. The limits are common practice, no published
// source: an open loop about 1.8 m from the glass that faces it, no lamps in view; a
// closed one over a task, no glass in view.
func TestJudge_open(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}}
	lim := UsualPlaceLimits()
	south := 270.0
	at := func(y float64) []PlaceFault {
		return kinds(s.Judge(&Sensor{At: geom.Pt(5, y), Height: 3, Loop: domain.OpenLoop, Facing: &south}, nil, &lim))
	}
	assert.Empty(t, at(1.8288))
	assert.Equal(t, []PlaceFault{TooNear}, at(1.199))
	assert.Empty(t, at(1.2))
	assert.Empty(t, at(2.4))
	assert.Equal(t, []PlaceFault{TooFar}, at(2.401))
	assert.Equal(t, []PlaceFault{NoGlass}, at(-1))
	for turn, want := range map[float64][]PlaceFault{270: nil, 314.9: nil, 315: nil, 315.1: {FacesAway}, 90: {FacesAway}} {
		got := kinds(s.Judge(&Sensor{At: geom.Pt(5, 1.8), Height: 3, Facing: &turn}, nil, &lim))
		assert.Equal(t, want, got, "%g degrees", turn)
	}
	assert.Empty(t, s.Judge(&Sensor{At: geom.Pt(5, 1.8), Height: 3}, nil, &lim), "no direction stated")
	s.Luminaires = []Luminaire{{At: geom.Pt(5, 1)}}
	assert.Equal(t, []PlaceFault{LampsInView}, at(1.8288))
	s.Luminaires[0].At.Y = 3
	assert.Empty(t, at(1.8288))
	s.Obstructions = []Obstruction{screen(0, 1, 12, 1, 3)}
	assert.Equal(t, []PlaceFault{NoGlass}, at(1.8288))
}

func TestJudge_closed(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}}
	lim := UsualPlaceLimits()
	// The sill is 2.1 m under the sensor: at 2.1 m from the glass it is seen at 45
	// degrees from straight down, the edge of a view of 90.
	judge := func(y, view float64, tasks ...geom.Point) []PlaceFault {
		return kinds(s.Judge(&Sensor{At: geom.Pt(5, y), Height: 3, Loop: domain.ClosedLoop, View: view}, tasks, &lim))
	}
	assert.Equal(t, []PlaceFault{GlassInView}, judge(2.099, 90))
	assert.Empty(t, judge(2.1001, 90))
	assert.Empty(t, judge(2.2, 90))
	assert.Equal(t, []PlaceFault{GlassInView}, judge(1.2, 0), "29.7 degrees in the assumed view of 60")
	assert.Empty(t, judge(1.22, 0), "30.2 degrees")
	assert.Empty(t, judge(4, 90, geom.Pt(5, 5.499)))
	assert.Empty(t, judge(4, 90, geom.Pt(5, 5.5)))
	assert.Equal(t, []PlaceFault{NoTask}, judge(4, 90, geom.Pt(5, 5.501), geom.Pt(0, 0)))
}

// One zone for 3 m or so of depth, one facade a sensor: common practice, no
// published source.
func TestJudgeLoads(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}}
	s.Windows[0].Glass = pane068
	lim := UsualPlaceLimits()
	for to, want := range map[float64][]PlaceFault{3.999: nil, 4: nil, 4.001: {DeepRow}} {
		s.Luminaires = []Luminaire{{Load: "a", At: geom.Pt(5, 1)}, {Load: "b", At: geom.Pt(5, to)}, {Load: "c", At: geom.Pt(5, 8)}}
		assert.Equal(t, want, kinds(lit(t, &s).JudgeLoads([]domain.ID{"a", "b", "gone"}, &lim)), "to %g m", to)
	}
	s.Windows = append(s.Windows, Window{A: geom.Pt(12, 4), B: geom.Pt(12, 7), Sill: 0.9, Head: 2.4, Glass: pane068})
	s.Luminaires = []Luminaire{{Load: "a", At: geom.Pt(5, 1)}, {Load: "b", At: geom.Pt(11, 5)}}
	assert.Empty(t, lit(t, &s).JudgeLoads([]domain.ID{"a"}, &lim))
	assert.Equal(t, []PlaceFault{TwoFacades}, kinds(lit(t, &s).JudgeLoads([]domain.ID{"a", "b"}, &lim)))
}

// Deeper than three times the height the split flux method is far off (EnergyPlus
// Engineering Reference).
func TestDoubts(t *testing.T) {
	for ceiling, want := range map[units.Metres][]Doubt{3.001: nil, 3: nil, 2.99: {DeepRoom}} {
		s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: ceiling, Windows: []Window{southWindow(4, 7, 2.4)}}
		assert.Equal(t, want, lit(t, &s).Doubts(), "%g m", ceiling)
	}
	s := Space{Outline: geom.Polygon{Outer: []geom.Point{{}, {X: 6}, {X: 6, Y: 3}, {X: 3, Y: 3}, {X: 3, Y: 6}, {Y: 6}}}, Ceiling: 3, Windows: []Window{southWindow(1, 5, 2.4)}, Obstructions: []Obstruction{screen(1, 1, 2, 1, 1.2)}}
	s.Windows[0].Assumed = true
	assert.Equal(t, []Doubt{Partitioned, InnerCorners, HeightsAssumed}, lit(t, &s).Doubts())
}

func TestZoneRules_validate(t *testing.T) {
	for _, c := range ZoneCodes() {
		assert.NoError(t, c.Rules.Validate(), c.ID)
		assert.NotEmpty(t, c.Basis)
	}
	for depth, ok := range map[float64]bool{0.09: false, 0.1: true, 5: true, 5.1: false} {
		assert.Equal(t, ok, (&ZoneRules{Depth: depth}).Validate() == nil, "%g", depth)
	}
	assert.ErrorContains(t, (&ZoneRules{Depth: 1, Side: -1}).Validate(), "side extension of -1")
}
