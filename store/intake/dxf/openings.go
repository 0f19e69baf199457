package dxf

import (
	"math"
	"slices"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// What a window or door must keep to lie in a wall, in meters (common practice,
// no published source).
const (
	narrowestSign = 0.3
	widestSign    = 12.0
	besideWall    = 0.15 // a frame may stand out so far from the wall's face
	unknownHalf   = 0.15 // of a wall whose thickness is not known
	likeGap       = 0.25 // a sign may be wider or narrower than the gap in the wall
	touching      = 0.02 // lines nearer than that are one sign
	maxSigns      = 5000
	maxLoose      = 20_000 // lines of windows and doors that belong to no block
	signWalls     = 20_000 // walls beyond which none is looked for
)

// sign is what a drawing shows of one window or door: a block, or lines that
// touch.
type sign struct {
	kind   building.OpeningKind
	points []geom.Point
	box    geom.Box
	line   stroke // one of its lines, to say where
}

// openings puts the windows and doors of the chosen layers into walls, where one
// wall alone can hold them: within it, or in a gap between two that lie in line,
// which then become one. Sills and heads are in no plan.
func (b *builder) openings(walls []building.Wall) ([]building.Wall, error) {
	signs, err := b.signs()
	if err != nil || len(signs) == 0 {
		return walls, err
	}
	if len(walls) > signWalls {
		b.problem("windows and doors left out", "walls", "The drawing has more than %s walls: windows and doors were not looked for. Choose fewer wall layers.", building.Count(signWalls))
		return walls, nil
	}
	rows := rowsOf(walls)
	look := newSpans(rows)
	taken := map[building.OpeningKind]int{}
	for i := range signs {
		if i%64 == 0 && b.ctx.Err() != nil {
			return nil, b.ctx.Err()
		}
		s := &signs[i]
		span, from, to, why := look.holding(s)
		if span == nil {
			b.problem("windows and doors left out", b.where(s.line), "A %s near (%.2f, %.2f) m was left out: %s.", s.kind, s.box.Center().X, s.box.Center().Y, why)
			continue
		}
		span.holds = append(span.holds, placedSign{s.kind, from, to})
		taken[s.kind]++
	}
	if n := taken[building.Window] + taken[building.Door]; n > 0 {
		b.note("%s and %s found in walls. A plan shows no sills and heads: type them in the storey's table.", count(taken[building.Window], "window"), count(taken[building.Door], "door"))
	}
	return joined(rows), nil
}

// signs gathers the windows and doors of the chosen layers.
func (b *builder) signs() ([]sign, error) {
	kinds := map[int]building.OpeningKind{}
	for layer := range b.chosen(b.opt.DoorLayers) {
		kinds[layer] = building.Door
	}
	for layer := range b.chosen(b.opt.WindowLayers) {
		kinds[layer] = building.Window
	}
	if len(kinds) == 0 {
		return nil, nil
	}
	blocks := map[*affine]int{}
	var out, loose []sign
	for i, s := range b.scene.strokes {
		if i%1024 == 0 && b.ctx.Err() != nil {
			return nil, b.ctx.Err()
		}
		kind, chosen := kinds[s.layer]
		if !chosen || s.kind == "HATCH" {
			continue
		}
		points := b.meters(s.ring(s.at, wallTurn))
		box, some := geom.BoundsOf(points...)
		if !some || slices.ContainsFunc(points, func(p geom.Point) bool { return !p.Finite() }) {
			continue
		}
		at, known := blocks[s.at]
		switch {
		case s.at == nil:
			if loose = append(loose, sign{kind, points, box, s}); len(loose) > maxLoose {
				b.problem("windows and doors left out", "layers", "The chosen layers of windows and doors hold more than %s lines: none were read. Choose fewer layers.", building.Count(maxLoose))
				return nil, nil
			}
		case known && out[at].kind == kind:
			out[at].points, out[at].box = append(out[at].points, points...), out[at].box.Join(box)
		default:
			blocks[s.at] = len(out)
			out = append(out, sign{kind, points, box, s})
		}
	}
	if out = append(out, touchingSigns(loose)...); len(out) > maxSigns {
		b.problem("windows and doors left out", "layers", "The chosen layers hold more than %s windows and doors; %s were left out.", building.Count(maxSigns), building.Count(len(out)-maxSigns))
		out = out[:maxSigns]
	}
	if len(out) == 0 {
		b.problem("windows and doors left out", "layers", "Nothing is drawn on the chosen layers of windows and doors.")
	}
	return out, nil
}

// touchingSigns joins loose lines whose boxes touch, sweeping from the left.
func touchingSigns(loose []sign) []sign {
	slices.SortStableFunc(loose, func(a, b sign) int { return cmpFloat(a.box.Min.X, b.box.Min.X) })
	var out []sign
	var open []int // of out, whose right side may still be reached
	for _, s := range loose {
		home := -1
		still := open[:0]
		for _, i := range open {
			o := &out[i]
			if o.box.Max.X+touching < s.box.Min.X || len(o.points) == 0 {
				continue
			}
			if o.kind == s.kind && o.box.Grow(touching).Touches(s.box) {
				if home < 0 {
					home = i
				} else { // s joins two
					out[home].points, out[home].box = append(out[home].points, o.points...), out[home].box.Join(o.box)
					o.points = nil
					continue
				}
			}
			still = append(still, i)
		}
		open = still
		if home < 0 {
			open = append(open, len(out))
			out = append(out, s)
			continue
		}
		out[home].points, out[home].box = append(out[home].points, s.points...), out[home].box.Join(s.box)
	}
	return slices.DeleteFunc(out, func(s sign) bool { return len(s.points) == 0 })
}

// span is a stretch of a row that can hold an opening: a wall, or the gap
// between two.
type span struct {
	row      *row
	from, to float64
	gap      bool
	holds    []placedSign
}

type placedSign struct {
	kind     building.OpeningKind
	from, to float64
}

// row is walls in line with each other, of one thickness.
type row struct {
	along, across geom.Point
	off, half     float64
	walls         []*face
	spans         []*span // wall, gap, wall, ...
}

// inRow is how far walls of one row may lie beside each other, meters.
const inRow = 0.02

// rowsOf sorts walls into rows.
func rowsOf(walls []building.Wall) []*row {
	var out []*row
	for _, group := range parallels(walls) {
		along := group[0].along
		var rows []*row
		for _, f := range group { // in order of their offsets
			var home *row
			for i := len(rows) - 1; i >= 0 && f.off-rows[i].off <= inRow; i-- {
				if rows[i].alike(f) {
					home = rows[i]
					break
				}
			}
			if home == nil {
				home = &row{along: along, across: geom.Point{X: -along.Y, Y: along.X}, off: f.off, half: halfOf(f)}
				rows = append(rows, home)
			}
			home.walls = append(home.walls, f)
		}
		out = append(out, rows...)
	}
	for _, r := range out {
		slices.SortStableFunc(r.walls, func(a, b *face) int { return cmpFloat(a.from, b.from) })
		for i, f := range r.walls {
			if i > 0 && f.from > r.walls[i-1].to {
				r.spans = append(r.spans, &span{row: r, from: r.walls[i-1].to, to: f.from, gap: true})
			} else if i > 0 {
				r.spans = append(r.spans, &span{row: r, from: f.from, to: f.from, gap: true}) // they meet or overlap
			}
			r.spans = append(r.spans, &span{row: r, from: f.from, to: f.to})
		}
	}
	return out
}

func halfOf(f *face) float64 {
	if f.wall.Thickness > 0 {
		return float64(f.wall.Thickness) / 2
	}
	return unknownHalf
}

func (r *row) alike(f *face) bool {
	return math.Abs(r.half-halfOf(f)) <= inRow && (r.walls[0].wall.Thickness > 0) == (f.wall.Thickness > 0)
}

func (r *row) at(along float64) geom.Point {
	return r.along.Times(along).Add(r.across.Times(r.off))
}

// spans finds stretches of walls by place, in cells.
type spans struct{ cells map[[2]int][]*span }

const spanCell = 5.0 // meters

func newSpans(rows []*row) *spans {
	out := &spans{cells: map[[2]int][]*span{}}
	for _, r := range rows {
		for _, s := range r.spans {
			if s.gap && (s.to-s.from < narrowestSign || s.to-s.from > widestSign) {
				continue
			}
			const most = 2000 // 10 km of wall
			n := min(int((s.to-s.from)/spanCell)+1, most)
			var last [2]int
			for i := range n + 1 {
				p := r.at(s.from + (s.to-s.from)*float64(i)/float64(n))
				if at := cellOf(p); i == 0 || at != last {
					out.cells[at], last = append(out.cells[at], s), at
				}
			}
		}
	}
	return out
}

func cellOf(p geom.Point) [2]int {
	return [2]int{int(math.Floor(p.X / spanCell)), int(math.Floor(p.Y / spanCell))}
}

// holding gives the one stretch that a sign lies in, with where along it; nil
// and why where there is none or more than one.
func (l *spans) holding(s *sign) (held *span, from, to float64, why string) {
	seen := map[*span]bool{}
	var inGap, inWall []*span
	low, high := cellOf(s.box.Min), cellOf(s.box.Max)
	if (high[0]-low[0]+3)*(high[1]-low[1]+3) > 400 {
		return nil, 0, 0, "what is drawn there is too large for one"
	}
	for x := low[0] - 1; x <= high[0]+1; x++ {
		for y := low[1] - 1; y <= high[1]+1; y++ {
			for _, one := range l.cells[[2]int{x, y}] {
				if seen[one] {
					continue
				}
				seen[one] = true
				switch _, _, fits := one.fits(s); {
				case fits && one.gap:
					inGap = append(inGap, one)
				case fits:
					inWall = append(inWall, one)
				}
			}
		}
	}
	found := inGap
	if len(found) == 0 {
		found = inWall
	}
	switch {
	case len(found) == 0:
		return nil, 0, 0, "no wall of the chosen layers holds it"
	case len(found) > 1:
		return nil, 0, 0, "more than one wall could hold it; where two lines draw one wall, say so"
	}
	from, to, _ = found[0].fits(s)
	if slices.ContainsFunc(found[0].holds, func(o placedSign) bool { return from < o.to-touching && o.from < to-touching }) {
		return nil, 0, 0, "another lies in the same place"
	}
	return found[0], from, to, ""
}

// fits tells whether a sign lies in the stretch, and where along it. A window
// lies within the wall's thickness; a door's leaf and the arc of its swing reach
// as far out of the wall as the door is wide.
func (p *span) fits(s *sign) (from, to float64, fits bool) {
	r := p.row
	from, to = math.Inf(1), math.Inf(-1)
	low, high := math.Inf(1), math.Inf(-1)
	for _, q := range s.points {
		a, c := q.Dot(r.along), q.Dot(r.across)-r.off
		from, to, low, high = min(from, a), max(to, a), min(low, c), max(high, c)
	}
	width, beside := to-from, r.half+besideWall
	if width < narrowestSign || width > widestSign || low > beside || high < -beside {
		return 0, 0, false
	}
	if reach := max(high, -low); s.kind == building.Window && reach > beside || reach > 1.15*width+beside {
		return 0, 0, false
	}
	if s.kind == building.Door && min(high, -low) > beside { // swings to one side
		return 0, 0, false
	}
	if !p.gap {
		return max(from, p.from), min(to, p.to), from >= p.from-touching && to <= p.to+touching
	}
	return p.from, p.to, math.Abs(from-p.from) <= likeGap && math.Abs(to-p.to) <= likeGap
}

// joined gives the walls with what they hold; walls beside a gap that holds an
// opening become one.
func joined(rows []*row) []building.Wall {
	var out []building.Wall
	for _, r := range rows {
		var now *building.Wall
		from := 0.0
		flush := func() {
			if now != nil {
				out = append(out, *now)
			}
			now = nil
		}
		for i, f := range r.walls {
			wall := r.spans[2*i]
			if i > 0 && len(r.spans[2*i-1].holds) > 0 {
				now.A, now.B = r.at(from), r.at(f.to)
				now.Openings = append(now.Openings, r.traces(r.spans[2*i-1])...)
			} else {
				flush()
				whole := f.wall
				now, from = &whole, f.from
			}
			now.Openings = append(now.Openings, r.traces(wall)...)
		}
		flush()
	}
	return out
}

func (r *row) traces(s *span) []building.Opening {
	var out []building.Opening
	for _, o := range s.holds {
		out = append(out, building.Opening{Kind: o.kind, A: r.at(o.from), B: r.at(o.to)})
	}
	return out
}
