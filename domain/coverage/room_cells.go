package coverage

import (
	"math"
	"math/bits"

	"scopewright/domain/geom"
)

func (m Motion) index() int {
	if m == Minor {
		return 1
	}
	return 0
}

// unite sums up what the sensors see, for both motions.
func (room *Room) unite() {
	for m := range room.cover {
		u := union{room.Grid.None(), room.Grid.None()}
		for i := range room.Sensors {
			seen := room.Sensors[i].cells[m]
			for w := range seen {
				u.twice[w] |= u.once[w] & seen[w]
				u.once[w] |= seen[w]
			}
		}
		for w := range u.once {
			u.once[w] &= room.Floor[w]
			u.twice[w] &= room.Floor[w]
		}
		room.cover[m] = u
	}
}

// Seen gives the room's cells that at least one sensor sees. It is shared: do
// not change it.
func (room *Room) Seen(m Motion) Cells { return room.cover[m.index()].once }

// Twice gives the room's cells that two or more sensors see. It is shared: do
// not change it.
func (room *Room) Twice(m Motion) Cells { return room.cover[m.index()].twice }

// Share gives which part of the floor at least one sensor sees, 0 to 1, by
// cells: at 0.25 m about 1 % of a room off.
func (room *Room) Share(m Motion) float64 {
	all := room.Floor.Count()
	if all == 0 {
		return 0
	}
	return float64(room.Seen(m).Count()) / float64(all)
}

// Area gives the floor in m2 of a set of the room's cells.
func (room *Room) Area(c Cells) float64 {
	return float64(c.CountIn(room.Floor)) * room.Grid.Step * room.Grid.Step
}

// Patch is an upright rectangle of cells, the corners of which are on the
// storey's plan: how many sensors see them, 0, 1, or 2 for two and more.
type Patch struct {
	Box  geom.Box
	Seen int
}

// Patches gives the floor as few rectangles for drawing: runs of cells of a row
// that as many sensors see, joined with like runs of the rows below. No two
// overlap, and together they are the room's cells.
func (room *Room) Patches(m Motion) []Patch {
	type open struct{ from, to, seen, since int }
	var out []Patch
	var above, here []open
	u, g := room.cover[m.index()], room.Grid
	shut := func(o open, row int) {
		low := geom.Pt(g.Origin.X+float64(o.from)*g.Step, g.Origin.Y+float64(o.since)*g.Step)
		high := geom.Pt(g.Origin.X+float64(o.to+1)*g.Step, g.Origin.Y+float64(row)*g.Step)
		out = append(out, Patch{geom.Box{Min: low, Max: high}, o.seen})
	}
	for row := range g.Rows {
		here = here[:0]
		room.runs(u, row, func(from, to, seen int) { here = append(here, open{from, to, seen, row}) })
		for _, o := range above {
			joined := false
			for i := range here {
				if h := &here[i]; h.from == o.from && h.to == o.to && h.seen == o.seen {
					h.since, joined = o.since, true
				}
			}
			if !joined {
				shut(o, row)
			}
		}
		above, here = here, above
	}
	for _, o := range above {
		shut(o, g.Rows)
	}
	return out
}

// runs walks the stretches of a row's floor cells that as many sensors see.
func (room *Room) runs(u union, row int, yield func(from, to, seen int)) {
	words := room.Grid.words()
	at := row * words
	start, level := -1, 0
	for c := range room.Grid.Columns {
		w, bit := at+c/64, uint64(1)<<(c%64)
		now := -1
		if room.Floor[w]&bit != 0 {
			now = bits.OnesCount64(u.once[w]&bit) + bits.OnesCount64(u.twice[w]&bit)
		}
		if start >= 0 && now != level {
			yield(start, c-1, level)
			start = -1
		}
		if start < 0 && now >= 0 {
			start, level = c, now
		}
	}
	if start >= 0 {
		yield(start, room.Grid.Columns-1, level)
	}
}

// Sees tells whether the sensor at an index of Sensors sees a motion in the cell
// that a point lies in; false beside the room's box.
func (room *Room) Sees(sensor int, m Motion, p geom.Point) bool {
	g := room.Grid
	column, row := int(math.Floor((p.X-g.Origin.X)/g.Step)), int(math.Floor((p.Y-g.Origin.Y)/g.Step))
	column, row = edgeIn(column, g.Columns), edgeIn(row, g.Rows)
	if column < 0 || column >= g.Columns || row < 0 || row >= g.Rows {
		return false
	}
	return g.At(room.Sensors[sensor].Seen(m), column, row)
}

// edgeIn gives the far edge of a grid to its last cells.
func edgeIn(n, all int) int {
	if n == all {
		return n - 1
	}
	return n
}
