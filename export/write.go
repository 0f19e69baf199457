package export

import (
	"context"
	"fmt"
	"io"

	"scopewright/export/csv"
	"scopewright/export/html"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
	"scopewright/export/xlsx"
)

// Options of a file.
type Options struct {
	Paper   pdf.Paper // of PDF, and of drawings in any format; Letter when empty
	BigType bool
	BOM     bool // CSV: a mark first by which spreadsheets know UTF-8
	Table   int  // CSV, SVG and DXF: which of the document's tables or drawings, from 0
}

// Write prints a document in a format. HTML gives the body of a page: the web frames it.
// CSV holds one table, SVG and DXF one drawing, the document's first unless the options say another.
func Write(w io.Writer, f Format, doc sheet.Document, opt Options) error {
	switch f {
	case PDF:
		return pdf.Render(w, doc, pdf.Options{Paper: opt.Paper, BigType: opt.BigType, Orientation: pdf.BySheet})
	case HTML:
		if err := doc.Validate(); err != nil {
			return fmt.Errorf("page of %q: %w", doc.Title, err)
		}
		return html.Document(doc, html.Options{BigType: opt.BigType, Paper: string(opt.Paper)}).Render(context.Background(), w)
	case XLSX:
		return xlsx.Write(w, doc)
	case SVG:
		return writeSVG(w, doc, opt)
	case DXF:
		return writeDXF(w, doc, opt)
	case CSV:
		tables := doc.Tables()
		if opt.Table < 0 || opt.Table >= len(tables) {
			return fmt.Errorf("CSV of %q: table %d of %d does not exist", doc.Title, opt.Table+1, len(tables))
		}
		return csv.Write(w, tables[opt.Table].Table, csv.Options{BOM: opt.BOM})
	}
	return fmt.Errorf("format %q is unknown: use html, pdf, xlsx, csv, svg or dxf", f)
}
