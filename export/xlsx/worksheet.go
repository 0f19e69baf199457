package xlsx

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"scopewright/export/sheet"
)

// markColumn stands behind the table when a cell is marked or a row changed, since a
// workbook has no margin for triangles.
const markColumn = "Marks"

// worksheet writes one table: title rows, column titles, rows, notes.
func (b *book) worksheet(name string, t sheet.NamedTable) error {
	columns := len(t.Table.Columns)
	if hasMarks(t.Table) {
		columns++
	}
	heads := headRows(t)
	if columns > maxColumns || len(t.Table.Rows)+len(heads)+10 > maxRows {
		return fmt.Errorf("%d rows by %d columns are more than a worksheet holds", len(t.Table.Rows), columns)
	}
	titleRow := len(heads) + 1
	if err := b.printSetup(name, titleRow, t); err != nil { // a stream that has begun would drop it
		return err
	}
	out, err := b.file.NewStreamWriter(name)
	if err != nil {
		return err
	}
	s := stream{out: out, styles: &b.styles, table: t.Table, columns: columns}
	if err := s.prepare(titleRow); err != nil { // widths and panes go before the first row
		return err
	}
	if err := s.all(heads); err != nil {
		return err
	}
	return out.Flush()
}

// headRows are the lines above the table, so that a worksheet on its own says what it is.
func headRows(t sheet.NamedTable) []string {
	var origin, state []string
	for _, f := range t.Sheet.Head.Origin() {
		origin = append(origin, f.Value)
	}
	for _, f := range t.Sheet.Head.State() {
		state = append(state, f.Name+": "+f.Value)
	}
	rows := []string{t.Name, strings.Join(append([]string{t.Sheet.Number}, origin...), " · "), strings.Join(state, " · ")}
	if t.Sheet.Head.Invented {
		rows = append(rows, sheet.InventedNotice)
	}
	if t.Sheet.Head.Caution != "" {
		rows = append(rows, t.Sheet.Head.Caution)
	}
	if holdsDrawing(t.Sheet) {
		rows = append(rows, "The plan is not in this workbook: take the sheet as PDF.")
	}
	return append(rows, "")
}

func holdsDrawing(s sheet.Sheet) bool {
	for _, b := range s.Blocks {
		if _, ok := b.(sheet.Drawing); ok {
			return true
		}
	}
	return false
}

type stream struct {
	out     *excelize.StreamWriter
	styles  *styles
	table   sheet.Table
	columns int
	row     int
}

func (s *stream) prepare(titleRow int) error {
	for i := range s.columns {
		if err := s.out.SetColWidth(i+1, i+1, s.width(i)); err != nil {
			return err
		}
	}
	return s.out.SetPanes(&excelize.Panes{
		Freeze: true, YSplit: titleRow, TopLeftCell: fmt.Sprintf("A%d", titleRow+1), ActivePane: "bottomLeft",
	})
}

// width is the longest line of a column in characters, within what reads well.
func (s *stream) width(i int) float64 {
	if i >= len(s.table.Columns) {
		return s.marksWidth()
	}
	c := s.table.Columns[i]
	longest := max(utf8.RuneCountInString(c.Title), utf8.RuneCountInString(c.Unit)+3)
	for _, r := range s.table.Rows {
		if r.Group {
			continue
		}
		for _, line := range strings.Split(r.Cells[i].String(), "\n") {
			longest = max(longest, utf8.RuneCountInString(line))
		}
	}
	return float64(min(max(longest+2, 8), 60))
}

func (s *stream) marksWidth() float64 {
	longest := len(markColumn)
	for _, r := range s.table.Rows {
		longest = max(longest, utf8.RuneCountInString(rowMarks(s.table, r)))
	}
	return float64(min(longest+2, 80))
}

func (s *stream) write(cells []any) error {
	s.row++
	at, err := excelize.CoordinatesToCellName(1, s.row)
	if err != nil {
		return err
	}
	return s.out.SetRow(at, cells)
}

func (s *stream) line(text string, style int) error {
	return s.write([]any{excelize.Cell{StyleID: style, Value: safe(text)}})
}

