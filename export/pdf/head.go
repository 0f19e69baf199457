package pdf

import (
	"fmt"
	"strings"

	"scopewright/export/sheet"
)

// strip is the title block at the head of a page and the line at its foot. The first page
// of a sheet carries the whole block, the pages after it one line.
type strip struct {
	t     typeface
	sheet sheet.Sheet
	left  float64
	width float64
}

// place counts pages: n of m within the sheet, and within the document when it has more sheets.
type place struct {
	page, pages       int
	docPage, docPages int
	manySheets        bool
}

const (
	labelSize = 5.6
	valueSize = 8.0
	// stripGap is the room between the title block and the first piece.
	stripGap = 4.0
	// numberBox is the room for the sheet number at the right.
	numberBox = 44.0
)

// factBox is one labelled value of the title block.
type factBox struct {
	x, width float64
	label    string
	lines    []string
}

// full is the whole title block: title and number above, rows of labelled values below.
type full struct {
	title   []string
	number  []string
	size    float64 // of the number, smaller when it is long
	top     float64 // height of the title row
	rows    [][]factBox
	heights []float64
	height  float64
}

func (s strip) full() full {
	h := s.sheet.Head
	f := full{title: s.few(s.sheet.Title, bold, 14, s.width-numberBox-6, 6)}
	f.size = 16
	for f.size > 8 && s.t.width(s.sheet.Number, bold, f.size) > numberBox-4 {
		f.size--
	}
	f.number = s.few(s.sheet.Number, bold, f.size, numberBox-4, 6)
	f.top = max(float64(len(f.title))*6.4+5, float64(len(f.number))*f.size*mmPerPoint*1.2+8, 14)
	for _, facts := range [][]sheet.Fact{h.Origin(), h.State()} {
		boxes, height := s.boxes(facts)
		if len(boxes) > 0 {
			f.rows, f.heights = append(f.rows, boxes), append(f.heights, height)
		}
	}
	f.height = f.top
	for _, height := range f.heights {
		f.height += height
	}
	return f
}

// boxes shares a row's width among its values, the longer ones getting more.
func (s strip) boxes(facts []sheet.Fact) ([]factBox, float64) {
	const pad = 1.5
	wants, mins, most := make([]float64, len(facts)), make([]float64, len(facts)), 1
	for i, f := range facts {
		label := s.t.width(f.Name, regular, labelSize) + 2*pad
		value := s.t.width(clean(f.Value), bold, valueSize) + 2*pad
		mins[i] = max(label, min(value, s.width/float64(len(facts))*0.9))
		wants[i] = max(mins[i], min(value, s.width*0.3))
	}
	boxes, x := make([]factBox, len(facts)), 0.0
	for i, w := range share(s.width, mins, wants) {
		lines := s.few(facts[i].Value, bold, valueSize, w-2*pad+0.01, 12)
		boxes[i] = factBox{x: x, width: w, label: facts[i].Name, lines: lines}
		most = max(most, len(lines))
		x += w
	}
	return boxes, 4.2 + float64(most)*3.5
}

func (s strip) few(text string, f face, size, width float64, most int) []string {
	lines := s.t.wrap(clean(text), f, size, width)
	if len(lines) > most {
		lines = lines[:most]
		lines[most-1] = s.t.shorten(lines[most-1]+"…", f, size, width)
	}
	return lines
}

// headHeight is what the strip takes on the n-th page of its sheet.
func (s strip) headHeight(n int) float64 {
	if n == 1 {
		return s.full().height
	}
	return 7.5
}

func (s strip) drawHead(p *page, at place) {
	if at.page == 1 {
		s.drawFull(p, at)
		return
	}
	s.drawCompact(p, at)
}

