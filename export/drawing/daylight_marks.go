package drawing

import (
	"math"
	"slices"

	"scopewright/domain/geom"
)

// daylight draws hatches and contours; they lie beneath everything but the ground.
func (b *board) daylight() {
	d := b.v.opt.Daylight
	if d == nil {
		return
	}
	for i := range d.Zones {
		b.zone(&d.Zones[i])
	}
	for i := range d.Contours {
		b.contour(&d.Contours[i])
	}
}

// daylightWords writes what stands over the rest: labels of zones and contours,
// values and notes of windows, the scarcest first.
func (b *board) daylightWords() {
	d := b.v.opt.Daylight
	if d == nil {
		return
	}
	for i := range d.Windows {
		b.windowNote(&d.Windows[i])
	}
	for i := range d.Zones {
		b.zoneLabel(&d.Zones[i])
	}
	for i := range d.Contours {
		b.contourLabel(&d.Contours[i])
	}
	b.values(d)
}

func (b *board) zone(z *DaylightZone) {
	item := Item{Layer: layerDaylight, Class: "zone", Title: "Daylight zone, " + string(z.Kind)}
	h := hatches[z.Kind]
	for _, part := range z.Parts {
		rings := b.rings(part)
		item.Shapes = append(item.Shapes, hatch(rings, h.degrees, h.spacing)...)
		item.Shapes = append(item.Shapes, b.outline(part, StyleZone)...)
	}
	if item.Shapes != nil {
		b.legend["zone-"+string(z.Kind)] = true
		b.add(item)
	}
}

// hatch gives parallel lines within rings (even-odd rule), at an angle
// counterclockwise as seen and a spacing in millimeters.
func hatch(rings [][]Point, degrees, spacing float64) (out []Shape) {
	least, most := math.Inf(1), math.Inf(-1)
	back := make([][]Point, len(rings))
	for i, ring := range rings {
		for _, p := range ring {
			q := turned(p, -degrees)
			back[i] = append(back[i], q)
			least, most = min(least, q.Y), max(most, q.Y)
		}
	}
	for n := math.Ceil(least / spacing); n*spacing < most; n++ {
		for _, s := range scan(back, n*spacing) {
			out = append(out, Line{[]Point{turned(Point{X: s[0], Y: n * spacing}, degrees), turned(Point{X: s[1], Y: n * spacing}, degrees)}, StyleHatch})
		}
	}
	return out
}

// scan gives the stretches of a level line that lie within rings (even-odd rule).
func scan(rings [][]Point, y float64) (out [][2]float64) {
	var at []float64
	for _, ring := range rings {
		for e := range geom.Edges(ring) {
			if (e.A.Y <= y) != (e.B.Y <= y) {
				at = append(at, e.A.X+(y-e.A.Y)/(e.B.Y-e.A.Y)*(e.B.X-e.A.X))
			}
		}
	}
	slices.Sort(at)
	for i := 0; i+1 < len(at); i += 2 {
		out = append(out, [2]float64{at[i], at[i+1]})
	}
	return out
}

// zoneLabel names a zone in its largest part, on a ground of its own.
func (b *board) zoneLabel(z *DaylightZone) {
	var largest geom.Polygon
	for _, p := range z.Parts {
		if p.Area() > largest.Area() {
			largest = p
		}
	}
	if largest.Empty() {
		return
	}
	size := Point{Y: float64(len(z.Label)) * zoneSize * leading}
	for _, l := range z.Label {
		size.X = max(size.X, textWidth(l, zoneSize, true))
	}
	at := b.quietest(b.within(largest), size)
	box := boxAround(at, size)
	item := Item{Layer: LayerNames, Class: "zone-name", Shapes: []Shape{Area{[][]Point{box.Grow(0.5).Polygon().Outer}, StyleRoom}}}
	for i, l := range z.Label {
		item.Shapes = append(item.Shapes, Text{At: Point{X: at.X, Y: box.Min.Y + zoneSize*(0.95+leading*float64(i))}, Text: l, Size: zoneSize, Anchor: Middle, Bold: i == 0, Style: StyleText})
	}
	b.taken.add(box, weightText)
	b.add(item)
}

// within lists places on paper spread over a polygon, its label's first.
func (b *board) within(p geom.Polygon) []Point {
	out := []Point{b.paper(p.LabelPoint())}
	box := p.Bounds()
	const steps = 14
	for i := 1; i < steps; i++ {
		for j := 1; j < steps; j++ {
			at := box.Min.Add(Point{X: box.Width() * float64(i) / steps, Y: box.Height() * float64(j) / steps})
			if p.Contains(at) {
				out = append(out, b.paper(at))
			}
		}
	}
	return out
}

