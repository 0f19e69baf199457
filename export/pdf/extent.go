package pdf

import (
	"math"

	"scopewright/export/sheet"
)

// extent is what a column asks for, in thousandths of the type size.
type extent struct {
	word, line           int // widest unbreakable piece and widest line of the cells
	titleWord, titleLine int
}

// measure reads the extents of all columns once; every size and split is tried on them.
func measure(t typeface, g grid) []extent {
	out := make([]extent, len(g.columns))
	for i, c := range g.columns {
		if !g.headed {
			continue
		}
		scale := g.titleScale()
		out[i].titleWord = int(scale * float64(max(t.widestWord(c.title, bold), t.widestWord(c.unit, regular))))
		out[i].titleLine = int(scale * float64(max(t.widestLine(c.title, bold), t.widestLine(c.unit, regular))))
	}
	for _, r := range g.rows {
		if r.group {
			continue
		}
		for i, c := range r.cells {
			mark := c.markUnits(t)
			for _, s := range c.spans {
				scale := s.size(1)
				word := mark + int(scale*float64(t.widestWord(s.text, s.cellFace(r))))
				line := mark + int(scale*float64(t.widestLine(s.text, s.cellFace(r))))
				if line <= shortValue || i == 0 && line <= shortName {
					word = line
				}
				out[i].word, out[i].line = max(out[i].word, word), max(out[i].line, line)
			}
		}
	}
	return out
}

func (g grid) titleScale() float64 { return g.style.headSize / g.style.size }

// cellFace is bold in the total row, whatever the span says.
func (s span) cellFace(r row) face {
	if r.total || r.group {
		return bold
	}
	return s.face
}

// least is the width below which words would be cut. Words wider than a fair share of
// the table are cut all the same, else one of 300 characters would claim the page.
func (p planner) least(c, columns int, try attempt) float64 {
	mm := try.size * mmPerPoint / 1000
	fair := max(16, try.fair*p.width/float64(columns)) - p.g.pads(c)
	need := min(float64(p.extents[c].word)*mm, fair)
	title := min(float64(p.extents[c].titleWord)*mm, fair)
	if try.upright && p.turns(c) {
		title = p.uprightWidth(c, try.size)
	}
	return math.Min(max(need, title)+p.g.pads(c), p.width)
}

func (p planner) want(c int, size float64, upright bool) float64 {
	mm := size * mmPerPoint / 1000
	// A title may take two lines rather than widen its column.
	title := max(float64(p.extents[c].titleLine)*mm*0.6, float64(p.extents[c].titleWord)*mm)
	if upright && p.turns(c) {
		title = p.uprightWidth(c, size)
	}
	return max(float64(p.extents[c].line)*mm, title) + p.g.pads(c)
}

// pads is the room left and right of a column's text.
func (g grid) pads(c int) float64 { return 2*g.style.padX + g.columns[c].apart() }

// apart keeps a number from the text of the next column.
func (c column) apart() float64 {
	if c.align == sheet.Right {
		return 1.8
	}
	return 0
}

// turns is true for a column whose title is wider than all its cells: turning it saves room.
func (p planner) turns(c int) bool {
	return c > 0 && p.g.headed && float64(p.extents[c].titleLine) > 1.15*float64(p.extents[c].word)
}

func (p planner) uprightWidth(c int, size float64) float64 {
	lines := len(uprightLines(p.t, p.g.columns[c], size*p.g.titleScale()))
	return float64(lines) * size * p.g.titleScale() * mmPerPoint * lineFactor
}

// uprightLines breaks a turned title; three lines must do, the last is shortened.
func uprightLines(t typeface, c column, size float64) []string {
	title := c.title
	if c.unit != "" {
		title += " (" + c.unit + ")"
	}
	lines := t.wrap(title, bold, size, maxUpright)
	if len(lines) > 3 {
		lines = lines[:3]
		lines[2] = t.shorten(lines[2]+"…", bold, size, maxUpright)
	}
	return lines
}

func (p planner) part(columns []int, widths []float64, try attempt) part {
	out := part{columns: columns, widths: widths, size: try.size, upright: make([]bool, len(columns))}
	for i, c := range columns {
		out.upright[i] = try.upright && p.turns(c)
	}
	return out
}
