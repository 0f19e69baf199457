package sheettest

import (
	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/export/sheet"
)

// Beneath is a plan sheet of a room over a picture that is larger than it, and text after it.
func Beneath(stored drawing.Stored) sheet.Document {
	p := &domain.Project{Units: units.SI, Buildings: []domain.Building{{ID: "b", Storeys: []domain.Storey{{ID: "s", Name: "Level 1"}}}}}
	room := &domain.Room{ID: "r", StoreyID: "s", Number: "100", Name: "Hall", Outline: geom.Rectangle(3, 4, 20, 5)}
	plan := &domain.Plan{ID: "s", Underlay: &domain.Underlay{Picture: "abc", At: geom.Pt(0, 0), Width: 30, Height: 15, Turn: 2, Opacity: 0.4}}
	view := drawing.StoreyView(p, plan, []*domain.Resolved{{Room: room}}, drawing.Options{Furniture: true, Beneath: map[string]drawing.Stored{"abc": stored}})
	return sheet.Document{Title: "Plan", Sheets: []sheet.Sheet{{ID: "plan", Number: "EL-101", Title: "Plan", Head: Head(""), Landscape: true,
		Blocks: []sheet.Block{sheet.Drawing{View: view}, sheet.Paragraph{Text: "After the drawing."}}}}}
}

// Lines is a drawing of a diagonal and an open and a closed run.
func Lines() drawing.Stored {
	t, _, err := drawing.NewTracing([]drawing.Stroke{{Points: []geom.Point{{X: 1, Y: 1}, {X: 29, Y: 14}}}, {Points: []geom.Point{{}, {X: 30}, {X: 30, Y: 15}}, Closed: true}})
	if err != nil {
		panic(err) // the lines above have a length
	}
	return drawing.Stored{Media: drawing.TracingMedia, Data: t.Encode()}
}
