package drawing

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// LegendEntry explains a symbol or a line of the drawing.
type LegendEntry struct {
	Name    string // of the symbol, or of the kind of line
	Meaning string
}

// legendOrder lists all entries in the order in which a legend prints them.
func legendOrder() []LegendEntry {
	var out []LegendEntry
	for _, k := range equipment.Kinds() {
		out = append(out, LegendEntry{symbolName(k), k.Traits().Name})
	}
	out = append(out, daylightLegend()...)
	return append(out,
		LegendEntry{symbolName(""), "Device of an unknown type"},
		LegendEntry{"facing", "Faces this way"},
		LegendEntry{"aside", "Stands aside of its place"},
		LegendEntry{"luminaire", "Luminaire, with its load"},
		LegendEntry{"seat", "Seat"},
		LegendEntry{"room-line", "Outline of a room"},
		LegendEntry{"room-edge", "Outline of a room"},
		LegendEntry{"wall", "Wall"},
		LegendEntry{"partition", "Partition, below the ceiling"},
		LegendEntry{"boundary", "Boundary without a wall"},
		LegendEntry{"window", "Window"},
		LegendEntry{"door", "Door, swing not shown"},
		LegendEntry{"opening", "Opening"},
		LegendEntry{"rooflight", "Rooflight in the ceiling"},
		LegendEntry{"finding-error", "Finding: error"},
		LegendEntry{"finding-warning", "Finding: warning"},
		LegendEntry{"finding-info", "Finding: note"},
	)
}

func legendOf(used map[string]bool) []LegendEntry {
	return slices.DeleteFunc(legendOrder(), func(e LegendEntry) bool { return !used[e.Name] })
}

// Sizes of what stands below the drawing, millimeters.
const (
	legendRow    = 5.2
	legendColumn = 44.0
	legendSymbol = 4.2
	legendText   = 2.1
	stripHeight  = 14.0
	stripGap     = 3.0
	barHeight    = 1.3
	narrowest    = 60.0 // that scale bar and north arrow stand beside each other
)

// Legend draws the legend alone, in as many columns as the width in
// millimeters holds: for a screen beside the plan.
func Legend(entries []LegendEntry, width float64) *Picture {
	p := &Picture{Title: "Legend", Width: width, Height: legendHeight(len(entries), width), Legend: entries, Scale: DefaultScale}
	p.legend(0)
	return p
}

func legendColumns(width float64) int { return max(1, int(width/legendColumn)) }

func legendHeight(entries int, width float64) float64 {
	return math.Ceil(float64(entries)/float64(legendColumns(width))) * legendRow
}

// furnitureHeight is what the strip and a legend take below a drawing.
func furnitureHeight(entries int, width float64) float64 {
	return stripGap + stripHeight + legendHeight(entries, max(width, narrowest))
}

// furniture adds the scale bar, the north arrow and the legend below.
func (b *board) furniture() {
	p := b.pic
	if p.Width < narrowest {
		p.shift((narrowest - p.Width) / 2)
		p.Width = narrowest
	}
	top := p.Height + stripGap
	p.line(Point{X: 0, Y: top - 1}, Point{X: p.Width, Y: top - 1}, StyleAround)
	p.scaleBar(Point{X: 2, Y: top + 4})
	for i, note := range b.notes() {
		p.furnish("note", Text{At: Point{X: p.Width - 16, Y: top + 11 - 3*float64(i)}, Text: note, Size: 1.9, Anchor: End, Style: StyleText})
	}
	p.north(Point{X: p.Width - 7, Y: top + 6.5}, b.v.plan.North)
	p.Height = top + stripHeight
	p.legend(p.Height)
	p.Height += legendHeight(len(p.Legend), p.Width)
}

// notes say what the drawing leaves out.
func (b *board) notes() []string {
	var out []string
	switch {
	case !b.coarse || !b.v.holdsThings():
	case b.v.opt.Daylight != nil:
		out = append(out, overviewOfDaylight)
	default:
		out = append(out, overview)
	}
	switch {
	case b.pic.Underlay != nil:
		out = append(out, foreign)
	case b.v.plan.Underlay != nil:
		out = append(out, noPicture)
	}
	return out
}

