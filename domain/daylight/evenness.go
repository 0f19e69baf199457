package daylight

import (
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Evenness is DepthRatio of a room with what it must not exceed.
type Evenness struct{ Ratio, Most float64 }

// Holds tells that the room is shallow enough for the mean by the formula to mean
// something.
func (e Evenness) Holds() bool { return units.AtMost(e.Ratio, e.Most) }

// Evenness gives the depth test of a room that windows of one side light: its depth from
// and width along the first one's glass, the highest head, and the mean reflectance of all
// surfaces for that of the back half. known is false where windows face several ways, or
// rooflights light the room too: the test is of neither.
func (l *Light) Evenness() (e Evenness, known bool) {
	if len(l.windows) == 0 || len(l.space.Rooflights) > 0 || len(l.space.Facades()) > 1 {
		return e, false
	}
	points := make([]geom.Point, len(l.space.Outline.Outer))
	for i, p := range l.space.Outline.Outer {
		points[i] = l.windows[0].in(p)
	}
	box, _ := geom.BoundsOf(points...)
	head := l.windows[0].head(l.space.Ceiling)
	for i := range l.windows {
		head = max(head, l.windows[i].head(l.space.Ceiling))
	}
	e.Ratio, e.Most = DepthRatio(units.Metres(box.Max.Y), units.Metres(box.Width()), head, l.surfaces.Reflectance)
	return e, true
}

// WhyMeansDiffer says why the mean of a grid and the mean by the formula of MeanFactor are
// not the same.
func (l *Light) WhyMeansDiffer() string {
	text := "the grid takes each point of the work plane, and those near the glass get most; the formula takes all light as spread evenly over the room's surfaces"
	switch e, known := l.Evenness(); {
	case !known:
		return text
	case e.Holds():
		return text + ", which nearly holds in a room as shallow as this: depth over width plus depth over head " + units.Trim(e.Ratio, 2) + ", at most " + units.Trim(e.Most, 2)
	default:
		return text + ", which does not hold in a room as deep as this: depth over width plus depth over head " + units.Trim(e.Ratio, 2) + ", at most " + units.Trim(e.Most, 2)
	}
}
