package pdf

import (
	"fmt"
	"strings"

	"scopewright/export/sheet"
)

// Sizes of type in points.
const (
	bodySize = 8.0
	bigSize  = 16.0
)

func (s setter) block(b sheet.Block) ([]*piece, error) {
	switch b := b.(type) {
	case sheet.Heading:
		return s.heading(b), nil
	case sheet.Paragraph:
		return s.paragraph(b), nil
	case sheet.BigText:
		return gap(3, s.lines(clean(b.Text), bold, bigSize*s.scale, ink, 0)), nil
	case sheet.Facts:
		return gap(1.5, s.grid(s.facts(b))), nil
	case sheet.Table:
		return gap(3, s.table(b)), nil
	case sheet.Statements:
		return gap(1.5, s.statements(b)), nil
	case sheet.Findings:
		return gap(2.5, s.findings(b)), nil
	case sheet.Checklist:
		return gap(2.5, s.checklist(b)), nil
	case sheet.Legend:
		return gap(3, s.grid(s.legend(b))), nil
	case sheet.Index:
		return gap(3, s.grid(s.index(b))), nil
	case sheet.Buttons:
		return gap(4, s.buttons(b)), nil
	case sheet.Signatures:
		return gap(4, s.signatures(b)), nil
	case sheet.Caution:
		return gap(3, s.caution(b)), nil
	case sheet.Drawing:
		return s.drawing(b), nil
	case sheet.Chart:
		return s.chart(b), nil
	case sheet.PageBreak:
		return []*piece{{turn: true}}, nil
	}
	return nil, fmt.Errorf("a block of type %T has no place on paper", b)
}

// gap sets the room above a block.
func gap(mm float64, pieces []*piece) []*piece {
	if len(pieces) > 0 {
		pieces[0].before = mm
	}
	return pieces
}

// writingRow is the height of a row to write in by hand, millimeters. Common practice,
// no published source: ruled paper has 7 to 9 mm.
const writingRow = 9.0

// ordinary is how most grids are set at the sheet's scale.
func (s setter) ordinary() gridStyle {
	k := s.scale
	return gridStyle{size: bodySize * k, sizes: []float64{7.2 * k, 6.4 * k}, padX: 1.2, padY: 0.75 * k, rules: true, headSize: 7 * k}
}

// lines gives one piece a line; the first and the last two stay together.
func (s setter) lines(text string, f face, size float64, c color, indent float64) []*piece {
	height := size * mmPerPoint * 1.35
	broken := s.t.wrap(text, f, size, s.width-indent)
	pieces := make([]*piece, len(broken))
	for i, l := range broken {
		pieces[i] = &piece{
			height: height, keep: i+1 < len(broken) && (i == 0 || i+2 == len(broken)),
			draw: func(p *page, x, y float64) { p.text(x+indent, y+size*mmPerPoint, l, f, size, c) },
		}
	}
	return pieces
}

func keepAll(pieces []*piece) []*piece {
	for _, p := range pieces {
		p.keep = true
	}
	return pieces
}

func (s setter) heading(h sheet.Heading) []*piece {
	sizes := [...]float64{11, 9.5, 8.5}
	colors := [...]color{accent, ink, gray}
	gaps := [...]float64{5, 4, 3}
	level := min(max(h.Level, 1), 3) - 1
	pieces := keepAll(s.lines(clean(h.Text), bold, sizes[level]*s.scale, colors[level], 0))
	if level == 0 {
		pieces = append(pieces, &piece{height: 1.2, keep: true, draw: func(p *page, x, y float64) {
			p.line(x, y+0.2, x+s.width, y+0.2, 0.25, accent)
		}})
	}
	return gap(gaps[level], pieces)
}

func (s setter) paragraph(b sheet.Paragraph) []*piece {
	f := regular
	if b.Strong {
		f = bold
	}
	return gap(2, s.lines(clean(b.Text), f, 8.5*s.scale, ink, 0))
}

func (s setter) caption(text string) []*piece {
	if text == "" {
		return nil
	}
	return gap(3, keepAll(s.lines(text, bold, 8*s.scale, gray, 0)))
}

