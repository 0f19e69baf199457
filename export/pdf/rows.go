package pdf

import (
	"fmt"

	"scopewright/export/sheet"
)

// lineFactor is the line height in type sizes.
const lineFactor = 1.28

// setter turns blocks into pieces for one sheet.
type setter struct {
	t     typeface
	width float64
	room  float64 // height of the sheet's first page, for drawings
	scale float64 // of all type, 1 unless big type is asked for
}

// textLine is one line of a cell, ready to draw.
type textLine struct {
	text  string
	face  face
	color color
	size  float64
}

// rowLayout is a row with its lines broken; splitting it cuts every cell at the same line.
type rowLayout struct {
	row   row
	cells [][]textLine
	first bool // the mark and the triangle stand on the first part only
}

// table is one part of a grid on its way to pieces.
type table struct {
	setter
	grid
	part
	lineHeight float64
	lefts      []float64 // of each column, from the left edge of the area
	right      float64
	head       *header // nil without column titles
}

// grid gives the pieces of a grid, in continuation tables where the columns do not fit.
func (s setter) grid(g grid) []*piece {
	parts := plan(s.t, g, s.width)
	var pieces []*piece
	for i, p := range parts {
		caption := g.caption
		if len(parts) > 1 {
			caption = fmt.Sprintf("%s (part %d of %d)", g.caption, i+1, len(parts))
		}
		pieces = append(pieces, s.caption(caption)...)
		part := g
		part.caption = caption
		pieces = append(pieces, newTable(s, part, p).pieces()...)
	}
	return pieces
}

func newTable(s setter, g grid, p part) table {
	t := table{setter: s, grid: g, part: p, lineHeight: p.size * mmPerPoint * lineFactor}
	x := 0.0
	if g.revision {
		x = revisionWidth
	}
	for _, w := range p.widths {
		t.lefts = append(t.lefts, x)
		x += w
	}
	t.right = x
	return t
}

func (t table) pieces() []*piece {
	if t.headed {
		t.head = t.header()
	}
	pieces := make([]*piece, 0, len(t.rows))
	for i, r := range t.rows {
		p := t.piece(rowLayout{row: r, cells: t.layout(r), first: true})
		p.keep = r.group && i+1 < len(t.rows) || i+1 < len(t.rows) && t.rows[i+1].total && i+2 == len(t.rows)
		pieces = append(pieces, p)
	}
	return pieces
}

// layout breaks the lines of a row's cells, in the order of the part's columns.
func (t table) layout(r row) [][]textLine {
	if r.group {
		return [][]textLine{t.breakCell(r, r.cells[0], t.right-t.lefts[0])}
	}
	cells := make([][]textLine, len(t.columnsOf()))
	for i, c := range t.columnsOf() {
		cells[i] = t.breakCell(r, r.cells[c], t.widths[i]-t.grid.columns[c].apart())
	}
	return cells
}

func (t table) columnsOf() []int { return t.part.columns }

func (t table) breakCell(r row, c cell, width float64) []textLine {
	room := width - 2*t.style.padX - float64(c.markUnits(t.t))*t.size*mmPerPoint/1000
	var lines []textLine
	for _, s := range c.spans {
		if s.text == "" && len(c.spans) > 1 {
			continue
		}
		f, size := s.cellFace(r), s.size(t.size)
		for _, l := range t.t.wrap(s.text, f, size, max(room, 1)) {
			lines = append(lines, textLine{l, f, s.color, size})
		}
	}
	if len(lines) == 0 {
		lines = []textLine{{}}
	}
	return lines
}

func (t table) piece(l rowLayout) *piece {
	most := 1
	for _, c := range l.cells {
		most = max(most, len(c))
	}
	height := max(float64(most)*t.lineHeight+2*t.style.padY, t.style.minRow)
	return &piece{
		height: height, header: t.head,
		draw:  func(p *page, x, y float64) { t.drawRow(p, x, y, height, l) },
		split: func(room float64) (*piece, *piece) { return t.splitRow(l, most, room) },
	}
}

