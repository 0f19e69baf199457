package plan

import (
	"html"
	"strings"

	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// The parts of an overlay are drawn in meters, y up the sheet; the page's script
// puts them in their place. What cells mean is told by hatches, which the page
// holds (overlay.templ), never by color alone.
type hatch string

const (
	hatchBad  hatch = "bad"  // crossed lines
	hatchFair hatch = "fair" // slanted lines
	hatchOne  hatch = "one"  // level lines
	hatchGood hatch = "good" // dots
	hatchLeak hatch = "leak" // lines slanted the other way

	// Daylight zones.
	hatchPrimary   hatch = "primary"   // slanted lines
	hatchSecondary hatch = "secondary" // slanted the other way, broken
	hatchToplit    hatch = "toplit"    // rings

	// Daylight factors: the more light, the more ink is in the hatch.
	hatchDim  hatch = "dim"  // few dots
	hatchSome hatch = "some" // level lines, far apart
	hatchDay  hatch = "day"  // a grid
	hatchMuch hatch = "much" // a close grid with dots
)

// meters writes a coordinate to the millimeter.
func meters(v float64) string { return units.Trim(v, 3) }

// markup builds SVG. Text and IDs are quoted here, so that no caller forgets.
type markup struct{ strings.Builder }

func (m *markup) raw(parts ...string) {
	for _, p := range parts {
		m.WriteString(p)
	}
}

func (m *markup) attr(name, value string) { m.raw(" ", name, `="`, html.EscapeString(value), `"`) }

// area writes a filled shape with its hatch.
func (m *markup) area(h hatch, d string) {
	if d != "" {
		m.raw(`<path class="o-area o-`, string(h), `" fill="url(#hatch-`, string(h), `-plan)" d="`, d, `"/>`)
	}
}

// note writes text upright at a place, its lines beneath each other.
func (m *markup) note(class string, at geom.Point, text string) {
	m.raw(`<text class="`, class, `" transform="translate(`, meters(at.X), " ", meters(at.Y), `) scale(1 -1)">`, html.EscapeString(text), `</text>`)
}

// group gives the markup as the one part of a room.
func (m *markup) group(id string) *group {
	var out markup
	out.raw("<g")
	out.attr("id", id)
	out.raw(">", m.String(), "</g>")
	return &group{{id, out.String()}}
}

// boxPath adds an upright rectangle to a path.
func boxPath(b *strings.Builder, box geom.Box) {
	for _, s := range []string{"M", meters(box.Min.X), " ", meters(box.Min.Y), "H", meters(box.Max.X), "V", meters(box.Max.Y), "H", meters(box.Min.X), "z"} {
		b.WriteString(s)
	}
}

// ringPath gives a polygon as a path.
func ringPath(p geom.Polygon) string {
	var b strings.Builder
	for _, ring := range p.Rings() {
		for i, at := range ring {
			b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0])
			b.WriteString(meters(at.X) + " " + meters(at.Y))
		}
		b.WriteString("z")
	}
	return b.String()
}

// cellPaths joins the cells of each level to rectangles: runs of a row, joined
// with like runs of the rows above, and gives one path a level. level gives -1
// for a cell that is not drawn. Cells go no farther than an upper right corner.
func cellPaths(origin, end geom.Point, step float64, columns, rows, levels int, level func(column, row int) int) []string {
	type run struct{ from, to, level, since int }
	paths := make([]strings.Builder, levels)
	shut := func(r run, row int) {
		low := geom.Pt(origin.X+float64(r.from)*step, origin.Y+float64(r.since)*step)
		boxPath(&paths[r.level], geom.Box{Min: low, Max: geom.Pt(min(end.X, origin.X+float64(r.to)*step), min(end.Y, origin.Y+float64(row)*step))})
	}
	var above, here []run
	for row := range rows + 1 {
		here = here[:0]
		for column := 0; row < rows && column < columns; {
			one, from := level(column, row), column
			for column < columns && level(column, row) == one {
				column++
			}
			if one >= 0 {
				here = append(here, run{from, column, one, row})
			}
		}
		next := 0
		for _, r := range above {
			for next < len(here) && here[next].from < r.from {
				next++
			}
			if next < len(here) && here[next].from == r.from && here[next].to == r.to && here[next].level == r.level {
				here[next].since = r.since
			} else {
				shut(r, row)
			}
		}
		above, here = here, above
	}
	out := make([]string, levels)
	for i := range paths {
		out[i] = paths[i].String()
	}
	return out
}