// holdsThings tells that a place is known of something beside rooms and walls.
func (v *View) holdsThings() bool {
	return slices.ContainsFunc(v.drawn(), func(r *domain.Resolved) bool { return len(placesOf(r)) > 0 })
}

// Foot adds lines of text at the bottom, for a drawing that leaves the house
// alone. It breaks them to the width.
func (p *Picture) Foot(lines ...string) {
	const size = 2.1
	y := p.Height + stripGap
	var shapes []Shape
	for _, line := range lines {
		for _, l := range wrap(line, size, p.Width-4) {
			y += size * leading
			shapes = append(shapes, Text{At: Point{X: 2, Y: y}, Text: l, Size: size, Anchor: Start, Style: StyleText})
		}
	}
	p.furnish("foot", shapes...)
	p.Height = y + size
}

// shift moves everything to the right.
func (p *Picture) shift(mm float64) {
	by := Point{X: mm}
	p.Origin.X -= mm / p.Scale.PerMeter()
	if p.Underlay != nil {
		p.Underlay.At = p.Underlay.At.Add(by)
		p.Underlay.Clip = geom.Box{Min: p.Underlay.Clip.Min.Add(by), Max: p.Underlay.Clip.Max.Add(by)}
	}
	for i := range p.Items {
		for j, s := range p.Items[i].Shapes {
			p.Items[i].Shapes[j] = moved(s, by)
		}
	}
}

func moved(s Shape, by Point) Shape {
	run := func(points []Point) []Point {
		out := make([]Point, len(points))
		for i, p := range points {
			out[i] = p.Add(by)
		}
		return out
	}
	switch s := s.(type) {
	case Area:
		rings := make([][]Point, len(s.Rings))
		for i, r := range s.Rings {
			rings[i] = run(r)
		}
		return Area{rings, s.Style}
	case Line:
		return Line{run(s.Points), s.Style}
	case Disc:
		s.At = s.At.Add(by)
		return s
	case Text:
		s.At = s.At.Add(by)
		return s
	case Symbol:
		s.At = s.At.Add(by)
		return s
	}
	return s
}

func (p *Picture) furnish(class string, shapes ...Shape) {
	p.Items = append(p.Items, Item{Layer: layerFurniture, Class: class, Shapes: shapes})
}

func (p *Picture) line(a, b Point, style Style) { p.furnish("rule", Line{[]Point{a, b}, style}) }

// scaleBar draws two fields of a round length and one in two halves, with the
// scale in words. Paper can be printed at another size: then the bar holds and
// the number does not, which the words say.
func (p *Picture) scaleBar(at Point) {
	unit, perUnit := "m", p.Scale.PerMeter()
	if p.Units == units.US {
		unit, perUnit = "ft", p.Scale.PerMeter()*units.MetresPerFoot
	}
	field := step125(22 / perUnit)
	w := field * perUnit
	shapes := []Shape{
		Area{[][]Point{rect(at, w/2, barHeight)}, StyleBar},
		Area{[][]Point{rect(at, 2*w, barHeight)}, StyleFrame},
		Area{[][]Point{rect(at.Add(Point{X: w}), w, barHeight)}, StyleBar},
	}
	for _, mark := range []float64{0, 0.5, 1, 2} {
		label := units.Trim(field*mark, 3)
		if mark == 2 {
			label += " " + unit
		}
		shapes = append(shapes, Text{At: Point{X: at.X + w*mark, Y: at.Y - 0.8}, Text: label, Size: 1.9, Anchor: Middle, Style: StyleText})
	}
	shapes[3] = startOf(shapes[3])
	shapes = append(shapes,
		Text{At: Point{X: at.X, Y: at.Y + barHeight + 3.6}, Text: "Scale " + p.Scale.String(), Size: 2.4, Anchor: Start, Bold: true, Style: StyleText},
		Text{At: Point{X: at.X, Y: at.Y + barHeight + 6.8}, Text: "when printed at full size; the bar holds at any", Size: 1.9, Anchor: Start, Style: StyleSoft})
	p.furnish("scale-bar", shapes...)
}

func startOf(s Shape) Shape {
	t, ok := s.(Text)
	if !ok {
		return s
	}
	t.Anchor = Start
	return t
}

func closed(ring []Point) []Point { return append(ring, ring[0]) }