func (t table) splitRow(l rowLayout, most int, room float64) (*piece, *piece) {
	fit := int((room - 2*t.style.padY) / t.lineHeight)
	if fit < 1 || fit >= most {
		return nil, nil
	}
	head, tail := l, l
	head.cells, tail.cells = make([][]textLine, len(l.cells)), make([][]textLine, len(l.cells))
	for i, c := range l.cells {
		cut := min(fit, len(c))
		head.cells[i], tail.cells[i] = c[:cut], c[cut:]
	}
	tail.first = false
	return t.piece(head), t.piece(tail)
}

func (t table) drawRow(p *page, x, y, height float64, l rowLayout) {
	t.drawGround(p, x, y, height, l)
	if l.row.changed > 0 && l.first {
		t.drawRevision(p, x, y, l.row.changed)
	}
	if l.row.group {
		t.drawCell(p, x+t.lefts[0], y, t.right-t.lefts[0], height, sheet.Left, l.row.cells[0], l.cells[0], l.first)
		return
	}
	for i, c := range t.columnsOf() {
		t.drawCell(p, x+t.lefts[i], y, t.widths[i]-t.grid.columns[c].apart(), height, t.grid.columns[c].align, l.row.cells[c], l.cells[i], l.first)
	}
}

// drawGround draws what lies under the text: tints, rules and boxes.
func (t table) drawGround(p *page, x, y, height float64, l rowLayout) {
	left, right := x+t.lefts[0], x+t.right
	if l.row.group {
		p.fill(left, y, right-left, height, tint)
	}
	for i, c := range t.columnsOf() {
		if !l.row.group && l.row.cells[c].tinted {
			p.fill(x+t.lefts[i], y, t.widths[i], height, tint)
		}
		if t.ruled && i > 0 && !l.row.group {
			p.line(x+t.lefts[i], y, x+t.lefts[i], y+height, 0.1, hairline)
		}
		if t.style.boxes && i < 2 {
			p.rect(x+t.lefts[i], y, t.widths[i], height, 0.35, ink)
		}
	}
	if l.row.total {
		p.line(left, y, right, y, 0.3, ink)
	}
	if t.style.rules {
		p.line(left, y+height, right, y+height, 0.1, hairline)
	}
}

func (t table) drawRevision(p *page, x, y float64, revision int) {
	const w, h = 4.6, 4.0
	top := y + 0.3
	p.triangle(x+0.4, top, w, h, ink)
	label, size := fmt.Sprint(revision), 5.5
	for t.t.width(label, bold, size) > 2.4 && size > 2 {
		size -= 0.25
	}
	p.text(x+0.4+w/2-t.t.width(label, bold, size)/2, top+h-0.7, label, bold, size, ink)
}

func (t table) drawCell(p *page, x, y, width, height float64, align sheet.Align, c cell, lines []textLine, first bool) {
	mark := float64(c.markUnits(t.t)) * t.size * mmPerPoint / 1000
	top := y + t.style.padY
	if t.style.minRow > 0 { // big rows center their text
		top = y + (height-float64(len(lines))*t.lineHeight)/2
	}
	inner := width - 2*t.style.padX
	if c.pageOf != "" && first {
		fallback := ""
		if len(lines) > 0 {
			fallback = t.t.shorten(lines[0].text, regular, t.size, inner)
		}
		p.pageOf(c.pageOf, fallback, x+t.style.padX, top+t.baseline(), inner, t.size)
		return
	}
	for i, l := range lines {
		left := x + t.style.padX + mark
		slack := inner - mark - t.t.width(l.text, l.face, l.size)
		switch align {
		case sheet.Right:
			left += slack
		case sheet.Center:
			left += slack / 2
		case sheet.Left:
		}
		if i == 0 && first && c.mark != "" {
			p.text(left-mark, top+t.baseline(), c.mark, bold, t.size, c.markColor)
		}
		p.text(left, top+t.baseline()+float64(i)*t.lineHeight, l.text, l.face, l.size, l.color)
	}
}

// baseline is the drop from the top of a line to its baseline.
func (t table) baseline() float64 { return t.size * mmPerPoint * 0.98 }
