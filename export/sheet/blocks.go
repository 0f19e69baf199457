// Package sheet is the paper of the house as typed values: documents, sheets and
// the closed set of blocks that stand on them. It knows no format and no room;
// the renderers html, pdf, xlsx and csv print it, and the documents are built
// beside this file, one file a document.
package sheet

import "scopewright/export/drawing"

// Document is what is issued in one piece: one room's scope sheet, one schedule,
// or the whole issue set with its cover.
type Document struct {
	Title  string
	Sheets []Sheet
}

// Sheet is one numbered sheet of a document. It may flow over several pages.
type Sheet struct {
	// ID is a slug, unique within the document, e.g. "room-214". The HTML page uses it as anchor.
	ID string
	// Number is the sheet number that the index and the title strip print, e.g. "C-101".
	Number    string
	Title     string
	Head      TitleBlock
	Landscape bool
	Blocks    []Block
}

// TitleBlock is what every page of a sheet says about its origin and state.
// Empty fields are left out in print, apart from the revision.
type TitleBlock struct {
	Project       string
	ProjectNumber string
	Client        string
	Address       string
	Building      string
	Storey        string
	Room          string // number and name in one, empty for building-wide sheets
	Revision      string
	Date          string // ISO 8601, e.g. 2026-03-01
	Purpose       string // e.g. "not issued", "for construction"
	Designer      string
	Checker       string
	Reviewer      string
	Units         string // e.g. "US customary" or "SI"
	Hash          string // short hash of the content that the signature binds to
	Invented      bool   // prints "Invented demo data" on every page
	Caution       string // footer sentence of every page
}

// InventedNotice is printed on every page of a sheet whose head says Invented.
const InventedNotice = "Invented demo data"

// Block is one piece of a sheet. The set is closed: Heading, Paragraph, Facts, Table,
// Statements, Findings, Buttons, Checklist, Signatures, Caution, Legend, Index, BigText,
// Drawing, Chart and PageBreak. A renderer switches over all of them.
type Block interface{ block() }

// Heading opens a part of the sheet. Level runs from 1 to 3.
type Heading struct {
	Level int
	Text  string
}

// Paragraph is running text. Strong sets it in bold.
type Paragraph struct {
	Text   string
	Strong bool
}

// Facts is a list of names and values, set in 1 to 4 columns.
type Facts struct {
	Columns int
	Items   []Fact
}

// Fact is one name with its value, e.g. "Area", "75 m2".
type Fact struct{ Name, Value string }

// Align is the horizontal place of a column's cells.
type Align int

// The alignments of a column.
const (
	Left Align = iota
	Right
	Center
)

// Kind tells what the cells of a column hold; XLSX and CSV write a Number as a number.
type Kind int

// The kinds of column. Cells of a Number column are right aligned unless the column says Center.
const (
	Text Kind = iota
	Number
)

// Column is one column of a table.
type Column struct {
	Title string
	Unit  string // printed under or after the title, e.g. "W"
	Align Align
	// Width is the column's relative weight; 0 leaves the width to the contents.
	Width float64
	Kind  Kind
}

// Table is rows under column titles. An empty Rows prints the Empty sentence instead.
type Table struct {
	Caption string
	Columns []Column
	Rows    []Row
	Note    string // printed under the table
	Empty   string // sentence shown when there are no rows
	Writing bool   // rows are high enough to write in by hand
}

// Row is one row of a table. A Group row has exactly one cell, which spans all columns.
type Row struct {
	Cells []Cell
	Group bool
	Total bool
	// Changed is the revision in which the row last changed, printed in a triangle; 0 prints none.
	Changed int
}

// Mark says that a cell is out of the ordinary. Every mark prints a symbol, never only a color.
type Mark string

// The marks of a cell.
const (
	Plain     Mark = ""
	Changed   Mark = "changed"
	Exception Mark = "exception"
	Waived    Mark = "waived"
	Error     Mark = "error"
	Warning   Mark = "warning"
	Unmet     Mark = "unmet"  // a check of an energy code that is not met
	Untold    Mark = "untold" // one that cannot be told
)

