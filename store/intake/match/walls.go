package match

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// Bounds of what is drawn, in meters: shorter walls and narrower openings are
// rounding.
const (
	shortestWall     = 0.01
	narrowestOpening = 0.01
	mostWalls        = 20_000 // of a storey
)

// WallCounts says what happens to a storey's walls.
type WallCounts struct {
	New, Kept, Gone int // Kept are known again, and those that stay beside the file's
	Windows, Doors  int // in the walls of the file
	Indoors         int // of the windows, give on another room
	Rooflights      int // of the file
	LightsGone      int // rooflights that the file does not have and that go
	TooMany         int // beyond what a storey takes; left out
}

// fitWalls puts the file's walls and rooflights into the storey's plan. A wall that is there
// already keeps its ID and its material.
func (f *fitter) fitWalls(s *Storey, from *building.Storey) {
	was := f.here.Plans[s.Into]
	if was == nil {
		was = &domain.Plan{ID: s.Into}
	}
	plan := *was
	plan.ID, plan.Walls = s.Into, nil
	known := map[string]*domain.Wall{}
	for i := range was.Walls {
		known[lineKey(was.Walls[i].A, was.Walls[i].B)] = &was.Walls[i]
	}
	used, changed := map[domain.ID]bool{}, f.fitRooflights(s, &plan, was, from)
	drawn := f.walls(from)
	if len(drawn) > mostWalls {
		s.Walls.TooMany, drawn = s.Walls.TooMany+len(drawn)-mostWalls, drawn[:mostWalls]
	}
	f.markIndoors(s, from, drawn)
	for i := range drawn {
		w := &drawn[i]
		s.Walls.countOpenings(w)
		old := known[lineKey(w.A, w.B)]
		if old == nil {
			s.Walls.New++
			changed = true
		} else {
			s.Walls.Kept++
			used[old.ID] = true
			changed = f.keep(w, old) || changed
		}
	}
	for i := range was.Walls {
		switch w := was.Walls[i]; {
		case used[w.ID]:
		case f.choices.DropWalls && len(drawn) > 0:
			s.Walls.Gone++
			changed = true
		default:
			s.Walls.Kept++
			plan.Walls = append(plan.Walls, w)
		}
	}
	plan.Walls = append(plan.Walls, drawn...)
	f.finish(&plan)
	if f.model.HasNorth && plan.North != f.model.NorthDegrees && (plan.North == 0 || f.choices.TakeFacts) {
		plan.North, changed = f.model.NorthDegrees, true
	}
	if changed {
		s.Plan = &plan
	}
}

// walls gives the file's walls as the plan draws them, each line once: files
// draw one wall as several surfaces above each other.
func (f *fitter) walls(from *building.Storey) []domain.Wall {
	var out []domain.Wall
	byLine := map[string]int{}
	for i := range from.Walls {
		w := asDrawn(&from.Walls[i])
		if w.A.Near(w.B, shortestWall) {
			continue
		}
		at, seen := byLine[lineKey(w.A, w.B)]
		if !seen {
			byLine[lineKey(w.A, w.B)] = len(out)
			out = append(out, w)
			at = len(out) - 1
		} else {
			join(&out[at], &w)
		}
		for _, o := range from.Walls[i].Openings {
			addOpening(&out[at], o)
		}
	}
	return out
}

var wallKinds = map[building.WallKind]domain.WallKind{building.AirWall: domain.Boundary, building.PartitionWall: domain.Partition}

func asDrawn(w *building.Wall) domain.Wall {
	kind := wallKinds[w.Kind]
	if kind == "" {
		kind = domain.FullWall
	}
	out := domain.Wall{A: geom.Pt(tenth(w.A.X), tenth(w.A.Y)), B: geom.Pt(tenth(w.B.X), tenth(w.B.Y)), Kind: kind, Thickness: units.Metres(tenth(float64(w.Thickness)))}
	if kind == domain.Partition {
		out.Height = units.Metres(tenth(float64(w.Height)))
	}
	return out
}

// join adds what a second surface on the same line says: a wall beats a
// boundary, the thicker one tells the thickness.
func join(w, other *domain.Wall) {
	if other.Kind == domain.FullWall || w.Kind == domain.Boundary {
		w.Kind, w.Height = other.Kind, other.Height
	}
	w.Thickness = max(w.Thickness, other.Thickness)
}

var openingKinds = map[building.OpeningKind]domain.OpeningKind{building.Window: domain.Window, building.Door: domain.Door, building.AirOpening: domain.Gap}

