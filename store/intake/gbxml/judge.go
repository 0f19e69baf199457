package gbxml

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// Plans narrower or wider than these, in meters, were not meant in their unit.
const (
	smallestPlan = 2.0
	largestPlan  = 2000.0
)

// judgeUnit says how sure the unit is, with the extents that make a person see
// whether it is right.
func (d *document) judgeUnit(all []*placed) building.Unit {
	u := d.unit
	var corners []geom.Point
	var heights []float64
	for _, p := range all {
		if p.known {
			box := p.space.Outline.Bounds()
			corners = append(corners, box.Min, box.Max)
			if h := float64(p.space.Ceiling - p.space.Floor); h > 0 {
				heights = append(heights, h)
			}
		}
	}
	box, any := geom.BoundsOf(corners...)
	longer := math.Max(box.Width(), box.Height())
	switch {
	case d.opt.Unit.Metres > 0:
		return u
	case !u.Sure:
		u.Note = "The drawing names no unit."
		if d.unitGiven != "" {
			u.Note = fmt.Sprintf("The file's unit %q is not known.", d.unitGiven)
		}
		if any {
			u.Note += " " + sizes(box, u.Metres, heights)
		}
	case any && (longer < smallestPlan || longer > largestPlan):
		u.Sure = false
		u.Note = fmt.Sprintf("The file is in %s, which makes the building %s. %s", u.Name, extent(box, 1, "m"), sizes(box, u.Metres, heights))
	}
	return u
}

// sizes offers units that make the building plausible, the one that makes rooms
// nearest to 3 m high first.
func sizes(box geom.Box, read float64, heights []float64) string {
	typical := 0.0
	if len(heights) > 0 {
		sort.Float64s(heights)
		typical = heights[len(heights)/2]
	}
	type choice struct {
		text string
		odd  float64
	}
	var choices []choice
	for _, c := range []struct{ name, unit string }{{"Feet", "ft"}, {"Inches", "ft"}, {"Meters", "m"}, {"Centimeters", "m"}, {"Millimeters", "m"}} {
		scale := lengths[c.name] / read
		longer := math.Max(box.Width(), box.Height()) * scale
		if longer < smallestPlan || longer > largestPlan {
			continue
		}
		printed := scale
		if c.unit == "ft" {
			printed = scale / lengths["Feet"]
		}
		odd := 0.0
		if typical > 0 {
			odd = math.Abs(math.Log(typical * scale / 3))
		}
		choices = append(choices, choice{extent(box, printed, c.unit) + " if " + strings.ToLower(c.name), odd})
	}
	if len(choices) == 0 {
		return "No usual unit makes that a building."
	}
	sort.SliceStable(choices, func(i, j int) bool { return choices[i].odd < choices[j].odd })
	var texts []string
	for _, c := range choices {
		texts = append(texts, c.text)
	}
	return "It would be " + strings.Join(texts, ", ") + ". Which?"
}

func extent(box geom.Box, scale float64, unit string) string {
	format := "%.2f %s x %.2f %s"
	if math.Min(box.Width(), box.Height())*scale >= 20 {
		format = "%.0f %s x %.0f %s"
	}
	return fmt.Sprintf(format, box.Width()*scale, unit, box.Height()*scale, unit)
}