// quietest gives the place at which a box covers least, early ones before others.
func (b *board) quietest(places []Point, size Point) Point {
	best, least := places[0], math.Inf(1)
	for _, at := range places {
		if cost := b.taken.cost(boxAround(at, size)) + 0.02*at.Distance(places[0]); cost < least {
			best, least = at, cost
		}
	}
	return best
}

func (b *board) contour(c *Contour) {
	style, name := StyleZone, "contour"
	if c.Main {
		style, name = StyleContour, "contour-main"
	}
	item := Item{Layer: layerDaylight, Class: "contour", Title: c.Label}
	for _, s := range c.Lines {
		from, to := b.paper(s.A), b.paper(s.B)
		item.Shapes = append(item.Shapes, Line{[]Point{from, to}, style})
		b.taken.addLine(from, to, contourThick, weightText)
	}
	if item.Shapes != nil {
		b.legend[name] = true
		b.add(item)
	}
}

// contourLabel stands on the line, where it covers least.
func (b *board) contourLabel(c *Contour) {
	var places []Point
	for _, s := range c.Lines {
		places = append(places, b.paper(s.At(0.5)))
	}
	if places == nil {
		return
	}
	size := Point{X: textWidth(c.Label, contourTag, true), Y: contourTag * 1.05}
	at := b.quietest(places, size) // its own line lies beneath wherever it stands
	b.taken.add(boxAround(at, size), weightWall)
	b.add(Item{Layer: LayerNames, Class: "contour-name", Shapes: []Shape{Area{[][]Point{boxAround(at, size).Grow(0.3).Polygon().Outer}, StyleRoom},
		Text{At: at.Add(Point{Y: contourTag * 0.36}), Text: c.Label, Size: contourTag, Anchor: Middle, Bold: true, Style: StyleText}}})
}

// values writes the numbers of a grid: of each so many columns and rows one, as have
// room at the scale, and none over a contour.
func (b *board) values(d *Daylight) {
	step := float64(d.Step) * b.pic.Scale.PerMeter()
	if step <= 0 || len(d.Values) == 0 {
		return
	}
	across, up := max(1, int(math.Ceil(valueWide/step))), max(1, int(math.Ceil(valueHigh/step)))
	item := Item{Layer: LayerNames, Class: "values", Title: "Values"}
	var taken []geom.Box
	for _, v := range d.Values {
		if v.Column%across != across/2 || v.Row%up != up/2 {
			continue
		}
		at := b.paper(v.At)
		box := boxAround(at, Point{X: textWidth(v.Text, valueSize, false), Y: valueSize})
		if b.taken.cost(box) > 0.5 {
			continue
		}
		taken = append(taken, box)
		item.Shapes = append(item.Shapes, Text{At: at.Add(Point{Y: valueSize * 0.36}), Text: v.Text, Size: valueSize, Anchor: Middle, Style: StyleText})
	}
	for _, box := range taken {
		b.taken.add(box, weightLuminaire) // tags come last and stand on a ground of their own
	}
	b.add(item)
}

// windowNote stands outside along the glass.
func (b *board) windowNote(w *WindowNote) {
	a, c := b.paper(w.A), b.paper(w.B)
	along := c.Sub(a)
	length := math.Hypot(along.X, along.Y)
	if length < 1e-6 {
		return
	}
	b.taken.addLine(a, c, glassDeep*b.pic.Scale.PerMeter(), weightWall)
	out := Point{X: -along.Y / length, Y: along.X / length} // paper's y runs down: the room is to the left
	turn := upright(-math.Atan2(along.Y, along.X) * 180 / math.Pi)
	text := w.Tag
	if full := w.Tag + " " + w.More; w.More != "" && textWidth(full, noteSize, false) < length+1 {
		text = full
	}
	at := a.Add(c).Times(0.5).Add(out.Times(noteSize + 1.2))
	lift := turned(Point{Y: noteSize * 0.36}, turn)
	size := turnedSize(Point{X: textWidth(text, noteSize, false), Y: noteSize}, turn)
	b.taken.add(boxAround(at, size), weightText)
	b.add(Item{Layer: LayerNames, Class: "window-note", Shapes: []Shape{Text{At: at.Add(lift), Text: text, Size: noteSize, Anchor: Middle, Turn: turn, Style: StyleText}}})
}
