package sheet

// NamedTable is a table with the sheet it stands on, for formats that hold tables only.
type NamedTable struct {
	Name  string // the caption, or the sheet's title where there is none
	Sheet Sheet
	Table Table
}

// Tables lists all tables of the document in the order of printing.
func (d Document) Tables() []NamedTable {
	var tables []NamedTable
	for _, s := range d.Sheets {
		for _, b := range s.Blocks {
			t, ok := b.(Table)
			if !ok {
				continue
			}
			name := t.Caption
			if name == "" {
				name = s.Title
			}
			tables = append(tables, NamedTable{Name: name, Sheet: s, Table: t})
		}
	}
	return tables
}

// NamedDrawing is a drawing with the sheet it stands on.
type NamedDrawing struct {
	Sheet   Sheet
	Drawing Drawing
}

// Drawings lists all drawings of the document in the order of printing.
func (d Document) Drawings() []NamedDrawing {
	var out []NamedDrawing
	for _, s := range d.Sheets {
		for _, b := range s.Blocks {
			if plan, ok := b.(Drawing); ok {
				out = append(out, NamedDrawing{s, plan})
			}
		}
	}
	return out
}
