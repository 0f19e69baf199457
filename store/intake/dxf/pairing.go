package dxf

import (
	"math"
	"slices"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// What two parallel lines must keep to be the faces of one wall, in meters
// (common practice, no published source). A closet of 0.6 m is no wall.
const (
	thinnestWall = 0.05
	thickestWall = 0.50
	shortestWall = 0.10
	maxFacing    = 200 // lines looked at beside each line
)

// face is a wall line in the turned system of its parallels: along it from
// from to to, off to the side.
type face struct {
	wall     building.Wall
	turn     float64    // degrees
	along    geom.Point // the group's direction, whichever way the line itself was drawn
	off      float64
	free     []stretch // what no wall has taken yet
	from, to float64
}

type stretch struct{ from, to float64 }

// pairFaces makes one wall, with its thickness, of two lines that face each
// other; nearest pairs first. What is left of a line stays a wall of unknown
// thickness, unless it is no longer than a wall is thick: then it is an end.
//
//	------------------      face      |
//	. . . . . . . . .       wall      | thickness
//	   ---------------      face      |
func pairFaces(lines []building.Wall) (walls []building.Wall, pairs, ends int) {
	for _, group := range parallels(lines) {
		along := group[0].along
		across := geom.Point{X: -along.Y, Y: along.X}
		type facing struct {
			a, b *face
			gap  float64
		}
		var found []facing
		for i, a := range group {
			for _, b := range group[i+1 : min(len(group), i+1+maxFacing)] {
				gap := b.off - a.off
				if gap > thickestWall {
					break
				}
				if gap >= thinnestWall && math.Min(a.to, b.to)-math.Max(a.from, b.from) >= shortestWall {
					found = append(found, facing{a, b, gap})
				}
			}
		}
		slices.SortStableFunc(found, func(x, y facing) int { return cmpFloat(x.gap, y.gap) })
		for _, f := range found {
			for _, s := range common(f.a.free, f.b.free) {
				if s.to-s.from < math.Max(shortestWall, f.gap/2) {
					continue
				}
				off := across.Times((f.a.off + f.b.off) / 2)
				walls = append(walls, building.Wall{
					A: along.Times(s.from).Add(off), B: along.Times(s.to).Add(off),
					Thickness: units.Metres(f.gap), Kind: building.UnknownWall,
				})
				pairs++
				f.a.free, f.b.free = without(f.a.free, s), without(f.b.free, s)
			}
		}
		for _, f := range group {
			for _, s := range f.free {
				if s.to-s.from <= thickestWall {
					ends++
					continue
				}
				off := across.Times(f.off)
				walls = append(walls, building.Wall{A: along.Times(s.from).Add(off), B: along.Times(s.to).Add(off), Kind: building.UnknownWall})
			}
		}
	}
	return walls, pairs, ends
}

func (f *face) direction() geom.Point {
	d := f.wall.B.Sub(f.wall.A)
	return d.Times(1 / math.Hypot(d.X, d.Y))
}

// bearing gives a line's direction in degrees, -0.05 to 179.95: either way
// along it is the same, and level lines are not split by rounding.
func (f *face) bearing() float64 {
	d := f.direction()
	degrees := math.Mod(math.Atan2(d.Y, d.X)*180/math.Pi+360, 180)
	if degrees >= 179.95 {
		degrees -= 180
	}
	return degrees
}

// parallels groups lines by direction, within a tenth of a degree, each group
// in order of its offset to the side.
func parallels(lines []building.Wall) (groups [][]*face) {
	all := make([]*face, len(lines))
	for i, l := range lines {
		all[i] = &face{wall: l}
		all[i].turn = all[i].bearing()
	}
	slices.SortStableFunc(all, func(a, b *face) int { return cmpFloat(a.turn, b.turn) })
	for _, f := range all {
		if n := len(groups); n > 0 && f.turn-groups[n-1][0].turn <= 0.1 {
			groups[n-1] = append(groups[n-1], f)
			continue
		}
		groups = append(groups, []*face{f})
	}
	for _, group := range groups {
		along := group[0].direction()
		for _, f := range group {
			a, b := f.wall.A.Dot(along), f.wall.B.Dot(along)
			f.along, f.from, f.to = along, math.Min(a, b), math.Max(a, b)
			f.off = along.Cross(f.wall.A.Add(f.wall.B).Times(0.5))
			f.free = []stretch{{f.from, f.to}}
		}
		slices.SortStableFunc(group, func(a, b *face) int { return cmpFloat(a.off, b.off) })
	}
	return groups
}

// common gives what two lists of stretches share.
func common(a, b []stretch) (out []stretch) {
	for _, s := range a {
		for _, o := range b {
			if from, to := math.Max(s.from, o.from), math.Min(s.to, o.to); to > from {
				out = append(out, stretch{from, to})
			}
		}
	}
	return out
}

// without takes a stretch out of a list.
func without(list []stretch, cut stretch) (out []stretch) {
	for _, s := range list {
		if s.from < cut.from {
			out = append(out, stretch{s.from, math.Min(s.to, cut.from)})
		}
		if s.to > cut.to {
			out = append(out, stretch{math.Max(s.from, cut.to), s.to})
		}
	}
	return slices.DeleteFunc(out, func(s stretch) bool { return s.to-s.from <= geom.Coincident })
}
