// Package pdf prints sheets as PDF without a browser: it lays out every block in
// millimetres, breaks pages, and writes the result with embedded fonts. The same
// document gives the same bytes, so that a reprint can be compared with its original.
package pdf

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"scopewright/export/sheet"
)

// Options of a print.
type Options struct {
	Paper       Paper // Letter when empty
	Orientation Orientation
	// BigType sets everything 1.3 times as large, for sheets read at arm's length.
	BigType bool
}

// Render writes the document as PDF. It refuses a document that does not validate.
func Render(w io.Writer, doc sheet.Document, opt Options) error {
	book, err := layOut(doc, opt)
	if err != nil {
		return fmt.Errorf("PDF of %q: %w", doc.Title, err)
	}
	if err := paint(w, doc, book); err != nil {
		return fmt.Errorf("PDF of %q: %w", doc.Title, err)
	}
	return nil
}

// book is the laid-out document.
type book struct {
	pages []*page
	first []int          // page of each sheet, counted from 1
	start map[string]int // page by sheet number
}

func layOut(doc sheet.Document, opt Options) (*book, error) {
	if err := doc.Validate(); err != nil {
		return nil, err
	}
	width, height, err := opt.Paper.Size()
	if err != nil {
		return nil, err
	}
	fonts, err := faces()
	if err != nil {
		return nil, err
	}
	b := &book{start: map[string]int{}}
	strips := make([]strip, len(doc.Sheets))
	counts := make([]int, len(doc.Sheets))
	for i, s := range doc.Sheets {
		l := layouter{t: typeface{fonts}, sheet: s, opt: opt, width: width, height: height}
		pages, strip, err := l.sheetPages()
		if err != nil {
			return nil, fmt.Errorf("sheet %s: %w", s.Number, err)
		}
		b.first = append(b.first, len(b.pages)+1)
		if _, taken := b.start[s.Number]; !taken {
			b.start[s.Number] = len(b.pages) + 1
		}
		b.pages = append(b.pages, pages...)
		strips[i], counts[i] = strip, len(pages)
	}
	b.drawStrips(strips, counts)
	return b, nil
}

// drawStrips adds heads and feet once all page counts are known.
func (b *book) drawStrips(strips []strip, counts []int) {
	n := 0
	for i, s := range strips {
		for k := range counts[i] {
			at := place{page: k + 1, pages: counts[i], docPage: n + 1, docPages: len(b.pages), manySheets: len(strips) > 1}
			s.drawHead(b.pages[n], at)
			s.drawFoot(b.pages[n], at)
			n++
		}
	}
}

// layouter lays out one sheet.
type layouter struct {
	t             typeface
	sheet         sheet.Sheet
	opt           Options
	width, height float64 // of the paper, portrait
}

func (l layouter) sheetPages() ([]*page, strip, error) {
	width, height := l.width, l.height
	if l.landscape() {
		width, height = height, width
	}
	s := strip{t: l.t, sheet: l.sheet, left: marginSide, width: width - 2*marginSide}
	free := func(n int) area {
		return area{left: marginSide, right: width - marginSide, top: marginTop + s.headHeight(n) + stripGap, bottom: height - marginBottom - s.footHeight()}
	}
	f := flow{open: func(n int) (*page, area) { return &page{width: width, height: height}, free(n) }}
	pieces, err := l.pieces(s.width, free(1).height())
	if err != nil {
		return nil, s, err
	}
	f.place(pieces)
	return f.pages, s, nil
}

func (l layouter) scale() float64 {
	if l.opt.BigType {
		return 1.3
	}
	return 1
}

func (l layouter) pieces(width, room float64) ([]*piece, error) {
	set := setter{t: l.t, width: width, room: room, scale: l.scale()}
	var all []*piece
	for _, b := range l.sheet.Blocks {
		pieces, err := set.block(b)
		if err != nil {
			return nil, err
		}
		all = append(all, pieces...)
	}
	return all, nil
}

func (l layouter) landscape() bool {
	switch l.opt.Orientation {
	case AlwaysPortrait:
		return false
	case AlwaysLandscape:
		return true
	case Auto:
		return l.sheet.Landscape || l.tableNeedsWidth()
	case BySheet:
	}
	return l.sheet.Landscape
}

// tableNeedsWidth is true when a table falls into fewer parts across the page.
func (l layouter) tableNeedsWidth() bool {
	for _, b := range l.sheet.Blocks {
		t, ok := b.(sheet.Table)
		if !ok {
			continue
		}
		upright := setter{t: l.t, width: l.width - 2*marginSide, scale: l.scale()}
		across := setter{t: l.t, width: l.height - 2*marginSide, scale: l.scale()}
		if n := upright.parts(t); n > 1 && across.parts(t) < n {
			return true
		}
	}
	return false
}

// printDate stands in the PDF's properties; it comes from the sheet, never from the clock,
// so that a reprint has the same bytes.
func printDate(doc sheet.Document) time.Time {
	for _, s := range doc.Sheets {
		if t, err := time.Parse(time.DateOnly, s.Head.Date); err == nil {
			return t
		}
	}
	return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
}

func newPDF(doc sheet.Document) *fpdf.Fpdf {
	out := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", OrientationStr: "P"})
	out.SetCatalogSort(true)
	date := printDate(doc)
	out.SetCreationDate(date)
	out.SetModificationDate(date)
	out.SetTitle(clean(doc.Title), true)
	out.SetSubject("Lighting controls scope", true)
	out.SetCreator("Scopewright", true)
	out.SetLang("en-US")
	out.SetAutoPageBreak(false, 0)
	out.SetMargins(0, 0, 0)
	addFonts(out)
	return out
}
