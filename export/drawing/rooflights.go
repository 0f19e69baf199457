package drawing

import (
	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// rooflights draws each as a dashed rectangle with a cross, as ceiling plans do: it
// lies above what is cut. They are drawn with the walls.
func (b *board) rooflights() {
	if !b.v.opt.shows(LayerWalls) {
		return
	}
	for i := range b.v.plan.Rooflights {
		if l := &b.v.plan.Rooflights[i]; drawable(l) {
			b.rooflight(l)
		}
	}
}

func drawable(l *domain.Rooflight) bool { return l.At.Finite() && l.Width > 0 && l.Length > 0 }

func (b *board) rooflight(l *domain.Rooflight) {
	item := Item{ID: "rooflight-" + string(l.ID), Ref: string(l.ID), Layer: LayerWalls, Class: "rooflight", Title: rooflightTitle(l, b.v.project.Units)}
	for _, s := range rooflightLines(l) {
		if a, c, ok := clipSegment(s, b.sight()); ok {
			item.Shapes = append(item.Shapes, Line{[]Point{b.paper(a), b.paper(c)}, StyleRooflight})
		}
	}
	if item.Shapes != nil {
		b.legend["rooflight"] = true
		b.add(item)
	}
}

// rooflightLines gives the four sides and the two diagonals.
func rooflightLines(l *domain.Rooflight) []geom.Segment {
	ring := l.Box().Outer
	out := []geom.Segment{{A: ring[0], B: ring[2]}, {A: ring[1], B: ring[3]}}
	for s := range geom.Edges(ring) {
		out = append(out, s)
	}
	return out
}

func rooflightTitle(l *domain.Rooflight, sys units.System) string {
	return "Rooflight, " + units.Length(l.Width, sys) + " x " + units.Length(l.Length, sys)
}

// rooflightSample draws what the legend explains.
func rooflightSample(at Point) []Shape {
	const w, h = 4.4, 3.2
	ring := rect(at.Add(Point{X: -w / 2, Y: -h / 2}), w, h)
	return []Shape{Line{closed(ring), StyleRooflight}, Line{[]Point{ring[0], ring[2]}, StyleRooflight}, Line{[]Point{ring[1], ring[3]}, StyleRooflight}}
}

func (d *dxf) rooflight(l *domain.Rooflight) {
	d.polyline("ROOFLIGHTS", dxfInk, l.Box().Outer)
	for _, s := range rooflightLines(l)[:2] {
		d.line("ROOFLIGHTS", dxfInk, s)
	}
}
