package radio

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Level is a storey with its gateways, as seen from the storey that is judged.
// Plans of a building share their coordinates.
type Level struct {
	Storey domain.ID
	Base   float64      // m, of its floor over that of the judged storey
	Plan   *domain.Plan // nil: no walls are known
	Rooms  []*domain.Resolved
}

// Gate is a gateway of the backbone.
type Gate struct {
	Node  // its Z is over the judged storey's floor
	Room  *domain.Room
	Level int
}

// Backbone is the mesh of the gateways of a storey, the first of its levels, and
// of the storeys above and below. A link's loss is FreeSpace over the straight
// line in space, the walls that it crosses on each storey on its way, and
// Settings.Slab for each floor between.
type Backbone struct {
	Settings Settings
	Gates    []Gate
	Unplaced int     // gateways of the judged storey that stand nowhere on its plan
	Parts    [][]int // gates that hear each other, directly or through others; the largest first
	Cuts     []Cut   // gates of the largest part without which it falls apart, with those in the smaller pieces
	Head     int     // the gate of the largest part from which the farthest is nearest; -1: none
	Hops     []int   // by gate: links to Head, -1 where there is no way

	levels  []Level
	fields  []*Prober
	order   []int // of levels, from below
	needed  float64
	margins map[[2]int]float64
	mesh    *Mesh
}

// fewGates is how many gates are linked each with each at once. Among more, each
// is first linked with some of the nearest; only while that leaves trouble are more
// looked at, in the end all.
const fewGates = 64

// someGates is how many of the nearest gates each is first linked with among many.
const someGates = 16

// NewBackbone reckons the mesh of the gateways on some levels, the judged storey
// first. With fewer than two gates there is no mesh to judge.
func NewBackbone(p *domain.Project, levels ...Level) *Backbone {
	b := &Backbone{Settings: SettingsOf(p), Head: -1, levels: levels, margins: map[[2]int]float64{}}
	b.needed, _ = b.Settings.Needed()
	for k := range levels {
		b.gather(p, k)
	}
	if len(b.Gates) < 2 {
		return b
	}
	b.raise()
	for each := someGates; ; each *= 2 {
		if len(b.Gates) <= fewGates || each > len(b.Gates)/2 {
			each = len(b.Gates)
		}
		b.linkNearest(each)
		if b.measure(); each == len(b.Gates) || b.sound() {
			return b
		}
	}
}

// sound tells that more links would change nothing that is told.
func (b *Backbone) sound() bool {
	return len(b.Parts) == 1 && len(b.Cuts) == 0 && b.Farthest() <= b.Settings.Backbone
}

// gather takes up the gateways of a level.
func (b *Backbone) gather(p *domain.Project, level int) {
	l := &b.levels[level]
	for _, r := range l.Rooms {
		one := Room{Settings: b.Settings, resolved: r}
		for i := range r.Design.Devices {
			n, has := one.node(p, i)
			switch {
			case !has || !n.Gateway():
			case n.Device.At == nil && level == 0:
				b.Unplaced++
			case n.Device.At != nil:
				n.Z += l.Base
				b.Gates = append(b.Gates, Gate{n, r.Room, level})
			}
		}
	}
}

// raise files the walls of each level that lie among the gates.
func (b *Backbone) raise() {
	box := geom.Box{Min: b.Gates[0].At, Max: b.Gates[0].At}
	for i := range b.Gates {
		box = box.With(b.Gates[i].At)
	}
	for k := range b.levels {
		b.order = append(b.order, k)
		var obstacles []Obstacle
		if plan := b.levels[k].Plan; plan != nil {
			obstacles = obstaclesIn(plan, b.Settings.Walls, box)
		}
		b.fields = append(b.fields, NewField(obstacles).Prober())
	}
	slices.SortFunc(b.order, func(i, j int) int { return cmp.Compare(b.levels[i].Base, b.levels[j].Base) })
}

