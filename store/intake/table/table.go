// Package table reads a file that holds a table, CSV or XLSX as people send
// it, into rows of text within fixed bounds. It does not know what the columns
// mean: package columns finds that out. It is the first step of store/intake
// and writes nothing.
package table

import (
	"cmp"
	"fmt"
	"strings"
)

// Format is the kind of file that a table came from.
type Format string

// The formats that can be read.
const (
	CSV      Format = "CSV"
	Workbook Format = "XLSX"
)

// Row is one row that holds something. Line is its number in the file: the
// line on which it starts, or the row of the worksheet.
type Row struct {
	Line  int
	Cells []string // trailing blank cells are left out
}

// Cell gives the cell at an index, blank beyond the end of the row.
func (r Row) Cell(i int) string {
	if i < 0 || i >= len(r.Cells) {
		return ""
	}
	return r.Cells[i]
}

// Table is what a file holds, headings and all.
type Table struct {
	Name      string // of the file, for messages
	Format    Format
	Separator rune     // of a CSV file
	Sheet     string   // of a workbook: the worksheet that was read
	Sheets    []string // of a workbook: all its worksheets
	Rows      []Row    // rows that hold something
	MaxRows   int      // most data rows that may be taken from it
	Notes     []string // what a reader should know of how it was read
}

// Options say how to read where the file leaves a choice. The zero value lets
// the file decide.
type Options struct {
	Sheet     string // worksheet to read; empty: the first one that holds something
	Separator rune   // of a CSV file; 0: found out
	Limits    Limits
}

// Limits bound what a file may cost. Zero fields take the usual values.
type Limits struct {
	Bytes    int64 // of the file
	Unpacked int64 // of a workbook once unpacked
	Ratio    int64 // unpacked to packed size of a workbook
	Entries  int   // parts of a workbook
	Rows     int   // data rows
	Columns  int
	Cells    int // cells kept in all
	Letters  int // of one cell
}

// headingRows may stand above and between the data rows on top of Limits.Rows.
const headingRows = 1000

// UsualLimits gives the bounds that hold where none are stated.
func UsualLimits() Limits {
	return Limits{Bytes: 20 << 20, Unpacked: 200 << 20, Ratio: 100, Entries: 1000,
		Rows: 100_000, Columns: 512, Cells: 5_000_000, Letters: 10_000}
}

func (l Limits) orUsual() Limits {
	u := UsualLimits()
	return Limits{
		Bytes: cmp.Or(l.Bytes, u.Bytes), Unpacked: cmp.Or(l.Unpacked, u.Unpacked), Ratio: cmp.Or(l.Ratio, u.Ratio),
		Entries: cmp.Or(l.Entries, u.Entries), Rows: cmp.Or(l.Rows, u.Rows), Columns: cmp.Or(l.Columns, u.Columns),
		Cells: cmp.Or(l.Cells, u.Cells), Letters: cmp.Or(l.Letters, u.Letters),
	}
}

// Read reads the table that the bytes of a file hold. The error is a sentence
// for the person who sent the file.
func Read(name string, data []byte, opt Options) (*Table, error) {
	limits := opt.Limits.orUsual()
	t := &Table{Name: name, MaxRows: limits.Rows}
	if int64(len(data)) > limits.Bytes {
		return nil, fmt.Errorf("the file is %s; at most %s can be read: leave out what is not the table, or split it", megabytes(int64(len(data))), megabytes(limits.Bytes))
	}
	kind, refusal := sniff(data)
	if refusal != "" {
		return nil, fmt.Errorf("%s", refusal)
	}
	var err error
	if kind == Workbook {
		err = t.readWorkbook(data, opt, limits)
	} else {
		err = t.readCSV(data, opt, limits)
	}
	if err == nil && len(t.Rows) == 0 {
		err = fmt.Errorf("the file holds no table: every line of it is blank")
	}
	if err != nil {
		return nil, err
	}
	return t, nil
}

func (t *Table) note(format string, args ...any) {
	t.Notes = append(t.Notes, fmt.Sprintf(format, args...))
}

// keeper collects rows and minds the bounds.
type keeper struct {
	table  *Table
	limits Limits
	cells  int      // kept so far
	rows   int      // rows that hold something, kept or not
	arena  []string // rows are cut from it, so that a row costs no allocation
}

// add keeps a row that holds something. The cells may be reused by the caller.
func (k *keeper) add(line int, cells []string) error {
	n := len(cells)
	for n > 0 && strings.TrimSpace(cells[n-1]) == "" {
		n--
	}
	if n == 0 {
		return nil
	}
	k.rows++
	if k.rows > k.limits.Rows+headingRows {
		return nil // counted only: overflow refuses the file
	}
	if n > k.limits.Columns {
		return fmt.Errorf("line %d has a cell in column %d; at most %d columns can be read: leave out the cells to the right of the table", line, n, k.limits.Columns)
	}
	if k.cells += n; k.cells > k.limits.Cells {
		return fmt.Errorf("the table has more than %s cells up to line %d: split it, or leave out columns", Count(k.limits.Cells), line)
	}
	for i, c := range cells[:n] {
		if len(c) > k.limits.Letters {
			if letters := len([]rune(c)); letters > k.limits.Letters {
				return fmt.Errorf("line %d, column %d: the cell has %s letters; at most %s can be read. A quotation mark that is never closed does this too", line, i+1, Count(letters), Count(k.limits.Letters))
			}
		}
	}
	if len(k.arena) < n {
		k.arena = make([]string, max(4096, n))
	}
	kept := k.arena[:n:n]
	k.arena = k.arena[n:]
	copy(kept, cells)
	k.table.Rows = append(k.table.Rows, Row{Line: line, Cells: kept})
	return nil
}

func (k *keeper) overflow() error {
	if k.rows > k.limits.Rows+headingRows {
		return TooManyRows(k.rows, k.limits.Rows)
	}
	return nil
}

// TooManyRows is the refusal of a table that is too long.
func TooManyRows(rows, most int) error {
	return fmt.Errorf("the file has %s rows; at most %s can be read at once: split it, for example by building or storey", Count(rows), Count(most))
}

// Count prints a whole number with thousands separators: "100,000".
func Count(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

func megabytes(n int64) string {
	return fmt.Sprintf("%.1f MB", float64(n)/(1<<20))
}
