package sheettest

import (
	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/export/sheet"
)

// plan is a room of 8 x 7 m with a hole in it for a shaft, two walls, a load's luminaires
// and a few devices, one of them without a place.
func plan() *drawing.View {
	p := &domain.Project{Units: units.SI, Book: equipment.Generic(), Buildings: []domain.Building{{ID: "b", Name: "Main house", Storeys: []domain.Storey{{ID: "s", Name: "Level 2"}}}}}
	at := func(x, y float64) *geom.Point { pt := geom.Pt(x, y); return &pt }
	shape := geom.Rectangle(0, 0, 8, 7)
	shape.Holes = [][]geom.Point{{{X: 6, Y: 5}, {X: 7, Y: 5}, {X: 7, Y: 6}, {X: 6, Y: 6}}}
	room := &domain.Room{ID: "r", StoreyID: "s", Number: "214", Name: "Größe Ελληνικά", Outline: shape,
		Fixtures: []domain.Fixture{{ID: "f1", Load: "l", At: geom.Pt(2, 2)}, {ID: "f2", Load: "l", At: geom.Pt(5, 2), Turn: 90}}, Sitting: []domain.Seat{{ID: "s1", At: geom.Pt(3, 4)}}}
	r := &domain.Resolved{Room: room, Design: domain.Design{Loads: []domain.Load{{ID: "l", Tag: "L1"}}, Devices: []domain.Device{
		{ID: "d1", Tag: "C1", Type: "lc-4", At: at(0.4, 3)}, {ID: "d2", Tag: "P1", Type: "ps-ceiling", At: at(4, 3.5), Turn: 45}, {ID: "d3", Tag: "S1", Type: "st-4-mains"}}}}
	storey := &domain.Plan{ID: "s", North: 30, Walls: []domain.Wall{
		{ID: "w1", A: geom.Pt(0, 0), B: geom.Pt(8, 0), Kind: domain.FullWall, Thickness: 0.2, Openings: []domain.Opening{{ID: "o1", Kind: domain.Window, At: 2, Width: 3}}},
		{ID: "w2", A: geom.Pt(0, 0), B: geom.Pt(0, 7), Kind: domain.FullWall, Thickness: 0.1, Openings: []domain.Opening{{ID: "o2", Kind: domain.Door, At: 5, Width: 0.9}}},
		{ID: "w3", A: geom.Pt(8, 0), B: geom.Pt(8, 7), Kind: domain.Boundary},
	}}
	return drawing.RoomView(p, storey, r, nil, drawing.Options{Furniture: true, Spread: true})
}

// Hall is the plan of a storey of one room, 5 m wide and length meters long, in SI units,
// with a luminaire every 2 m.
func Hall(length float64) sheet.Document {
	p := &domain.Project{Units: units.SI, Buildings: []domain.Building{{ID: "b", Storeys: []domain.Storey{{ID: "s", Name: "Level 1"}}}}}
	room := &domain.Room{ID: "r", StoreyID: "s", Number: "100", Name: "Hall", Outline: geom.Rectangle(3, 4, length, 5)}
	r := &domain.Resolved{Room: room, Design: domain.Design{Loads: []domain.Load{{ID: "l", Tag: "L1"}}}}
	for x := 1.0; x < length; x += 2 {
		room.Fixtures = append(room.Fixtures, domain.Fixture{ID: domain.ID(units.Trim(x, 0)), Load: "l", At: geom.Pt(3+x, 6), Turn: x})
	}
	view := drawing.StoreyView(p, nil, []*domain.Resolved{r}, drawing.Options{Furniture: true})
	return sheet.Document{Title: "Plan", Sheets: []sheet.Sheet{{ID: "plan", Number: "EL-101", Title: "Plan", Head: Head(""), Landscape: true, Blocks: []sheet.Block{sheet.Drawing{View: view}}}}}
}
