package drawing

import (
	"strconv"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Daylight is what a plan shows of a room's daylight beside what the plan itself
// holds. Places are in meters.
type Daylight struct {
	Zones    []DaylightZone
	Hung     []Hung // the room's luminaires by their outlines, in place of bars of one size
	Windows  []WindowNote
	Contours []Contour
	Values   []Value
	Step     units.Metres // between values, along x and y
}

// ZoneKind is a kind of daylight zone, by which it is hatched.
type ZoneKind string

// The kinds.
const (
	PrimaryZone   ZoneKind = "primary"
	SecondaryZone ZoneKind = "secondary"
	ToplitZone    ZoneKind = "toplit"
)

// DaylightZone is a daylight zone with the lines that name it.
type DaylightZone struct {
	Kind  ZoneKind
	Parts []geom.Polygon
	Label []string
}

// Hanging is how a luminaire hangs to the zones.
type Hanging string

// The ways.
const (
	HangsIn     Hanging = "in"
	HangsAcross Hanging = "across" // an edge
	HangsOut    Hanging = "out"
)

// Hung is a luminaire by its outline.
type Hung struct {
	ID      domain.ID
	Outline []Point // four corners, the first two along its length
	How     Hanging
}

// WindowNote is what stands beside a window: its tag, and more where the window is long
// enough for it.
type WindowNote struct {
	A, B      Point // of the glass; the room lies to the left from A to B
	Tag, More string
}

// Contour is where a quantity has one value. Main ones are drawn strong.
type Contour struct {
	Label string
	Lines []geom.Segment
	Main  bool
}

// Value is a number at a point of a grid.
type Value struct {
	At          Point
	Column, Row int
	Text        string
}

// overviewOfDaylight says what an overview of daylight leaves out.
const overviewOfDaylight = "Overview: tags have no room at this scale; take larger paper to see them."

// layerDaylight holds hatches and contours: above the rooms, beneath the walls.
const layerDaylight Layer = "daylight"

// Sizes on paper, millimeters.
const (
	valueSize  = 1.6
	valueWide  = 5.0 // room that a value takes along x
	valueHigh  = 3.2
	noteSize   = 1.7
	hungSize   = 1.6
	zoneSize   = 2.0
	hungLeast  = 1.1 // a luminaire is drawn no narrower
	contourTag = 1.7

	contourThick = 0.5 // that numbers keep clear of
	glassDeep    = 0.4 // of the wall about glass, meters
)

// hatches are the angles and the spacing of the kinds' lines.
var hatches = map[ZoneKind]struct{ degrees, spacing float64 }{PrimaryZone: {45, 1.8}, SecondaryZone: {-45, 3.2}, ToplitZone: {0, 2.4}}

// daylightSample draws what a legend's entry explains; false for one of another kind.
func daylightSample(name string, at Point) ([]Shape, bool) {
	ring := rect(at.Add(Point{X: -3, Y: -1.4}), 6, 2.8)
	left, right := at.Add(Point{X: -3}), at.Add(Point{X: 3})
	switch name {
	case "zone-primary", "zone-secondary", "zone-toplit":
		h := hatches[ZoneKind(name[len("zone-"):])]
		return append(hatch([][]Point{ring}, h.degrees, h.spacing*0.7), Line{closed(ring), StyleZone}), true
	case "contour-main":
		return []Shape{Line{[]Point{left, right}, StyleContour}}, true
	case "contour":
		return []Shape{Line{[]Point{left, right}, StyleZone}}, true
	case "hangs-in", "hangs-across", "hangs-out":
		return hungShapes(rect(at.Add(Point{X: -2.6, Y: -0.6}), 5.2, 1.2), Hanging(name[len("hangs-"):])), true
	}
	return nil, false
}

// daylightLegend lists the entries that only plans of daylight have.
func daylightLegend() []LegendEntry {
	return []LegendEntry{
		{"zone-primary", "Primary daylight zone"}, {"zone-secondary", "Secondary daylight zone"}, {"zone-toplit", "Toplit daylight zone"},
		{"hangs-in", "Luminaire within a zone"}, {"hangs-across", "Luminaire across a zone's edge"}, {"hangs-out", "Luminaire in no zone"},
		{"contour-main", "2 % daylight factor"}, {"contour", "Other daylight factors"},
	}
}

// words lists what a plan of daylight says at any scale; values and more of windows
// print where they have room.
func (d *Daylight) words() (out []string) {
	for i := range d.Zones {
		out = append(out, d.Zones[i].Label...)
	}
	for i := range d.Windows {
		out = append(out, d.Windows[i].Tag)
	}
	for i := range d.Contours {
		if len(d.Contours[i].Lines) > 0 {
			out = append(out, d.Contours[i].Label)
		}
	}
	return out
}

// DaylightFactorText prints a daylight factor in percent as plans do: to a tenth, and
// whole from 10 on.
func DaylightFactorText(percent float64) string {
	if percent >= 9.95 {
		return strconv.FormatFloat(percent, 'f', 0, 64)
	}
	return strconv.FormatFloat(percent, 'f', 1, 64)
}
