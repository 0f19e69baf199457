// Package csv writes one table as comma-separated values (RFC 4180) that a spreadsheet
// opens without running anything: text that would start a formula gets an apostrophe.
package csv

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"scopewright/export/sheet"
)

// Options of a CSV file.
type Options struct {
	// BOM writes a byte order mark first, by which spreadsheets know UTF-8.
	BOM bool
}

// bom is the byte order mark in UTF-8.
const bom = "\xEF\xBB\xBF"

// Write writes the column titles and all rows of a table. A group row holds its text in
// the first field. Numbers of a Number column are written bare, everything else as text.
func Write(w io.Writer, t sheet.Table, opt Options) error {
	doc := sheet.Document{Title: "table", Sheets: []sheet.Sheet{{ID: "table", Title: "table", Blocks: []sheet.Block{t}}}}
	if err := doc.Validate(); err != nil {
		return fmt.Errorf("CSV of %q: %w", t.Caption, err)
	}
	if opt.BOM {
		if _, err := io.WriteString(w, bom); err != nil {
			return fmt.Errorf("CSV of %q: %w", t.Caption, err)
		}
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180, section 2, rule 1
	if err := out.WriteAll(records(t)); err != nil {
		return fmt.Errorf("CSV of %q: %w", t.Caption, err)
	}
	return nil
}

func records(t sheet.Table) [][]string {
	titles := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		titles[i] = c.Title
		if c.Unit != "" {
			titles[i] += " (" + c.Unit + ")"
		}
		titles[i] = Safe(titles[i])
	}
	changed := t.HasChanges()
	if changed {
		titles = append(titles, sheet.ChangedColumn)
	}
	out := [][]string{titles}
	for _, r := range t.Rows {
		record := fields(t, r)
		if changed {
			record = append(record, revision(r))
		}
		out = append(out, record)
	}
	return out
}

func fields(t sheet.Table, r sheet.Row) []string {
	record := make([]string, len(t.Columns))
	for i, c := range r.Cells {
		if t.Columns[i].Kind == sheet.Number && c.Number != nil && c.Text == "" {
			record[i] = c.String()
			continue
		}
		record[i] = Safe(c.String())
	}
	return record
}

func revision(r sheet.Row) string {
	if r.Changed == 0 {
		return ""
	}
	return fmt.Sprint(r.Changed)
}

// formulaStarts are the characters by which a spreadsheet takes a text for a formula or a
// command, the full-width forms included, since some fold them. Source: the widely
// published advice on CSV injection, from memory.
const formulaStarts = "=+-@\t\r\n\x00＝＋－＠"

// Safe puts an apostrophe before a text that a spreadsheet would run. Spaces and
// invisible characters in front are looked through.
func Safe(s string) string {
	s = strings.ToValidUTF8(s, string(utf8.RuneError))
	for _, r := range s {
		if r == ' ' || r == '\u00A0' || r == '\u200B' || r == '\uFEFF' {
			continue
		}
		if strings.ContainsRune(formulaStarts, r) {
			return "'" + s
		}
		break
	}
	return s
}
