package table

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// workRatio bounds the cells that are looked at, blank ones too, by the cells
// that may be kept: a sheet with one cell far to the right of each row costs
// much and holds little.
const workRatio = 8

func (t *Table) readWorkbook(data []byte, opt Options, limits Limits) (err error) {
	if err := checkArchive(data, limits); err != nil {
		return err
	}
	damaged := fmt.Errorf("the workbook cannot be read, it may be damaged: open it and save it again as .xlsx, or as CSV")
	defer func() { // a hostile workbook must not end the program
		if recover() != nil {
			err = damaged
		}
	}()
	// Nothing goes to temporary files: the archive has been checked to fit.
	book, openErr := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: limits.Unpacked, UnzipXMLSizeLimit: limits.Unpacked})
	if openErr != nil {
		return damaged
	}
	defer book.Close()
	t.Format, t.Sheets = Workbook, book.GetSheetList()
	wanted, err := t.wantedSheets(opt.Sheet)
	if err != nil {
		return err
	}
	shown := showsOtherwise(book)
	for _, sheet := range wanted {
		t.Sheet = sheet
		keep := keeper{table: t, limits: limits}
		if err := keep.readSheet(book, sheet, shown); err != nil {
			return err
		}
		if err := keep.overflow(); err != nil {
			return err
		}
		if len(t.Rows) > 0 {
			t.fillMerged(book, sheet, limits.Columns)
			break
		}
	}
	if len(t.Sheets) > 1 && len(t.Rows) > 0 {
		t.note("The workbook has %d worksheets; %q was read.", len(t.Sheets), t.Sheet)
	}
	return nil
}

func (t *Table) wantedSheets(named string) ([]string, error) {
	if named == "" {
		return t.Sheets, nil
	}
	for _, s := range t.Sheets {
		if strings.EqualFold(s, named) {
			return []string{s}, nil
		}
	}
	return nil, fmt.Errorf("the workbook has no worksheet %q; it has %s", named, strings.Join(t.Sheets, ", "))
}

// readSheet keeps the rows of a worksheet. Numbers are taken as stored, not as
// rounded for the screen; where shown is set, dates and percentages as shown.
func (k *keeper) readSheet(book *excelize.File, sheet string, shown bool) error {
	rows, err := book.Rows(sheet)
	if err != nil {
		return nil // a chart sheet: no cells
	}
	defer rows.Close()
	var second *excelize.Rows
	if shown {
		if second, err = book.Rows(sheet); err != nil {
			return err
		}
		defer second.Close()
	}
	hidden, looked, dates := 0, 0, 0
	for line := 1; rows.Next(); line++ {
		cells, err := rows.Columns()
		if err != nil {
			return fmt.Errorf("row %d of worksheet %q cannot be read: save the workbook again as .xlsx, or as CSV", line, sheet)
		}
		if looked += len(cells); looked > k.limits.Cells*workRatio {
			return fmt.Errorf("worksheet %q has cells far outside its table (up to row %d): copy the table alone into a new workbook", sheet, line)
		}
		for i, c := range cells {
			cells[i] = tidyNumber(c)
		}
		if second != nil && second.Next() {
			asShown, _ := second.Columns(excelize.Options{RawCellValue: false})
			dates += takeShown(cells, asShown)
		}
		before := k.rows
		if err := k.add(line, cells); err != nil {
			return err
		}
		if k.rows > before && rows.GetRowOpts().Hidden {
			hidden++
		}
	}
	if err := rows.Error(); err != nil {
		return fmt.Errorf("worksheet %q cannot be read to its end: save the workbook again as .xlsx, or as CSV", sheet)
	}
	if hidden > 0 {
		k.table.note("%d hidden rows of the worksheet were read too.", hidden)
	}
	if dates > 0 {
		k.table.note("%d cells hold dates and were read as the worksheet shows them. A room number such as 1-2 turns into a date when it is typed into a cell that is not text.", dates)
	}
	return nil
}

// tidyNumber prints the number 80.3, stored as 80.299999999999997, as 80.3.
// Text that merely looks like a number keeps its letters.
func tidyNumber(cell string) string {
	if len(cell) < 15 || len(cell) > 30 || !strings.ContainsAny(cell, ".E") || strings.Trim(cell, "0123456789.E+-") != "" {
		return cell
	}
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return cell
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// showsOtherwise tells whether any cell may show a date or a percentage, so
// that the sheet must also be read as shown.
func showsOtherwise(book *excelize.File) bool {
	for i := range excelize.MaxCellStyles {
		style, err := book.GetStyle(i)
		if err != nil {
			return false
		}
		format := ""
		if style.CustomNumFmt != nil {
			format = *style.CustomNumFmt
		}
		if dateOrPercent(style.NumFmt, format) {
			return true
		}
	}
	return true
}

// dateOrPercent goes by the built-in number formats of ECMA-376 part 1,
// 18.8.30 (from memory): 9 and 10 are percentages, 14 to 22, 27 to 36, 45 to
// 47 and 50 to 58 dates and times.
func dateOrPercent(id int, format string) bool {
	switch {
	case id == 9, id == 10, id >= 14 && id <= 22, id >= 27 && id <= 36, id >= 45 && id <= 47, id >= 50 && id <= 58:
		return true
	}
	return strings.ContainsAny(unquoted(format), "dDmMyYhH%")
}

// unquoted leaves out of a number format what stands in it as plain text.
func unquoted(format string) string {
	var b strings.Builder
	in := rune(0)
	escaped := false
	for _, r := range format {
		switch {
		case escaped:
			escaped = false
		case r == '\\' && in == 0:
			escaped = true
		case in == 0 && (r == '"' || r == '['):
			in = map[rune]rune{'"': '"', '[': ']'}[r]
		case in != 0:
			if r == in {
				in = 0
			}
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// takeShown puts what the sheet shows in place of the stored number of a date
// or a percentage, and gives the number of dates.
func takeShown(raw, shown []string) (dates int) {
	for i := range min(len(raw), len(shown)) {
		if raw[i] == shown[i] {
			continue
		}
		v, err := strconv.ParseFloat(raw[i], 64)
		if err != nil {
			continue
		}
		switch {
		case strings.HasSuffix(shown[i], "%"):
			raw[i] = strconv.FormatFloat(v*100, 'g', 12, 64) + "%"
		case looksLikeDate(shown[i]):
			raw[i] = shown[i]
			dates++
		}
	}
	return dates
}

func looksLikeDate(shown string) bool {
	if !strings.ContainsAny(shown, "0123456789") {
		return false
	}
	return strings.ContainsAny(strings.TrimLeft(shown, "-"), "-/:") || strings.Count(shown, ".") == 2
}