func (s *stream) all(heads []string) error {
	for i, h := range heads {
		style := s.styles.origin
		if i == 0 {
			style = s.styles.title
		}
		if err := s.line(h, style); err != nil {
			return err
		}
	}
	if err := s.write(s.titles()); err != nil {
		return err
	}
	for _, r := range s.table.Rows {
		cells, err := s.cells(r)
		if err != nil {
			return err
		}
		if err := s.write(cells); err != nil {
			return err
		}
	}
	return s.notes()
}

func (s *stream) titles() []any {
	var cells []any
	for _, c := range s.table.Columns {
		title := c.Title
		if c.Unit != "" {
			title += " (" + c.Unit + ")"
		}
		cells = append(cells, excelize.Cell{StyleID: s.styles.head, Value: safe(title)})
	}
	if s.columns > len(s.table.Columns) {
		cells = append(cells, excelize.Cell{StyleID: s.styles.head, Value: markColumn})
	}
	return cells
}

func (s *stream) cells(r sheet.Row) ([]any, error) {
	if r.Group {
		cells := []any{excelize.Cell{StyleID: s.styles.group, Value: safe(r.Cells[0].String())}}
		for len(cells) < s.columns {
			cells = append(cells, excelize.Cell{StyleID: s.styles.group})
		}
		return cells, nil
	}
	cells := make([]any, 0, s.columns)
	for i, c := range r.Cells {
		isNumber := s.table.Columns[i].Kind == sheet.Number && c.Number != nil && c.Text == ""
		look := numberStyle{decimals: -1, total: r.Total, marked: c.Mark != sheet.Plain}
		var value any = safe(c.String())
		if isNumber {
			look.decimals, value = c.Decimals, number(c)
		}
		id, err := s.styles.body(look)
		if err != nil {
			return nil, err
		}
		cells = append(cells, excelize.Cell{StyleID: id, Value: value})
	}
	if s.columns > len(r.Cells) {
		id, err := s.styles.body(numberStyle{decimals: -1})
		if err != nil {
			return nil, err
		}
		cells = append(cells, excelize.Cell{StyleID: id, Value: safe(rowMarks(s.table, r))})
	}
	return cells, nil
}

func (s *stream) notes() error {
	var notes []string
	if len(s.table.Rows) == 0 {
		notes = append(notes, s.table.EmptyText())
	}
	if s.table.Note != "" {
		notes = append(notes, s.table.Note)
	}
	for _, n := range notes {
		if err := s.line(n, s.styles.note); err != nil {
			return err
		}
	}
	return nil
}

func hasMarks(t sheet.Table) bool { return t.HasChanges() || len(t.Marks()) > 0 }

// rowMarks says in words what the paper says by triangle and sign.
func rowMarks(t sheet.Table, r sheet.Row) string {
	var marks []string
	if r.Changed > 0 {
		marks = append(marks, fmt.Sprintf("revision %d", r.Changed))
	}
	for i, c := range r.Cells {
		if c.Mark != sheet.Plain {
			marks = append(marks, t.Columns[i].Title+": "+c.Mark.Meaning())
		}
	}
	return strings.Join(marks, "; ")
}

// printSetup prints the worksheet across the page, as wide as the paper, column titles on each page.
func (b *book) printSetup(name string, titleRow int, t sheet.NamedTable) error {
	landscape, width, height, fit := "landscape", 1, 0, true
	if err := b.file.SetPageLayout(name, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &width, FitToHeight: &height}); err != nil {
		return err
	}
	if err := b.file.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	if err := b.file.SetHeaderFooter(name, &excelize.HeaderFooterOptions{OddFooter: "&L" + footer(t) + "&RPage &P of &N"}); err != nil {
		return err
	}
	quoted := "'" + strings.ReplaceAll(name, "'", "''") + "'"
	return b.file.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("%s!$%d:$%d", quoted, titleRow, titleRow), Scope: name,
	})
}

// footer keeps within the 255 characters of a printed footer; & starts a code there.
func footer(t sheet.NamedTable) string {
	text := strings.ReplaceAll(safe(t.Sheet.Number+"  Revision "+t.Sheet.Head.RevisionText()+"  "+t.Sheet.Head.Date), "&", "&&")
	return strings.TrimRight(cut(text, 200), "&")
}