// Marks lists the marks but Plain, in the order of a key.
func Marks() []Mark { return []Mark{Changed, Exception, Waived, Error, Warning, Unmet, Untold} }

// Cell is one value. Text is printed when it is set, otherwise Number with its decimals.
type Cell struct {
	Text     string
	Number   *float64
	Decimals int
	Mark     Mark
}

// Statements is a sequence of operations in numbered sentences.
type Statements struct{ Items []Statement }

// Statement is one sentence. ID is its lasting name (e.g. "P-1"), empty prints its place in the list.
// Source says where it stems from, e.g. the intent or the code requirement.
type Statement struct{ ID, Text, Source string }

// Severity of a finding.
type Severity string

// The severities, from the one that stops an issue to the one that only tells.
const (
	SeverityError   Severity = "error"
	SeverityWarning Severity = "warning"
	SeverityInfo    Severity = "info"
)

// Findings lists what the rules found. An empty list prints that there are none.
type Findings struct{ Items []FindingLine }

// FindingLine is one finding, with the waiver's reason and name when it is waived.
type FindingLine struct {
	Severity Severity
	Rule     string
	Text     string
	Waiver   string
}

// Buttons is the installer's map of one station, button by button, in big type.
type Buttons struct {
	Station string // e.g. "S1 – 4-button station"
	Where   string // e.g. "beside the corridor door, 48 in above floor"
	Items   []ButtonLine
}

// ButtonLine is one button: its number from the top, the engraved label, what a press does.
type ButtonLine struct {
	Number int
	Label  string
	Action string
}

// Checklist is the reviewer's list with verdicts, comments and answers.
type Checklist struct{ Items []CheckLine }

// CheckLine is one checked item. An empty Verdict leaves a box to fill in by hand.
type CheckLine struct{ Number, Subject, Text, Verdict, Comment, Answer string }

// Signatures is a row of boxes to sign in.
type Signatures struct{ Items []Signature }

// Signature is one box. An empty Name leaves a line to sign by hand.
// State says what the signature is worth now, e.g. "valid" or "stale: the room changed since".
type Signature struct{ Role, Name, Date, State string }

// Caution is a boxed warning.
type Caution struct{ Title, Text string }

// Legend explains symbols and abbreviations.
type Legend struct{ Items []LegendItem }

// LegendItem is one symbol with its meaning.
type LegendItem struct{ Symbol, Meaning string }

// Index is the list of sheets on a cover. Number matches a sheet's Number; the PDF fills
// in the page on which that sheet starts, other renderers print Page as it is.
type Index struct{ Items []IndexLine }

// IndexLine is one line of the index.
type IndexLine struct{ Number, Title, Page string }

// BigText is a sentence that can be read from a ladder.
type BigText struct{ Text string }

// Drawing is a plan. The renderer draws it at the largest standard scale that its paper
// holds; scale bar, north arrow and legend belong to the view.
type Drawing struct {
	Caption string
	View    *drawing.View
	Height  float64 // at most, in millimeters; 0: what the page has room for
	Note    string  // printed under the drawing
}

// Chart is a picture of numbers that a table of the sheet gives too.
type Chart struct {
	Caption string
	Chart   drawing.Chart
	Note    string
}

// PageBreak starts a new page.
type PageBreak struct{}

func (Heading) block()    {}
func (Paragraph) block()  {}
func (Facts) block()      {}
func (Table) block()      {}
func (Statements) block() {}
func (Findings) block()   {}
func (Buttons) block()    {}
func (Checklist) block()  {}
func (Signatures) block() {}
func (Caution) block()    {}
func (Legend) block()     {}
func (Index) block()      {}
func (BigText) block()    {}
func (Drawing) block()    {}
func (Chart) block()      {}
func (PageBreak) block()  {}
