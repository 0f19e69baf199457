package drawing

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// rooms draws the grounds. A room beside the one drawn shows where no walls do;
// it is cut off at the edge of the picture.
func (b *board) rooms() {
	if !b.v.opt.shows(LayerRooms) {
		return
	}
	if b.v.focus != nil && len(b.v.plan.Walls) == 0 {
		for _, r := range b.v.rooms {
			if !b.v.isFocus(r) && !r.Outline.Empty() {
				b.around(r)
			}
		}
	}
	for _, r := range b.v.drawn() {
		if r.Outline.Empty() {
			continue
		}
		item := Item{ID: "room-" + string(r.ID), Ref: string(r.ID), Layer: LayerRooms, Class: "room", Title: r.Label()}
		item.Shapes = append(item.Shapes, Area{b.rings(r.Outline), StyleRoom})
		edge, entry := StyleRoomEdge, "room-edge"
		if !b.v.opt.shows(LayerWalls) || len(b.v.plan.Walls) == 0 {
			edge, entry = StyleRoomLine, "room-line"
		}
		item.Shapes = append(item.Shapes, b.outline(r.Outline, edge)...)
		b.legend[entry] = true
		b.add(item)
	}
}

func (b *board) outline(p geom.Polygon, style Style) []Shape {
	var out []Shape
	for _, ring := range p.Rings() {
		if len(ring) > 0 {
			closed := append(b.ring(ring), b.paper(ring[0]))
			out = append(out, Line{closed, style})
		}
	}
	return out
}

func (b *board) around(r *domain.Resolved) {
	var lines []Shape
	for _, ring := range r.Outline.Rings() {
		for s := range geom.Edges(ring) {
			if a, c, ok := clipSegment(s, b.window); ok {
				lines = append(lines, Line{[]Point{b.paper(a), b.paper(c)}, StyleAround})
			}
		}
	}
	if lines != nil {
		b.add(Item{Layer: LayerRooms, Class: "around", Title: r.Label(), Shapes: lines})
	}
}

// clipSegment gives what of a segment lies in a box (Liang and Barsky's way of
// cutting at each side in turn).
func clipSegment(s geom.Segment, box geom.Box) (a, b Point, ok bool) {
	from, to, d := 0.0, 1.0, s.B.Sub(s.A)
	cut := func(along, room float64) bool {
		switch t := room / along; {
		case along == 0:
			return room >= 0
		case along < 0:
			from = max(from, t)
		default:
			to = min(to, t)
		}
		return from <= to
	}
	ok = cut(-d.X, s.A.X-box.Min.X) && cut(d.X, box.Max.X-s.A.X) && cut(-d.Y, s.A.Y-box.Min.Y) && cut(d.Y, box.Max.Y-s.A.Y)
	return s.A.Add(d.Times(from)), s.A.Add(d.Times(to)), ok && from < to
}

// Sizes of a room's name on paper, millimeters of type.
const (
	numberSize = 2.8
	nameSize   = 2.1
	leading    = 1.25
)

// names writes each room's number, name and area where least lies beneath.
// What finds no room is left out, but for the number.
func (b *board) names() {
	if !b.v.opt.shows(LayerNames) {
		return
	}
	for _, r := range b.v.drawn() {
		if !r.Outline.Empty() {
			b.name(r)
		}
	}
}

// textLine is one line of a room's name.
type textLine struct {
	text string
	size float64
	bold bool
	soft bool
}

func (b *board) name(r *domain.Resolved) {
	box := r.Outline.Bounds()
	width := box.Width() * b.pic.Scale.PerMeter()
	shrink := min(1, max(0.65, width/16))
	number := textLine{r.Number, numberSize * shrink, true, false}
	full := []textLine{number}
	for _, l := range wrap(r.Name, nameSize*shrink, min(width-2, 34)) {
		full = append(full, textLine{l, nameSize * shrink, false, false})
	}
	short := full
	full = append(full, textLine{area(r, b.v.project.Units), 1.9 * shrink, false, true})
	tries := [][]textLine{full, short, {number}}
	if b.coarse {
		tries = tries[2:]
	}
	for _, lines := range tries {
		at, size, cost := b.nameSpot(r, lines)
		if cost < size.X*size.Y*0.2 || len(lines) == 1 {
			b.writeName(r, lines, at, size, cost)
			return
		}
	}
}

// nameSpot tries the middle of the room and a lattice of places within it.
func (b *board) nameSpot(r *domain.Resolved, lines []textLine) (at, size Point, cost float64) {
	for _, l := range lines {
		size.X = max(size.X, textWidth(l.text, l.size, l.bold))
		size.Y += l.size * leading
	}
	bounds := r.Outline.Bounds()
	places := []Point{r.Outline.LabelPoint()}
	const steps = 12
	for i := 1; i < steps; i++ {
		for j := 1; j < steps; j++ {
			places = append(places, Point{X: bounds.Min.X + bounds.Width()*float64(i)/steps, Y: bounds.Min.Y + bounds.Height()*float64(j)/steps})
		}
	}
	middle := b.paper(places[0])
	cost = -1
	for _, place := range places {
		p := b.paper(place)
		c, box := p.Distance(middle)*0.02, boxAround(p, size)
		if cost >= 0 && c >= cost {
			continue
		}
		if c += b.taken.cost(box); cost >= 0 && c >= cost {
			continue
		}
		if c += b.outside(r, box); cost < 0 || c < cost {
			at, cost = p, c
		}
		if cost < 0.01 {
			break
		}
	}
	return at, size, cost
}

// outside weighs how far a box on paper leaves its room.
func (b *board) outside(r *domain.Resolved, box geom.Box) float64 {
	if r.Outline.Empty() {
		return 0
	}
	k, out := b.pic.Scale.PerMeter(), 0.0
	for _, corner := range box.Polygon().Outer {
		on := Point{X: b.pic.Origin.X + corner.X/k, Y: b.pic.Origin.Y - corner.Y/k}
		if !r.Outline.Contains(on) {
			out += 3
		}
	}
	return out
}

// writeName sets the lines, on a ground of their own where they cover something.
func (b *board) writeName(r *domain.Resolved, lines []textLine, at, size Point, cost float64) {
	item := Item{ID: "name-" + string(r.ID), Of: string(r.ID), Ref: string(r.ID), Layer: LayerNames, Class: "name", Title: r.Label()}
	box := boxAround(at, size)
	if cost > 1 {
		item.Shapes = append(item.Shapes, ground(box))
	}
	y := box.Min.Y
	for _, l := range lines {
		style := StyleText
		if l.soft {
			style = StyleSoft
		}
		item.Shapes = append(item.Shapes, Text{At: Point{X: at.X, Y: y + l.size*0.98}, Text: l.text, Size: l.size, Anchor: Middle, Bold: l.bold, Style: style})
		y += l.size * leading
	}
	b.taken.add(box, weightText)
	b.add(item)
}

// ground lets a label be read where it lies over luminaires or seats.
func ground(label geom.Box) Shape {
	return Area{[][]Point{label.Grow(0.2).Polygon().Outer}, StyleRoom}
}

// wrap breaks a text between words into lines of at most that many
// millimeters; a longer word stands alone.
func wrap(text string, size, width float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(text) {
		if line != "" && textWidth(line+" "+w, size, false) > width {
			out, line = append(out, line), ""
		}
		line = strings.TrimSpace(line + " " + w)
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}
