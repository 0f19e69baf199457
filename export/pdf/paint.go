package pdf

import (
	"io"
	"strconv"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"scopewright/export/drawing"
	"scopewright/export/sheet"
)

// painter writes laid-out pages with fpdf. fpdf keeps colors, widths and fonts from one
// call to the next, so the painter remembers them and sets each only when it changes.
type painter struct {
	out       *fpdf.Fpdf
	t         typeface
	book      *book
	face      face
	size      float64
	fontSet   bool
	textColor color
	lineColor color
	fillColor color
	lineWidth float64
	links     []int // by page

	pen  drawing.Style // of a drawing, while one is painted
	dash float64       // millimeters, 0: full lines
}

func paint(w io.Writer, doc sheet.Document, b *book) error {
	fonts, err := faces()
	if err != nil {
		return err
	}
	p := painter{out: newPDF(doc), t: typeface{fonts}, book: b}
	p.links = make([]int, len(b.pages)+1)
	sheetAt := 0
	for i, pg := range b.pages {
		p.out.AddPageFormat("P", fpdf.SizeType{Wd: pg.width, Ht: pg.height})
		p.forget()
		if sheetAt < len(b.first) && b.first[sheetAt] == i+1 {
			s := doc.Sheets[sheetAt]
			p.out.Bookmark(p.printable(strings.TrimSpace(s.Number+" "+s.Title)), 0, 0)
			sheetAt++
		}
		for _, o := range pg.ops {
			p.op(o)
		}
		p.endDrawing()
	}
	for n, link := range p.links {
		if link != 0 {
			p.out.SetLink(link, 0, n)
		}
	}
	return p.out.Output(w)
}

// printable replaces what lies beyond the basic plane, which fpdf cannot write.
func (p *painter) printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			return replacement
		}
		return r
	}, strings.ReplaceAll(clean(s), "\n", " "))
}

// forget resets what is remembered: fpdf restores its own state on a new page.
func (p *painter) forget() {
	p.fontSet = false
	p.lineWidth = -1
	p.setText(ink, true)
	p.setLine(ink, true)
	p.setFill(white, true)
}

func (p *painter) setText(c color, force bool) {
	if force || c != p.textColor {
		v := palette[c]
		p.out.SetTextColor(v[0], v[1], v[2])
		p.textColor = c
	}
}

func (p *painter) setLine(c color, force bool) {
	if force || c != p.lineColor {
		v := palette[c]
		p.out.SetDrawColor(v[0], v[1], v[2])
		p.lineColor = c
	}
}

func (p *painter) setFill(c color, force bool) {
	if force || c != p.fillColor {
		v := palette[c]
		p.out.SetFillColor(v[0], v[1], v[2])
		p.fillColor = c
	}
}

func (p *painter) setWidth(mm float64) {
	if mm != p.lineWidth {
		p.out.SetLineWidth(mm)
		p.lineWidth = mm
	}
}

func (p *painter) setFont(f face, size float64) {
	if !p.fontSet || f != p.face || size != p.size {
		p.out.SetFont(f.family(), "", size)
		p.face, p.size, p.fontSet = f, size, true
	}
}

func (p *painter) op(o op) {
	if o.kind != opShape {
		p.endDrawing()
	}
	switch o.kind {
	case opShape:
		p.shape(o)
	case opUnderlay:
		p.underlay(o)
	case opText:
		p.text(o.x, o.y, o)
	case opUpright:
		p.out.TransformBegin()
		p.out.TransformRotate(90, o.x, o.y)
		p.text(o.x, o.y, o)
		p.out.TransformEnd()
		p.fontSet = false // the transform's end restores the older font
		p.setText(p.textColor, true)
	case opLine:
		p.setLine(o.color, false)
		p.setWidth(o.size)
		p.out.Line(o.x, o.y, o.x+o.w, o.y+o.h)
	case opRect:
		p.setLine(o.color, false)
		p.setWidth(o.size)
		p.out.Rect(o.x, o.y, o.w, o.h, "D")
	case opFill:
		p.setFill(o.color, false)
		p.out.Rect(o.x, o.y, o.w, o.h, "F")
	case opTriangle:
		p.setLine(o.color, false)
		p.setWidth(o.size)
		p.out.Polygon([]fpdf.PointType{{X: o.x + o.w/2, Y: o.y}, {X: o.x + o.w, Y: o.y + o.h}, {X: o.x, Y: o.y + o.h}}, "D")
	case opPageOf:
		p.pageOf(o)
	}
}

func (p *painter) text(x, y float64, o op) {
	p.setText(o.color, false)
	for _, r := range p.t.runs(o.text, o.face) {
		p.setFont(r.face, o.size)
		p.out.Text(x, y, r.text)
		x += p.t.width(r.text, r.face, o.size)
	}
}

// pageOf prints the page on which a sheet starts, and links to it.
func (p *painter) pageOf(o op) {
	number, text, _ := strings.Cut(o.text, "\x00")
	target, known := p.book.start[number]
	if known {
		text = strconv.Itoa(target)
		if p.links[target] == 0 {
			p.links[target] = p.out.AddLink()
		}
		p.out.Link(o.x, o.y-o.size*mmPerPoint, o.w, o.size*mmPerPoint*lineFactor, p.links[target])
	}
	o.text = text
	p.text(o.x+o.w-p.t.width(text, o.face, o.size), o.y, o)
}
