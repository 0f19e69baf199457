package drawing

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// hungOf gives the luminaire of that ID, nil where it has none.
func (d *Daylight) hungOf(id domain.ID) *Hung {
	if d == nil {
		return nil
	}
	if i := slices.IndexFunc(d.Hung, func(h Hung) bool { return h.ID == id }); i >= 0 {
		return &d.Hung[i]
	}
	return nil
}

// hung draws a luminaire at its size and how it hangs: full, half or empty.
func (b *board) hung(h *Hung, tag string) {
	ring := broadened(b.ring(h.Outline))
	shapes := hungShapes(ring, h.How)
	b.legend["hangs-"+string(h.How)] = true
	box, _ := geom.BoundsOf(ring...)
	b.taken.add(box, weightLuminaire)
	if !b.coarse {
		size := Point{X: textWidth(tag, hungSize, false), Y: hungSize}
		at := Point{X: (box.Min.X + box.Max.X) / 2, Y: box.Max.Y + hungSize*0.75}
		b.taken.add(boxAround(at, size), weightText)
		shapes = append(shapes, ground(boxAround(at, size)), Text{At: at.Add(Point{Y: hungSize * 0.36}), Text: tag, Size: hungSize, Anchor: Middle, Style: StyleText})
	}
	b.add(Item{Layer: LayerLuminaires, Class: "fixture", Title: "Luminaire of load " + tag, Shapes: shapes})
}

// broadened keeps a luminaire's outline wide enough to tell full from empty.
func broadened(ring []Point) []Point {
	middle := ring[0].Add(ring[2]).Times(0.5)
	for corner := range 2 { // corners 0 and 1 run along, 1 and 2 across
		side := ring[corner+1].Sub(ring[corner])
		have := math.Hypot(side.X, side.Y)
		if have <= 0 || have >= hungLeast {
			continue
		}
		unit := side.Times(1 / have)
		for k := range ring {
			ring[k] = ring[k].Add(unit.Times(ring[k].Sub(middle).Dot(unit) * (hungLeast/have - 1)))
		}
	}
	return ring
}

func hungShapes(ring []Point, how Hanging) []Shape {
	shapes := []Shape{Area{[][]Point{ring}, StyleLuminaire}}
	switch how {
	case HangsIn:
		shapes = append(shapes, Area{[][]Point{ring}, StyleBar})
	case HangsAcross:
		mid := func(i, j int) Point { return ring[i].Add(ring[j]).Times(0.5) }
		shapes = append(shapes, Area{[][]Point{{ring[0], mid(0, 1), mid(2, 3), ring[3]}}, StyleBar})
	}
	return append(shapes, Line{closed(append([]Point(nil), ring...)), StyleFrame})
}
