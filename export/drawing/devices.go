package drawing

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// devices draws the symbols; their tags wait until all else has its place.
func (b *board) devices() {
	if !b.v.opt.shows(LayerDevices) {
		return
	}
	for _, r := range b.v.drawn() {
		for i := range r.Design.Devices {
			if d := &r.Design.Devices[i]; d.At != nil && d.At.Finite() {
				b.device(r, d)
			}
		}
	}
}

func (b *board) device(r *domain.Resolved, d *domain.Device) {
	place, kind := b.paper(*d.At), b.v.kindOf(d)
	at := place
	s := Symbol{Name: symbolName(kind), At: at, Size: b.symbol, Turn: d.Turn, Facing: d.Turn != 0 && !b.coarse}
	if b.coarse {
		s.Size, s.Bare = overviewSymbol, true
	}
	item := Item{ID: "device-" + string(r.ID) + "-" + string(d.ID), Of: string(r.ID), Ref: string(d.ID), Layer: LayerDevices, Class: "device", Title: deviceTitle(d, kind.Traits().Name, b.v.project.Units)}
	size := Point{X: 2 * s.halfWidth(), Y: s.Size}
	if b.v.opt.Spread && !b.coarse {
		if at = b.clear(r, place, size); at != place {
			s.At = at
			item.Shapes = append(item.Shapes, Line{[]Point{place, at}, StyleLeader}, Disc{place, leaderDot, StyleText})
			b.legend["aside"] = true
		}
	}
	item.Shapes = append(item.Shapes, s)
	b.taken.add(boxAround(at, size), weightSymbol)
	b.symbols.add(boxAround(at, size), 1)
	b.legend[s.Name] = true
	if s.Facing {
		b.legend["facing"] = true
	}
	i := b.add(item)
	if b.coarse {
		return
	}
	b.waiting = append(b.waiting, tag{item: i, text: d.Tag, at: at, half: s.halfWidth(), room: r})
}

// leaderDot marks the place of a device whose symbol stands aside, millimeters.
const leaderDot = 0.45

// clear gives where a symbol stands clear of those already there: its place, or
// the nearest free one around it, within the room if there is one.
func (b *board) clear(r *domain.Resolved, place, size Point) Point {
	covered := func(at Point) float64 { return b.symbols.cost(boxAround(at, size)) }
	if covered(place) < 0.12*size.X*size.Y {
		return place
	}
	best, least := place, covered(place)*2
	for _, far := range []float64{1.15, 1.7, 2.3, 3.2} {
		for i := range 16 {
			at := place.Add(turned(Point{X: size.X * far}, float64(i)*22.5))
			box := boxAround(at, size)
			if cost := covered(at)*2 + b.outside(r, box) + far; cost < least {
				best, least = at, cost
			}
		}
		if least < far+1 {
			break
		}
	}
	return best
}

func deviceTitle(d *domain.Device, kind string, sys units.System) string {
	if kind == "" {
		kind = "Device of an unknown type"
	}
	title := d.Tag + " " + kind
	if d.Height > 0 {
		title += ", " + units.Length(d.Height, sys) + " above the floor"
	}
	return title
}

// tags writes each device's tag beside its symbol, where it covers least.
func (b *board) tags() {
	for _, t := range b.waiting {
		size := Point{X: textWidth(t.text, b.tagSize, false), Y: b.tagSize * 1.05}
		at := b.tagSpot(t, size)
		item, box := &b.pic.Items[t.item], boxAround(at, size)
		if covered := b.taken.cost(box); covered > 0 && covered < size.X*size.Y*weightWall/2 {
			item.Shapes = append(item.Shapes, ground(box))
		}
		b.taken.add(box, weightText)
		item.Shapes = append(item.Shapes, Text{At: Point{X: at.X, Y: at.Y + b.tagSize*0.36}, Text: t.text, Size: b.tagSize, Anchor: Middle, Style: StyleText})
	}
}

func (b *board) tagSpot(t tag, size Point) Point {
	best, least := t.at, math.Inf(1)
	edge := geom.Box{Min: Point{X: 0.5, Y: 0.5}, Max: Point{X: b.pic.Width - 0.5, Y: b.pic.Height - 0.5}}
	for i, off := range tagOffsets(t.half, b.symbol/2, size) {
		at := t.at.Add(off)
		box := boxAround(at, size)
		cost := float64(i)*0.05 + b.taken.cost(box) + b.outside(t.room, box)
		if !edge.Contains(box.Min) || !edge.Contains(box.Max) {
			cost += 50
		}
		if cost < least {
			best, least = at, cost
		}
		if b.taken.cells != nil && cost < float64(i)*0.05+0.01 {
			break
		}
	}
	return best
}

// tagOffsets lists where a tag may stand from its symbol's middle, the best
// place first: right, left, below, above, the corners, then a step further.
// The symbol reaches wide to its sides and high up and down.
func tagOffsets(wide, high float64, size Point) []Point {
	const gap = 0.5
	x, y := wide+gap+size.X/2, high+gap/2+size.Y/2
	out := []Point{{X: x}, {X: -x}, {Y: y}, {Y: -y}, {X: x, Y: y * 0.6}, {X: x, Y: -y * 0.6}, {X: -x, Y: y * 0.6}, {X: -x, Y: -y * 0.6}}
	for _, far := range []float64{1.45, 1.9} {
		out = append(out, Point{Y: y * far}, Point{Y: -y * far}, Point{X: x, Y: y * far}, Point{X: -x, Y: y * far}, Point{X: x, Y: -y * far}, Point{X: -x, Y: -y * far})
	}
	return out
}
