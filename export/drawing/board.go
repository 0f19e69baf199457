package drawing

import (
	"cmp"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// board is one drawing being made: the picture, what of the plan is seen, and
// what lies where already, so that labels keep clear of it.
type board struct {
	v       *View
	pic     *Picture
	window  geom.Box // of the plan, meters
	taken   crowd
	symbols crowd           // of devices only
	legend  map[string]bool // names of entries in use
	symbol  float64         // height of a device's symbol, mm
	tagSize float64
	coarse  bool // too small a scale for tags, luminaires and seats
	waiting []tag
}

// tag is a device's label that waits until everything else has its place.
type tag struct {
	item int // index in the picture's items
	text string
	at   Point
	half float64 // of the symbol's width
	room *domain.Resolved
}

func newBoard(v *View, scale Scale, width float64) *board {
	k := scale.PerMeter()
	drawn := v.box.Width()*k + 2*marginMM
	side := marginMM
	if width > drawn {
		side, drawn = marginMM+(width-drawn)/2, width
	}
	pic := &Picture{Title: v.title, Scale: scale, Units: v.project.Units, Width: drawn, Height: v.box.Height()*k + 2*marginMM,
		Origin: Point{X: v.box.Min.X - side/k, Y: v.box.Max.Y + marginMM/k}}
	b := &board{v: v, pic: pic, legend: map[string]bool{}, window: v.box}
	b.symbol, b.tagSize = sizesAt(scale.Ratio)
	b.coarse = scale.Ratio > coarseFrom
	return b
}

// coarseFrom is the ratio beyond which a drawing is an overview: a tag of 1.8 mm
// would be as wide as a small room. Common practice, no published source.
const coarseFrom = 260

// overview says what an overview leaves out.
const overview = "Overview: tags, luminaires and seats have no room at this scale; take larger paper to see them."

// sizesAt gives the height of symbols and of tags on paper, in millimeters:
// smaller where more has to stand in a place, never below 1.8 mm of type.
// Common practice, no published source.
func sizesAt(ratio float64) (symbol, tag float64) {
	switch {
	case ratio <= 60:
		return 4.6, 2.2
	case ratio <= 130:
		return 4.2, 2
	}
	return 3.8, 1.8
}

// overviewSymbol is the height of symbols without letters in an overview.
const overviewSymbol = 2.2

func (b *board) add(i Item) int {
	i.Highlight = b.v.opt.Highlight[i.ID]
	b.pic.Items = append(b.pic.Items, i)
	return len(b.pic.Items) - 1
}

func (b *board) paper(at Point) Point { return b.pic.ToPaper(at) }

func (b *board) ring(ring []Point) []Point {
	out := make([]Point, len(ring))
	for i, p := range ring {
		out[i] = b.paper(p)
	}
	return out
}

func (b *board) rings(p geom.Polygon) [][]Point {
	var out [][]Point
	for _, ring := range p.Rings() {
		out = append(out, b.ring(ring))
	}
	return out
}

// finish sorts the items by layer and adds what belongs below the drawing.
func (b *board) finish() *Picture {
	order := map[Layer]int{layerFurniture: len(Layers())}
	for i, l := range Layers() {
		order[l] = i
	}
	order[layerDaylight] = order[LayerRooms] // added after them
	slices.SortStableFunc(b.pic.Items, func(x, y Item) int { return cmp.Compare(order[x.Layer], order[y.Layer]) })
	b.clearGround()
	b.pic.Legend = legendOf(b.legend)
	if b.v.opt.Furniture {
		b.furniture()
	}
	return b.pic
}
