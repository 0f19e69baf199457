package daylight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	assert.Equal(t, []PlaceFault{TooNear}, at(1.219))
	assert.Empty(t, at(1.2192))
	assert.Empty(t, at(2.4384))
	assert.Equal(t, []PlaceFault{TooFar}, at(2.4385))
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
	assert.Empty(t, judge(4, 90, geom.Pt(5, 5.523)))
	assert.Empty(t, judge(4, 90, geom.Pt(5, 5.524)))
	assert.Equal(t, []PlaceFault{NoTask}, judge(4, 90, geom.Pt(5, 5.5241), geom.Pt(0, 0)))
}

// One zone for 3 m or so of depth, one facade a sensor: common practice, no
// published source.
func TestJudgeLoads(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}}
	s.Windows[0].Glass = pane068
	lim := UsualPlaceLimits()
	for to, want := range map[float64][]PlaceFault{4.047: nil, 4.048: nil, 4.0481: {DeepRow}} {
		s.Luminaires = []Luminaire{{Load: "a", At: geom.Pt(5, 1)}, {Load: "b", At: geom.Pt(5, to)}, {Load: "c", At: geom.Pt(5, 8)}}
		assert.Equal(t, want, kinds(lit(t, &s).JudgeLoads([]domain.ID{"a", "b", "gone"}, &lim)), "to %g m", to)
	}
	s.Windows = append(s.Windows, Window{A: geom.Pt(12, 4), B: geom.Pt(12, 7), Sill: 0.9, Head: 2.4, Glass: pane068})
	s.Luminaires = []Luminaire{{Load: "a", At: geom.Pt(5, 1)}, {Load: "b", At: geom.Pt(11, 5)}}
	assert.Empty(t, lit(t, &s).JudgeLoads([]domain.ID{"a"}, &lim))
	assert.Equal(t, []PlaceFault{TwoFacades}, kinds(lit(t, &s).JudgeLoads([]domain.ID{"a", "b"}, &lim)))
}

// A closed loop takes its loads as one zone and hangs over it, an open loop is set for
// each of them: common practice, no published source. Luminaires hang 1 to 3 m and 3.5
// to 5 m from the glass; 5 ft are 1.524 m.
func TestJudgeSensor_zones(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}}
	s.Windows[0].Glass = pane068
	lim := UsualPlaceLimits()
	s.Luminaires = []Luminaire{{Load: "a", At: geom.Pt(4, 1)}, {Load: "a", At: geom.Pt(7, 3)}, {Load: "b", At: geom.Pt(4, 3.5)}, {Load: "b", At: geom.Pt(7, 5)}}
	l := lit(t, &s)
	closed := func(x, y float64, loads ...domain.ID) []PlaceFault {
		return kinds(l.JudgeSensor(&Sensor{At: geom.Pt(x, y), Height: 3, Loop: domain.ClosedLoop, View: 30}, nil, loads, &lim))
	}
	for x, want := range map[float64][]PlaceFault{8: nil, 8.523: nil, 8.524: nil, 8.5241: {ApartZone}} {
		assert.Equal(t, want, closed(x, 3, "a"), "%g", x)
	}
	for y, want := range map[float64][]PlaceFault{4.523: nil, 4.5241: {ApartZone}} {
		assert.Equal(t, want, closed(5, y, "a"), "%g", y)
	}
	assert.Empty(t, closed(11, 8, "gone"), "luminaires that are not on the plan")
	assert.Equal(t, []PlaceFault{DeepRow}, closed(5, 3, "a", "b"), "4 m together")
	open := l.JudgeSensor(&Sensor{At: geom.Pt(5.5, 1.8), Height: 3}, nil, []domain.ID{"a", "b"}, &lim)
	assert.Empty(t, kinds(open))
	s.Luminaires[3].At.Y = 7
	open = lit(t, &s).JudgeSensor(&Sensor{At: geom.Pt(5.5, 1.8), Height: 3}, nil, []domain.ID{"a", "b"}, &lim)
	require.Len(t, open, 1)
	assert.Equal(t, Fault{Kind: DeepRow, Measured: 3.5, Limit: 3.048, Unit: "m", Window: -1, Load: "b"}, open[0])
}

func TestPlaceLimitsOf_theGenericOnes(t *testing.T) {
	assert.Equal(t, UsualPlaceLimits(), PlaceLimitsOf(&domain.Project{Limits: domain.GenericLimits()}))
	assert.Equal(t, UsualPlaceLimits(), PlaceLimitsOf(&domain.Project{}), "an older file has none of them")
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
