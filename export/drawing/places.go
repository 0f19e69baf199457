package drawing

import (
	"math"

	"scopewright/domain"
)

// Sizes on paper, millimeters.
const (
	luminaireHeight = 2.4
	luminaireText   = 1.8
	seatRadius      = 0.9
)

// luminaires draws a bar a luminaire with the tag of its load.
func (b *board) luminaires() {
	if !b.v.opt.shows(LayerLuminaires) || b.coarse && b.v.opt.Daylight == nil {
		return
	}
	for _, r := range b.v.drawn() {
		for i := range r.Fixtures {
			if f := &r.Fixtures[i]; f.At.Finite() {
				b.luminaire(r, f)
			}
		}
	}
}

func (b *board) luminaire(r *domain.Resolved, f *domain.Fixture) {
	tag, title := "?", "Luminaire of no load"
	if l := r.Design.Load(f.Load); l != nil {
		tag, title = l.Tag, "Luminaire of load "+l.Tag
		if l.Name != "" {
			title += " " + l.Name
		}
	}
	if h := b.v.opt.Daylight.hungOf(f.ID); h != nil {
		b.hung(h, tag)
		return
	}
	at := b.paper(f.At)
	size := Point{X: max(4.6, textWidth(tag, luminaireText, false)+1.2), Y: luminaireHeight}
	ring := boxAround(Point{}, size).Polygon().Outer
	for i := range ring {
		ring[i] = at.Add(turned(ring[i], f.Turn))
	}
	b.legend["luminaire"] = true
	b.taken.add(boxAround(at, turnedSize(size, f.Turn)), weightLuminaire)
	lift := turned(Point{Y: luminaireText * 0.36}, upright(f.Turn))
	b.add(Item{ID: "fixture-" + string(r.ID) + "-" + string(f.ID), Of: string(r.ID), Ref: string(f.ID), Layer: LayerLuminaires, Class: "fixture", Title: title, Shapes: []Shape{
		Area{[][]Point{ring}, StyleLuminaire},
		Text{At: at.Add(lift), Text: tag, Size: luminaireText, Anchor: Middle, Turn: upright(f.Turn), Style: StyleSoft},
	}})
}

// turned turns a vector on paper counterclockwise, as seen.
func turned(p Point, degrees float64) Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return Point{X: p.X*cos + p.Y*sin, Y: p.Y*cos - p.X*sin}
}

func turnedSize(size Point, degrees float64) Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	sin, cos = math.Abs(sin), math.Abs(cos)
	return Point{X: size.X*cos + size.Y*sin, Y: size.X*sin + size.Y*cos}
}

// upright turns a text with its thing so far that it reads from below or from
// the right, never on its head.
func upright(degrees float64) float64 {
	t := math.Mod(degrees, 180)
	switch {
	case t > 90+1e-9:
		return t - 180
	case t <= -90+1e-9:
		return t + 180
	}
	return t
}

func (b *board) seats() {
	if !b.v.opt.shows(LayerSeats) || b.coarse {
		return
	}
	for _, r := range b.v.drawn() {
		for i := range r.Sitting {
			s := &r.Sitting[i]
			if !s.At.Finite() {
				continue
			}
			b.legend["seat"] = true
			b.taken.add(boxAround(b.paper(s.At), Point{X: 2 * seatRadius, Y: 2 * seatRadius}), weightLuminaire)
			b.add(Item{ID: "seat-" + string(r.ID) + "-" + string(s.ID), Of: string(r.ID), Ref: string(s.ID), Layer: LayerSeats, Class: "seat", Title: "Seat",
				Shapes: []Shape{Disc{b.paper(s.At), seatRadius, StyleSeat}}})
		}
	}
}

// findings marks the places that rules point at, with a sign for each severity.
func (b *board) findings() {
	if !b.v.opt.shows(LayerFindings) {
		return
	}
	for _, f := range b.v.opt.Findings {
		if !f.At.Finite() || !b.window.Contains(f.At) {
			continue
		}
		name := "finding-" + string(f.Severity)
		b.legend[name] = true
		at := b.paper(f.At).Add(Point{X: b.symbol * 0.6, Y: -b.symbol * 0.6}) // beside the thing, not on it
		b.add(Item{ID: "finding-" + f.ID, Ref: f.ID, Layer: LayerFindings, Class: "finding", Title: f.Text, Shapes: []Shape{Symbol{Name: name, At: at, Size: 3.4}}})
	}
}
