package pdf

import "scopewright/export/sheet"

// maxTitleLines keeps a hostile column title from filling the page.
const maxTitleLines = 12

// What a table says of itself when it goes on after a page break.
const (
	continuedText   = " (continued)"
	continuedHeight = 4.0
)

// titleLayout is a column's title with its lines broken.
type titleLayout struct {
	lines   []textLine
	upright bool
}

// header lays out the column titles, standing on one common rule.
func (t table) header() *header {
	size := t.size * t.titleScale()
	line := size * mmPerPoint * lineFactor
	titles := make([]titleLayout, len(t.columnsOf()))
	height := 0.0
	for i, c := range t.columnsOf() {
		titles[i] = t.title(t.grid.columns[c], t.widths[i]-t.pads(c), size, t.upright[i])
		need := float64(len(titles[i].lines)) * line
		if titles[i].upright {
			need = 0
			for _, l := range titles[i].lines {
				need = max(need, t.t.width(l.text, l.face, l.size))
			}
			need++
		}
		height = max(height, need)
	}
	height += 2.2
	again := height
	if t.grid.caption != "" {
		again += continuedHeight
	}
	return &header{height: height, again: again, draw: func(p *page, x, y float64, continued bool) {
		t.drawHeader(p, x, y, height, line, titles, continued)
	}}
}

func (t table) title(c column, width, size float64, upright bool) titleLayout {
	out := titleLayout{upright: upright}
	if upright {
		for _, l := range uprightLines(t.t, c, size) {
			out.lines = append(out.lines, textLine{l, bold, ink, size})
		}
		return out
	}
	for _, l := range t.t.wrap(c.title, bold, size, max(width, 1)) {
		out.lines = append(out.lines, textLine{l, bold, ink, size})
	}
	if c.unit != "" {
		for _, l := range t.t.wrap(c.unit, regular, size, max(width, 1)) {
			out.lines = append(out.lines, textLine{l, regular, gray, size})
		}
	}
	if len(out.lines) > maxTitleLines {
		last := &out.lines[maxTitleLines-1]
		last.text = t.t.shorten(last.text+"…", last.face, size, max(width, 1))
		out.lines = out.lines[:maxTitleLines]
	}
	return out
}

func (t table) drawHeader(p *page, x, y, height, line float64, titles []titleLayout, continued bool) {
	left := x + t.lefts[0]
	if continued && t.grid.caption != "" {
		const size = 6.8
		room := t.right - t.lefts[0] - t.t.width(continuedText, regular, size)
		p.text(x, y+size*mmPerPoint, t.t.shorten(t.grid.caption, regular, size, room)+continuedText, regular, size, gray)
		y += continuedHeight
	}
	foot := y + height
	if t.revision {
		size := 5.5
		p.text(x+0.4, foot-1.2, sheet.ChangedColumn, bold, size, gray)
	}
	for i, c := range t.columnsOf() {
		cellX := x + t.lefts[i]
		if t.ruled && i > 0 {
			p.line(cellX, y, cellX, foot, 0.1, hairline)
		}
		if titles[i].upright {
			t.drawUpright(p, cellX, foot-1.2, t.widths[i], line, titles[i].lines)
			continue
		}
		top := foot - 1.1 - float64(len(titles[i].lines))*line
		for k, l := range titles[i].lines {
			slack := t.widths[i] - t.pads(c) - t.t.width(l.text, l.face, l.size)
			dx := map[sheet.Align]float64{sheet.Left: 0, sheet.Center: slack / 2, sheet.Right: slack}[t.grid.columns[c].align]
			p.text(cellX+t.style.padX+dx, top+float64(k)*line+l.size*mmPerPoint*0.98, l.text, l.face, l.size, l.color)
		}
	}
	p.line(left, foot, x+t.right, foot, 0.35, ink)
}

func (t table) drawUpright(p *page, x, foot, width, line float64, lines []textLine) {
	left := x + (width-float64(len(lines))*line)/2
	for k, l := range lines {
		p.upright(left+float64(k)*line+l.size*mmPerPoint*0.98, foot, l.text, l.face, l.size, l.color)
	}
}