// linkNearest links each gate with so many of the nearest.
func (b *Backbone) linkNearest(each int) {
	type other struct {
		gate int
		away units.Metres
	}
	others := make([]other, 0, len(b.Gates))
	for i := range b.Gates {
		others = others[:0]
		for j := range b.Gates {
			if j != i {
				others = append(others, other{j, b.Gates[i].Distance(b.Gates[j].Place)})
			}
		}
		slices.SortFunc(others, func(x, y other) int { return cmp.Compare(x.away, y.away) })
		for _, o := range others[:min(each, len(others))] {
			b.linkPair(min(i, o.gate), max(i, o.gate))
		}
	}
}

func (b *Backbone) linkPair(i, j int) {
	if _, done := b.margins[[2]int{i, j}]; !done {
		b.margins[[2]int{i, j}] = Margin(b.Gates[i].Radio, b.Gates[j].Radio, b.loss(i, j))
	}
}

// stretches visits the pieces of the way between two gates, storey by storey from
// the lower one up, with heights over the storey's own floor, and gives the floors
// that it goes through.
func (b *Backbone) stretches(i, j int, visit func(level int, from, to Place)) (floors int) {
	low, high := &b.Gates[i], &b.Gates[j]
	if b.levels[low.Level].Base > b.levels[high.Level].Base {
		low, high = high, low
	}
	first, last := slices.Index(b.order, low.Level), slices.Index(b.order, high.Level)
	at := low.Place
	for k := first; k <= last; k++ {
		end, base := high.Place, b.levels[b.order[k]].Base
		if k < last { // where the way leaves the storey through the slab over it
			t := (b.levels[b.order[k+1]].Base - low.Z) / (high.Z - low.Z)
			if t = math.Min(1, math.Max(0, t)); math.IsNaN(t) {
				t = 0
			}
			end = Place{geom.Segment{A: low.At, B: high.At}.At(t), low.Z + (high.Z-low.Z)*t}
		}
		visit(b.order[k], Place{at.At, at.Z - base}, Place{end.At, end.Z - base})
		at = end
	}
	return last - first
}

// loss gives the loss between two gates, dB.
func (b *Backbone) loss(i, j int) float64 {
	loss := FreeSpace(b.Gates[i].Distance(b.Gates[j].Place), MeshMHz)
	floors := b.stretches(i, j, func(level int, from, to Place) { loss += b.fields[level].Loss(from, to) })
	return loss + float64(floors)*b.Settings.Slab
}

// Why gives what the link between two gates is made of; heights of passages are
// over the floor of the storey that they are on, and the floors between are in Loss.
func (b *Backbone) Why(i, j int) Link {
	l := Link{A: &b.Gates[i].Node, B: &b.Gates[j].Node, Needed: b.needed}
	l.Distance = l.A.Distance(l.B.Place)
	l.FreeSpace = FreeSpace(l.Distance, MeshMHz)
	floors := b.stretches(i, j, func(level int, from, to Place) {
		for _, o := range b.fields[level].Crossed(from, to) {
			s := strip{o.A.X, o.A.Y, o.B.X, o.B.Y, o.Bottom, o.Top, o.Loss}
			l.Crossed = append(l.Crossed, Passage{o, s.where(from, to)})
			l.Walls += o.Loss
		}
	})
	l.Floors, l.Slabs = floors, float64(floors)*b.Settings.Slab
	l.judge(b.Settings, false)
	return l
}

// Margin gives the margin between two gates, dB; ok is false where the two were
// not looked at.
func (b *Backbone) Margin(i, j int) (db float64, ok bool) {
	db, ok = b.margins[[2]int{min(i, j), max(i, j)}]
	return db, ok
}

// Needed gives the margin that a link must have, dB.
func (b *Backbone) Needed() float64 { return b.needed }

// Own tells that a gate is of the judged storey.
func (b *Backbone) Own(gate int) bool { return b.Gates[gate].Level == 0 }

// Farthest gives the hops of the gate that is the farthest from Head.
func (b *Backbone) Farthest() int {
	far := 0
	for _, h := range b.Hops {
		far = max(far, h)
	}
	return far
}