func (s setter) note(text string) []*piece {
	if text == "" {
		return nil
	}
	return gap(0.8, s.lines(clean(text), regular, 6.8*s.scale, gray, 0))
}

func (s setter) table(t sheet.Table) []*piece {
	var pieces []*piece
	if len(t.Rows) == 0 {
		pieces = append(s.caption(clean(t.Caption)), s.lines(clean(t.EmptyText()), regular, bodySize*s.scale, gray, 0)...)
	} else {
		pieces = append(s.grid(s.tableGrid(t)), s.note(markKey(t))...)
	}
	return append(pieces, s.note(t.Note)...)
}

// parts counts the continuation tables that a table needs at this width.
func (s setter) parts(t sheet.Table) int { return len(plan(s.t, s.tableGrid(t), s.width)) }

func (s setter) tableGrid(t sheet.Table) grid {
	g := grid{caption: clean(t.Caption), headed: true, revision: t.HasChanges(), style: s.ordinary()}
	if t.Writing {
		g.style.minRow = writingRow
	}
	centered := 0
	for _, c := range t.Columns {
		g.columns = append(g.columns, column{title: clean(c.Title), unit: clean(c.Unit), align: c.Alignment(), weight: c.Width})
		if c.Align == sheet.Center {
			centered++
		}
	}
	g.ruled = 2*centered >= len(t.Columns)
	for _, r := range t.Rows {
		out := row{group: r.Group, total: r.Total, changed: r.Changed}
		for _, c := range r.Cells {
			out.cells = append(out.cells, markedCell(c))
		}
		g.rows = append(g.rows, out)
	}
	return g
}

func markedCell(c sheet.Cell) cell {
	out := plain(c.String())
	if c.Mark != sheet.Plain {
		out.mark, out.tinted = c.Mark.Symbol(), true
		out.markColor = map[sheet.Mark]color{sheet.Error: red, sheet.Warning: amber, sheet.Unmet: red, sheet.Untold: amber}[c.Mark]
	}
	return out
}

// markKey explains the marks that a table uses.
func markKey(t sheet.Table) string {
	var keys []string
	for _, m := range t.Marks() {
		keys = append(keys, m.Symbol()+" "+m.Meaning())
	}
	return strings.Join(keys, "   ·   ")
}

// buttons draws the station as a plate of plain boxes: number, label, and what a press does.
func (s setter) buttons(b sheet.Buttons) []*piece {
	pieces := keepAll(s.lines(clean(b.Station), bold, 12*s.scale, ink, 0))
	if b.Where != "" {
		pieces = append(pieces, gap(0.5, keepAll(s.lines(clean(b.Where), regular, 9*s.scale, gray, 0)))...)
	}
	g := grid{whole: true, columns: []column{{align: sheet.Center, weight: 1}, {align: sheet.Center, weight: 4}, {weight: 9}}}
	g.style = gridStyle{size: 12 * s.scale, padX: 2.5, padY: 2, boxes: true, minRow: 13 * s.scale, headSize: 12 * s.scale}
	for _, i := range b.Items {
		number, label := strong(fmt.Sprint(i.Number)), strong(i.Label)
		number.tinted = true
		g.rows = append(g.rows, row{cells: []cell{number, label, plain(i.Action)}})
	}
	return append(pieces, gap(1.5, s.grid(g))...)
}

// caution is a box with a heavy bar, cut between lines if the page ends.
func (s setter) caution(b sheet.Caution) []*piece {
	const indent = 5.0
	title := "! " + clean(b.Title)
	pieces := keepAll(s.lines(title, bold, 9*s.scale, amber, indent))
	pieces = append(pieces, s.lines(clean(b.Text), regular, 8.5*s.scale, ink, indent)...)
	const rim = 1.2 // above the title and below the last line
	for i, p := range pieces {
		above := 0.0
		if i == 0 {
			above = rim
			p.height += rim
		}
		if i == len(pieces)-1 {
			p.height += rim
		}
		draw, height := p.draw, p.height
		p.draw = func(pg *page, x, y float64) {
			pg.fill(x, y, s.width, height, tint)
			pg.fill(x, y, 1.6, height, amber)
			draw(pg, x, y+above)
		}
	}
	return pieces
}
