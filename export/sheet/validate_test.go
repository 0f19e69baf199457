package sheet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func documentWith(b ...Block) Document {
	return Document{Title: "Test", Sheets: []Sheet{{ID: "a", Title: "A", Blocks: b}}}
}

func TestValidate_saysWhatIsWrongAndWhere(t *testing.T) {
	two := []Column{{Title: "Tag"}, {Title: "Power", Kind: Number}}
	rows := func(r ...Row) Document { return documentWith(Table{Caption: "Loads", Columns: two, Rows: r}) }
	for name, c := range map[string]struct {
		doc  Document
		want string
	}{
		"too few cells":     {rows(Row{Cells: []Cell{TextCell("L1")}}), `table "Loads", row 1: 1 cells where 2 belong`},
		"too many cells":    {rows(Row{Cells: make([]Cell, 3)}), "3 cells where 2 belong"},
		"group of two":      {rows(Row{Group: true, Cells: make([]Cell, 2)}), "2 cells where 1 belong"},
		"not a number":      {rows(Row{Cells: []Cell{{}, NumberCell(math.NaN(), 1)}}), "cell 2: NaN is not a number"},
		"infinite":          {rows(Row{Cells: []Cell{{}, NumberCell(math.Inf(1), 1)}}), "+Inf is not a number"},
		"decimals":          {rows(Row{Cells: []Cell{{}, NumberCell(1, 12)}}), "12 decimals"},
		"mark":              {rows(Row{Cells: []Cell{{Mark: "purple"}, {}}}), `unknown mark "purple"`},
		"changed":           {rows(Row{Cells: make([]Cell, 2), Changed: -1}), "must not be negative"},
		"no columns":        {documentWith(Table{}), "has no columns"},
		"width":             {documentWith(Table{Columns: []Column{{Title: "T", Width: -1}}}), "width -1"},
		"level":             {documentWith(Heading{Level: 4}), "heading level 4"},
		"facts":             {documentWith(Facts{Columns: 5}), "5 columns of facts"},
		"severity":          {documentWith(Findings{Items: []FindingLine{{Severity: "fatal"}}}), `unknown severity "fatal"`},
		"pointer":           {documentWith(&Paragraph{Text: "x"}), "as a value, not as a pointer"},
		"missing block":     {documentWith(nil), "the block is missing"},
		"no title":          {Document{Sheets: documentWith().Sheets}, "the document has no title"},
		"no sheets":         {Document{Title: "x"}, "no sheets"},
		"ID not a slug":     {Document{Title: "x", Sheets: []Sheet{{ID: "Room 1", Title: "t"}}}, `ID "Room 1" must be`},
		"ID twice":          {Document{Title: "x", Sheets: []Sheet{{ID: "a", Title: "t"}, {ID: "a", Title: "t"}}}, "used twice"},
		"sheet title":       {Document{Title: "x", Sheets: []Sheet{{ID: "a"}}}, "the title is missing"},
		"date of the trade": {Document{Title: "x", Sheets: []Sheet{{ID: "a", Title: "t", Head: TitleBlock{Date: "3/1/2026"}}}}, "ISO date"},
	} {
		t.Run(name, func(t *testing.T) {
			assert.ErrorContains(t, c.doc.Validate(), c.want)
		})
	}
}

func TestValidate_passesASoundDocument(t *testing.T) {
	require.NoError(t, documentWith(
		Heading{Level: 3}, Facts{Columns: 4},
		Table{Columns: []Column{{Title: "T"}}, Rows: []Row{{Cells: make([]Cell, 1)}, {Group: true, Cells: make([]Cell, 1)}}},
	).Validate())
}

func TestTables_areNamedByCaptionOrSheet(t *testing.T) {
	d := documentWith(Table{Caption: "Loads"}, Heading{Level: 1}, Table{})
	require.Len(t, d.Tables(), 2)
	assert.Equal(t, "Loads", d.Tables()[0].Name)
	assert.Equal(t, "A", d.Tables()[1].Name)
}
