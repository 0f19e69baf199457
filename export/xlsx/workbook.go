// Package xlsx writes the tables of a document as a workbook, one worksheet a table.
// Text is always typed as text and numbers as numbers, so that no cell is ever a formula.
package xlsx

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"scopewright/export/sheet"
)

// Limits of the workbook format: characters in a cell, rows and columns of a worksheet.
// Source: Office Open XML implementations' published limits, from memory.
const (
	maxCell    = 32767
	maxRows    = 1048576
	maxColumns = 16384
)

// Write writes one worksheet a table, each with the sheet's title rows above, the column
// titles frozen, and set to print across the page with its titles repeated. A document
// without tables is refused: there would be nothing in the workbook.
func Write(w io.Writer, doc sheet.Document) error {
	if err := doc.Validate(); err != nil {
		return fmt.Errorf("workbook of %q: %w", doc.Title, err)
	}
	tables := doc.Tables()
	if len(tables) == 0 {
		return fmt.Errorf("workbook of %q: the document has no table; export it as PDF", doc.Title)
	}
	file := excelize.NewFile()
	defer func() { _ = file.Close() }() // only frees memory: nothing has been stored on disk
	b := book{file: file, names: newNames()}
	if err := b.fill(doc, tables); err != nil {
		return fmt.Errorf("workbook of %q: %w", doc.Title, err)
	}
	if err := file.Write(w); err != nil {
		return fmt.Errorf("workbook of %q: %w", doc.Title, err)
	}
	return nil
}

type book struct {
	file   *excelize.File
	names  names
	styles styles
}

func (b *book) fill(doc sheet.Document, tables []sheet.NamedTable) error {
	if err := b.styles.register(b.file); err != nil {
		return err
	}
	if err := b.properties(doc); err != nil {
		return err
	}
	for i, t := range tables {
		name := b.names.take(t.Name)
		if i == 0 {
			if err := b.file.SetSheetName("Sheet1", name); err != nil {
				return err
			}
		} else if _, err := b.file.NewSheet(name); err != nil {
			return err
		}
		if err := b.worksheet(name, t); err != nil {
			return fmt.Errorf("table %q: %w", t.Name, err)
		}
	}
	return nil
}

// properties come from the document, never from the clock, so that a reprint can be compared.
func (b *book) properties(doc sheet.Document) error {
	date := "2000-01-01T00:00:00Z"
	if d := doc.Sheets[0].Head.Date; d != "" {
		date = d + "T00:00:00Z"
	}
	return b.file.SetDocProps(&excelize.DocProperties{
		Title: safe(doc.Title), Creator: "Scopewright", Created: date, Modified: date, Language: "en-US",
	})
}

// safe keeps a text writable: at most what a cell holds, and only characters of XML 1.0.
func safe(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF {
			return utf8.RuneError
		}
		return r
	}, strings.ToValidUTF8(s, string(utf8.RuneError)))
	if utf8.RuneCountInString(s) <= maxCell {
		return s
	}
	return string([]rune(s)[:maxCell-1]) + "…"
}

// number is the value as printed, so that the workbook and the paper agree; what a row
// adds up to differs by no more than the rounding shown.
func number(c sheet.Cell) float64 {
	p := math.Pow10(c.Decimals)
	if rounded := math.Round(*c.Number*p) / p; !math.IsInf(rounded, 0) {
		return rounded
	}
	return *c.Number
}