// addOpening places an opening along its wall. Rooflights are in no wall: see
// fitRooflights.
func addOpening(w *domain.Wall, o building.Opening) {
	kind := openingKinds[o.Kind]
	length := w.A.Distance(w.B)
	along := w.B.Sub(w.A).Times(1 / length)
	from, to := o.A.Sub(w.A).Dot(along), o.B.Sub(w.A).Dot(along)
	from, to = math.Max(0, math.Min(from, to)), math.Min(length, math.Max(from, to))
	if kind == "" || to-from < narrowestOpening {
		return
	}
	made := domain.Opening{Kind: kind, At: units.Metres(tenth(from)), Width: units.Metres(tenth(to - from)),
		Sill: units.Metres(tenth(float64(o.Sill))), Head: units.Metres(tenth(float64(o.Head))), Indoors: o.Indoors, Glass: o.Glass}
	for i := range w.Openings {
		if sameOpening(&w.Openings[i], &made) {
			return
		}
	}
	w.Openings = append(w.Openings, made)
}

func sameOpening(a, b *domain.Opening) bool {
	return a.Kind == b.Kind && a.At == b.At && a.Width == b.Width && a.Sill == b.Sill && a.Head == b.Head
}

// keep gives a wall of the file what the plan knows of it, and tells whether
// the file changes it. Openings of the plan that the file has none over stay.
func (f *fitter) keep(w, old *domain.Wall) (changed bool) {
	if !w.A.Near(old.A, shortestWall) {
		turn(w)
	}
	w.ID, w.Seq, w.Material, w.A, w.B = old.ID, old.Seq, old.Material, old.A, old.B
	if w.Thickness == 0 {
		w.Thickness = old.Thickness
	}
	if w.Kind == domain.FullWall && old.Kind == domain.Partition {
		w.Kind, w.Height = old.Kind, old.Height // a designer made it one
	}
	fromFile := len(w.Openings)
	for i := range old.Openings {
		f.keepOpening(w, &old.Openings[i], fromFile)
	}
	slices.SortStableFunc(w.Openings, func(a, b domain.Opening) int { return cmp.Compare(order(&a), order(&b)) })
	return w.Thickness != old.Thickness || w.Kind != old.Kind || w.Height != old.Height || !slices.Equal(w.Openings, old.Openings)
}

// order puts openings without a place in the list last.
func order(o *domain.Opening) int {
	if o.ID == "" {
		return math.MaxInt
	}
	return o.Seq
}

// turn draws a wall from its other end.
func turn(w *domain.Wall) {
	length := units.Metres(w.A.Distance(w.B))
	w.A, w.B = w.B, w.A
	for i := range w.Openings {
		o := &w.Openings[i]
		o.At = units.Metres(tenth(float64(max(0, length-o.At-o.Width))))
	}
}

func (f *fitter) keepOpening(w *domain.Wall, old *domain.Opening, fromFile int) {
	covered := false
	for i := range w.Openings[:fromFile] {
		o := &w.Openings[i]
		if o.ID == "" && sameOpening(o, old) {
			o.ID, o.Seq, o.Blocked, o.Indoors = old.ID, old.Seq, old.Blocked, o.Indoors || old.Indoors
			if o.Glass == 0 {
				o.Glass = old.Glass
			}
			return
		}
		covered = covered || o.At < old.At+old.Width && old.At < o.At+o.Width
	}
	if !covered && !f.choices.DropWalls {
		w.Openings = append(w.Openings, *old)
	}
}

// finish gives IDs and places in the list to what has none.
func (f *fitter) finish(p *domain.Plan) {
	last := 0
	for i := range p.Walls {
		last = max(last, p.Walls[i].Seq)
	}
	for i := range p.Walls {
		w := &p.Walls[i]
		if w.ID == "" {
			last++
			w.ID, w.Seq = f.newID(), last
		}
		f.finishOpenings(w)
	}
	slices.SortStableFunc(p.Walls, func(a, b domain.Wall) int { return cmp.Compare(a.Seq, b.Seq) })
}

func (f *fitter) finishOpenings(w *domain.Wall) {
	last := 0
	for i := range w.Openings {
		last = max(last, w.Openings[i].Seq)
	}
	for i := range w.Openings {
		if o := &w.Openings[i]; o.ID == "" {
			last++
			o.ID, o.Seq = f.newID(), last
		}
	}
}

func (c *WallCounts) countOpenings(w *domain.Wall) {
	for i := range w.Openings {
		switch w.Openings[i].Kind {
		case domain.Window:
			c.Windows++
			if w.Openings[i].Indoors {
				c.Indoors++
			}
		case domain.Door:
			c.Doors++
		}
	}
}

// lineKey is the same for a line drawn from either end.
func lineKey(a, b geom.Point) string {
	if a.X > b.X || a.X == b.X && a.Y > b.Y {
		a, b = b, a
	}
	return fmt.Sprintf("%.3f %.3f %.3f %.3f", a.X+0, a.Y+0, b.X+0, b.Y+0)
}
