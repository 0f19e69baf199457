package ui

import (
	"context"
	"html"
	"io"
	"strconv"

	"github.com/a-h/templ"
)

// Rows of a grid are on the hot path of every edit: a room has some 400 cells,
// and a component a cell took longer than storing the edit. So rows are
// written by hand here, every text escaped, and nowhere else.

// gridRows gives the rows of a grid's body.
func gridRows(g Grid) templ.Component {
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		buf := make([]byte, 0, 96*len(g.Columns)*(1+len(g.Rows)))
		for i := range g.Rows {
			buf = appendRow(buf, g.Columns, &g.Rows[i])
		}
		_, err := w.Write(buf)
		return err
	})
}

// GridRowPart brings one row of an open grid anew.
func GridRowPart(columns []Column, row GridRow) templ.Component {
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		buf := append(make([]byte, 0, 2048), `<hx-partial hx-target="#`...)
		buf = appendText(buf, DOMID(row.ID))
		buf = append(buf, `" hx-swap="outerMorph">`...)
		buf = appendRow(buf, columns, &row)
		buf = append(buf, `</hx-partial>`...)
		_, err := w.Write(buf)
		return err
	})
}

func appendRow(buf []byte, columns []Column, row *GridRow) []byte {
	if row.Group != "" {
		buf = append(buf, `<tr class="group"><th scope="rowgroup" colspan="`...)
		buf = strconv.AppendInt(buf, int64(len(columns)+1), 10)
		buf = append(buf, `">`...)
		buf = appendText(buf, row.Group)
		buf = append(buf, `</th></tr>`...)
	}
	buf = append(buf, `<tr`...)
	if row.ID != "" {
		buf = appendAttribute(buf, "id", DOMID(row.ID))
	}
	buf = append(buf, '>')
	for i := range row.Cells {
		buf = appendCell(buf, &row.Cells[i], i == 0, i < len(columns) && columns[i].Wide)
	}
	if len(row.Actions) > 0 {
		buf = append(buf, `<td class="row-actions">`...)
		for i := range row.Actions {
			buf = appendAction(buf, &row.Actions[i], row.ID)
		}
		buf = append(buf, `</td>`...)
	}
	return append(buf, `</tr>`...)
}

func appendCell(buf []byte, c *Cell, head, wide bool) []byte {
	element := "td"
	if head {
		element = "th"
		buf = append(buf, `<th scope="row" class="cell`...)
	} else {
		buf = append(buf, `<td class="cell`...)
	}
	if c.Class != "" {
		buf = append(buf, ' ')
		buf = appendText(buf, c.Class)
	}
	if wide {
		buf = append(buf, ` wrap`...)
	}
	buf = append(buf, `" tabindex="-1"`...)
	if c.Path == "" {
		buf = append(buf, ` aria-readonly="true"`...)
	} else {
		buf = appendAttribute(buf, "id", "c-"+DOMID(c.Path))
		buf = appendAttribute(buf, "data-path", c.Path)
	}
	if c.Title != "" {
		buf = appendAttribute(buf, "title", c.Title)
	}
	buf = append(buf, '>')
	buf = appendText(buf, c.Text)
	buf = append(buf, `</`...)
	buf = append(buf, element...)
	return append(buf, '>')
}

func appendAction(buf []byte, a *RowAction, row string) []byte {
	buf = append(buf, `<button type="button" class="quiet small`...)
	buf = append(buf, signs[a.Name]...)
	buf = append(buf, `" hx-swap="none"`...)
	buf = appendAttribute(buf, "hx-post", a.Path)
	buf = appendAttribute(buf, "hx-vals", Vals("row", row))
	buf = appendAttribute(buf, "title", a.Title)
	buf = appendAttribute(buf, "aria-label", a.Title)
	buf = append(buf, `><span>`...)
	buf = appendText(buf, a.Name)
	return append(buf, `</span></button>`...)
}

// signs are classes of the actions that wide screens draw as a sign, since so many rows
// have them; their title says the rest.
var signs = map[string]string{"Copy": " sign copy", "Remove": " sign remove"}

func appendAttribute(buf []byte, name, value string) []byte {
	buf = append(buf, ' ')
	buf = append(buf, name...)
	buf = append(buf, `="`...)
	buf = appendText(buf, value)
	return append(buf, '"')
}

// appendText appends text with the five letters escaped that mean something in
// HTML, as html.EscapeString does; most texts have none of them.
func appendText(buf []byte, text string) []byte {
	for i := range len(text) {
		switch text[i] {
		case '&', '\'', '<', '>', '"':
			return append(buf, html.EscapeString(text)...)
		}
	}
	return append(buf, text...)
}
