package daylight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	. "scopewright/domain/daylight"
	"scopewright/domain/geom"
)

// Lynes's test by hand (BS 8206-2, from memory): 6 m deep, 4 m wide, head at 2.7 m:
// 6/4 + 6/2.7 = 3.7222; surfaces of a mean reflectance of 0.457778: 2/(1 - 0.457778) =
// 3.6885.
func TestEvenness(t *testing.T) {
	s := roomA(pane068)
	l := lit(t, &s)
	e, known := l.Evenness()
	assert.True(t, known)
	assert.InDelta(t, 3.7222, e.Ratio, 0.00005)
	assert.InDelta(t, 3.6885, e.Most, 0.00005)
	assert.Contains(t, l.WhyMeansDiffer(), "does not hold in a room as deep as this: depth over width plus depth over head 3.72, at most 3.69")

	s.Outline = geom.Rectangle(0, 0, 4, 3)
	l = lit(t, &s)
	e, _ = l.Evenness()
	assert.InDelta(t, 3./4+3/2.7, e.Ratio, 0.00005)
	assert.Contains(t, l.WhyMeansDiffer(), "nearly holds in a room as shallow as this")
	for ratio, holds := range map[float64]bool{3.99: true, 4: true, 4.01: false} {
		assert.Equal(t, holds, Evenness{ratio, 4}.Holds(), "%g", ratio)
	}
}

// A room with windows on two sides, or with rooflights, has no one depth.
func TestEvenness_ofNoOneSide(t *testing.T) {
	two, top, none := roomA(pane068), roomA(pane068), roomA(pane068)
	two.Windows = append(two.Windows, Window{ID: "w", A: geom.Pt(4, 1), B: geom.Pt(4, 3), Sill: 0.9, Head: 2.1, Glass: pane068})
	top.Rooflights = []Rooflight{{ID: "r", At: geom.Pt(2, 3), Width: 1, Length: 1, Glass: pane068}}
	none.Windows = nil
	for name, s := range map[string]Space{"two sides": two, "rooflight": top, "none": none} {
		l := lit(t, &s)
		_, known := l.Evenness()
		assert.False(t, known, name)
		assert.NotContains(t, l.WhyMeansDiffer(), "depth over", name)
	}
}
