package design

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
)

// grid lays at least so many places over the floor in even columns and rows
// along its longest edge, as few more as the shape allows and in cells as
// square as they can be.
func (l *layout) grid(want int) []geom.Point {
	turned := l.shape.Rotate(l.center, -l.angle)
	box := turned.Bounds()
	for more := want; more <= 4*want+16; more += 1 + more/8 {
		side := math.Sqrt(l.shape.Area() / float64(more))
		columns, rows := box.Width()/side, box.Height()/side
		var best []geom.Point
		least := math.Inf(1)
		for c := fewest(columns); c <= most(columns); c++ {
			for r := fewest(rows); r <= most(rows); r++ {
				if c*r < want || c*r > 4*more+16 {
					continue
				}
				places := cells(turned, box, c, r)
				if len(places) < want {
					continue
				}
				odd := math.Abs(math.Log(box.Width() / float64(c) * float64(r) / box.Height()))
				if cost := float64(len(places)-want)/float64(want) + odd/2; cost < least-1e-9 {
					best, least = places, cost
				}
			}
		}
		if best != nil {
			for i := range best {
				best[i] = best[i].Rotate(l.center, l.angle)
			}
			return best
		}
	}
	return []geom.Point{l.shape.LabelPoint()}
}

// fewest and most give between which numbers of columns or rows to look, about
// the one that square cells ask for.
func fewest(n float64) int { return max(1, int(0.75*n)) }
func most(n float64) int   { return max(1, int(math.Ceil(1.3*n))) }

func cells(shape geom.Polygon, box geom.Box, columns, rows int) []geom.Point {
	var out []geom.Point
	w, h := box.Width()/float64(columns), box.Height()/float64(rows)
	for r := range rows {
		for c := range columns {
			at := geom.Pt(box.Min.X+(float64(c)+0.5)*w, box.Min.Y+(float64(r)+0.5)*h)
			if shape.Contains(at) {
				out = append(out, at)
			}
		}
	}
	return out
}

// beside gives the place of a station at a door: on the wall inside the room,
// at the side where more wall is.
func (l *layout) beside(d door) geom.Point {
	best, most := d.at, -1.0
	for _, side := range []float64{1, -1} {
		run := 0.0
		for _, beyond := range []float64{latchSide, 0.3, 0.6, 1} {
			at := d.at.Add(d.along.Times(side * (d.width/2 + beyond)))
			if _, off := l.shape.NearestOnBoundary(at); off > 0.02 || !l.shape.Contains(at.Add(d.in.Times(0.1))) || l.inDoor(at) {
				break
			}
			run = beyond
		}
		if run > most {
			best, most = d.at.Add(d.along.Times(side*(d.width/2+latchSide))), run
		}
	}
	if most <= 0 { // no wall beside it: as near as the outline lets it
		best, _ = l.shape.NearestOnBoundary(best)
	}
	if inside := best.Add(d.in.Times(0.03)); l.shape.Contains(inside) {
		return inside
	}
	return best
}

func (l *layout) inDoor(p geom.Point) bool {
	for _, d := range l.doors {
		if p.Distance(d.at) < d.width/2 {
			return true
		}
	}
	return false
}

// apart is how far things above a ceiling are set from each other, meters.
const apart = 0.4

// amid gives a free place amid the luminaires of some loads, so that control
// pairs stay short; near the door where none hang on the plan.
func (d *draft) amid(loads []domain.ID) geom.Point {
	var sum geom.Point
	n := 0.0
	for _, f := range d.r.Fixtures {
		if slices.Contains(loads, f.Load) {
			sum, n = sum.Add(f.At), n+1
		}
	}
	if n == 0 {
		return d.overDoor()
	}
	return d.freeNear(sum.Times(1 / n))
}

// freeNear gives the place nearest to a point, on a square raster about it, that
// lies in the room and where no device stands.
func (d *draft) freeNear(p geom.Point) geom.Point {
	best, least := d.lay.shape.LabelPoint(), math.Inf(1)
	for ring := 0; ring < 12 && least > float64(ring)*apart; ring++ {
		for x := -ring; x <= ring; x++ {
			for y := -ring; y <= ring; y++ {
				q := p.Add(geom.Pt(float64(x), float64(y)).Times(apart))
				far := q.Distance(p)
				if far >= least || max(x, -x, y, -y) < ring || !d.lay.shape.Contains(q) || !d.free(q) {
					continue
				}
				best, least = q, far
			}
		}
	}
	return best
}

// overDoor gives a free place for what hangs above the ceiling: near the first
// door, where one looks for it.
func (d *draft) overDoor() geom.Point {
	l := d.lay
	if len(l.doors) == 0 {
		return l.shape.LabelPoint()
	}
	at := l.doors[0]
	for row := range 12 {
		for _, column := range []float64{0, 1, -1, 2, -2, 3, -3, 4, -4} {
			p := at.at.Add(at.in.Times(0.5 + apart*float64(row))).Add(at.along.Times(apart * column))
			if _, off := l.shape.NearestOnBoundary(p); l.shape.Contains(p) && off > 0.1 && d.free(p) {
				return p
			}
		}
	}
	return l.shape.LabelPoint()
}

// free tells that no device stands at a place.
func (d *draft) free(p geom.Point) bool {
	for i := range d.r.Design.Devices {
		if at := d.r.Design.Devices[i].At; at != nil && at.Distance(p) < apart-0.05 {
			return false
		}
	}
	return true
}

// stand puts a device on the plan of a room that is drawn.
func (d *draft) stand(id domain.ID, at geom.Point, turn float64) {
	if d.lay.drawn {
		d.do(edit.Stand{Device: id, At: at, Turn: turn})
	}
}