func (s strip) drawFull(p *page, at place) {
	f := s.full()
	x, y := s.left, marginTop
	for i, l := range f.title {
		p.text(x+1.5, y+6.8+float64(i)*6.4, l, bold, 14, ink)
	}
	if s.sheet.Head.Invented {
		size := 7.0
		w := s.t.width(sheet.InventedNotice, bold, size) + 3
		p.rect(x+1.5, y+f.top-4.6, w, 3.6, 0.2, red)
		p.text(x+3, y+f.top-1.9, sheet.InventedNotice, bold, size, red)
	}
	boxLeft := x + s.width - numberBox
	p.fill(boxLeft, y, numberBox, f.top, tint)
	for i, l := range f.number {
		p.text(boxLeft+2, y+f.size*mmPerPoint*(1.1+1.2*float64(i)), l, bold, f.size, accent)
	}
	p.text(boxLeft+2, y+f.top-2, at.sheetText(), regular, 7.5, ink)
	top := y + f.top
	for i, row := range f.rows {
		p.line(x, top, x+s.width, top, 0.15, gray)
		for k, b := range row {
			if k > 0 {
				p.line(x+b.x, top, x+b.x, top+f.heights[i], 0.1, hairline)
			}
			p.text(x+b.x+1.5, top+2.8, b.label, regular, labelSize, gray)
			for n, l := range b.lines {
				p.text(x+b.x+1.5, top+6.3+3.5*float64(n), l, bold, valueSize, ink)
			}
		}
		top += f.heights[i]
	}
	p.line(boxLeft, y, boxLeft, y+f.top, 0.15, gray)
	p.rect(x, y, s.width, f.height, 0.35, ink)
}

// drawCompact is one line: number, title, room, and what tells this print from another.
func (s strip) drawCompact(p *page, at place) {
	h := s.sheet.Head
	x, base := s.left, marginTop+4.6
	right := strings.Join([]string{"Revision " + clean(h.RevisionText()), clean(h.Date), at.sheetText()}, "  ·  ")
	right = s.t.shorten(right, regular, 7.5, s.width*0.45)
	rightWidth := s.t.width(right, regular, 7.5)
	p.text(x+s.width-rightWidth, base, right, regular, 7.5, ink)
	number := s.t.shorten(clean(s.sheet.Number), bold, 10, s.width*0.2)
	p.text(x, base, number, bold, 10, accent)
	left := x + s.t.width(number, bold, 10) + 3
	title := clean(s.sheet.Title)
	if number, _, _ := strings.Cut(h.Room, " "); number != "" && !strings.Contains(s.sheet.Title, number) {
		title += "  ·  " + clean(h.Room)
	}
	if h.Project != "" {
		title += "  ·  " + clean(h.Project)
	}
	p.text(left, base, s.t.shorten(title, bold, 8.5, x+s.width-rightWidth-4-left), bold, 8.5, ink)
	p.line(x, marginTop+7.5, x+s.width, marginTop+7.5, 0.35, ink)
}

func (a place) sheetText() string { return fmt.Sprintf("Page %d of %d", a.page, a.pages) }

// cautionLines is the footer's sentence; a hostile one is shortened to four lines.
func (s strip) cautionLines() []string {
	if s.sheet.Head.Caution == "" {
		return nil
	}
	return s.few(s.sheet.Head.Caution, regular, 6.4, s.width, 4)
}

func (s strip) footHeight() float64 {
	return 6.2 + 2.9*float64(len(s.cautionLines()))
}

func (s strip) drawFoot(p *page, at place) {
	h := s.sheet.Head
	y := p.height - marginBottom - s.footHeight() + 1.5
	p.line(s.left, y, s.left+s.width, y, 0.2, gray)
	y += 2.9
	for _, l := range s.cautionLines() {
		p.text(s.left, y, l, regular, 6.4, gray)
		y += 2.9
	}
	right := "Sheet " + s.sheet.Number + ", " + strings.ToLower(at.sheetText())
	if at.manySheets {
		right += fmt.Sprintf("  ·  document page %d of %d", at.docPage, at.docPages)
	}
	right = s.t.shorten(clean(right), bold, 6.8, s.width*0.5)
	p.text(s.left+s.width-s.t.width(right, bold, 6.8), y+0.4, right, bold, 6.8, ink)
	var parts []string
	for _, t := range []string{h.ProjectNumber, "Revision " + h.RevisionText(), h.Date, h.Purpose, h.Units} {
		if t != "" {
			parts = append(parts, clean(t))
		}
	}
	left, x := strings.Join(parts, "  ·  "), s.left
	if h.Invented {
		p.text(x, y+0.4, sheet.InventedNotice, bold, 6.8, red)
		x += s.t.width(sheet.InventedNotice, bold, 6.8) + 3
	}
	room := s.left + s.width - s.t.width(right, bold, 6.8) - 4 - x
	p.text(x, y+0.4, s.t.shorten(left, regular, 6.8, room), regular, 6.8, gray)
}
