package pdf

import "scopewright/export/sheet"

// grid is any block made of rows and columns: a table, but also facts, statements,
// findings and checklists, so that page breaks and widths are solved once.
type grid struct {
	caption  string
	columns  []column
	rows     []row
	headed   bool // draws the column titles
	ruled    bool // hairlines between columns, for matrices
	whole    bool // never falls into continuation tables; words are cut instead
	revision bool // a narrow column of revision triangles in front
	style    gridStyle
}

// gridStyle is how a grid is set: sizes in points, gaps in millimetres.
type gridStyle struct {
	size     float64
	sizes    []float64 // smaller sizes to try when the columns do not fit, largest first
	padX     float64
	padY     float64
	rules    bool // a hairline under each row
	boxes    bool // a box around each cell of the first two columns, for button maps
	minRow   float64
	headSize float64
}

type column struct {
	title  string
	unit   string
	align  sheet.Align
	weight float64
}

// row is one row. A group row has one cell, which spans all columns.
type row struct {
	cells   []cell
	group   bool
	total   bool
	changed int
}

// cell is one or more paragraphs, with a mark before the first.
type cell struct {
	spans     []span
	mark      string
	markColor color
	tinted    bool
	pageOf    string // the cell prints the page of the sheet of this number
}

// span is one paragraph of a cell.
type span struct {
	text  string
	face  face
	color color
	scale float64 // of the grid's type size, 0 means 1
}

func (s span) size(base float64) float64 {
	if s.scale == 0 {
		return base
	}
	return base * s.scale
}

func plain(text string) cell { return cell{spans: []span{{text: clean(text)}}} }

func strong(text string) cell { return cell{spans: []span{{text: clean(text), face: bold}}} }

func faint(text string) cell {
	return cell{spans: []span{{text: clean(text), color: gray, scale: 0.92}}}
}

// markUnits is the room before a cell's text that its mark takes, in thousandths of the size.
func (c cell) markUnits(t typeface) int {
	if c.mark == "" {
		return 0
	}
	return t.units(c.mark, bold) + 300
}