func rect(at Point, w, h float64) []Point {
	return []Point{at, at.Add(Point{X: w}), at.Add(Point{X: w, Y: h}), at.Add(Point{Y: h})}
}

// north draws the arrow; degrees count clockwise from up the sheet.
func (p *Picture) north(at Point, degrees float64) {
	turn := func(x, y float64) Point { return at.Add(turned(Point{X: x, Y: y}, -degrees)) }
	letter := turn(0, -6.2)
	p.furnish("north",
		Disc{at, 3.6, StyleFrame},
		Area{[][]Point{{turn(0, -4.6), turn(1.5, 2.2), turn(0, 1.2)}}, StyleBar},
		Area{[][]Point{{turn(0, -4.6), turn(-1.5, 2.2), turn(0, 1.2)}}, StyleFrame},
		Text{At: letter.Add(Point{Y: 0.9}), Text: "N", Size: 2.6, Anchor: Middle, Bold: true, Style: StyleText})
}

// legend writes the entries row by row from a height on.
func (p *Picture) legend(top float64) {
	columns := legendColumns(p.Width)
	for i, e := range p.Legend {
		at := Point{X: float64(i%columns)*(p.Width/float64(columns)) + 4, Y: top + (float64(i/columns)+0.5)*legendRow}
		shapes := sample(e.Name, at)
		shapes = append(shapes, Text{At: at.Add(Point{X: 5, Y: legendText * 0.36}), Text: e.Meaning, Size: legendText, Anchor: Start, Style: StyleText})
		p.furnish("legend", shapes...)
	}
}

// sample draws what a legend entry explains.
func sample(name string, at Point) []Shape {
	left, right := at.Add(Point{X: -3}), at.Add(Point{X: 3})
	bar := func(h float64, style Style) Shape {
		return Area{[][]Point{rect(at.Add(Point{X: -3, Y: -h / 2}), 6, h)}, style}
	}
	if shapes, is := daylightSample(name, at); is {
		return shapes
	}
	switch name {
	case "facing":
		return []Shape{Area{[][]Point{{at.Add(Point{X: 1.6}), at.Add(Point{X: -1.2, Y: -1.1}), at.Add(Point{X: -1.2, Y: 1.1})}}, StyleFacing}}
	case "aside":
		return []Shape{Line{[]Point{left, right}, StyleLeader}, Disc{left, leaderDot, StyleText}}
	case "luminaire":
		return []Shape{Area{[][]Point{rect(at.Add(Point{X: -2.6, Y: -luminaireHeight / 2}), 5.2, luminaireHeight)}, StyleLuminaire},
			Text{At: at.Add(Point{Y: luminaireText * 0.36}), Text: "L1", Size: luminaireText, Anchor: Middle, Style: StyleSoft}}
	case "seat":
		return []Shape{Disc{at, seatRadius, StyleSeat}}
	case "room-line":
		return []Shape{bar(1.6, StyleRoom), Line{closed(rect(at.Add(Point{X: -3, Y: -0.8}), 6, 1.6)), StyleRoomLine}}
	case "room-edge":
		return []Shape{bar(1.6, StyleRoom), Line{closed(rect(at.Add(Point{X: -3, Y: -0.8}), 6, 1.6)), StyleRoomEdge}}
	case "wall":
		return []Shape{bar(1.6, StyleWall)}
	case "partition":
		return []Shape{bar(1.2, StylePartition)}
	case "boundary":
		return []Shape{Line{[]Point{left, right}, StyleBoundary}}
	case "rooflight":
		return rooflightSample(at)
	case "window":
		return []Shape{bar(1.6, StyleGlass), Line{[]Point{left, right}, StyleGlass}}
	case "door", "opening":
		shapes := []Shape{Line{[]Point{left.Add(Point{Y: -0.8}), left.Add(Point{Y: 0.8})}, StyleJamb}, Line{[]Point{right.Add(Point{Y: -0.8}), right.Add(Point{Y: 0.8})}, StyleJamb}}
		if name == "door" {
			shapes = append(shapes, Line{[]Point{left, right}, StyleDoor})
		}
		return shapes
	}
	return []Shape{Symbol{Name: name, At: at, Size: legendSymbol}}
}
