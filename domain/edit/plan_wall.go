package edit

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// shortestWall is the length in meters under which a wall is a slip of the hand.
const shortestWall = 0.01

// DrawWalls adds straight walls from point to point.
type DrawWalls struct {
	onWalls
	IDs       []domain.ID // one a wall
	Points    []geom.Point
	Kind      domain.WallKind
	Thickness units.Metres
}

// Apply adds the walls.
func (g DrawWalls) Apply(d *Drawing) (string, error) {
	if len(g.Points) < 2 || len(g.Points) > mostCorners || len(g.IDs) != len(g.Points)-1 {
		return "", fmt.Errorf("a wall needs two points: its ends")
	}
	if g.Kind != domain.FullWall && g.Kind != domain.Partition && g.Kind != domain.Boundary {
		return "", fmt.Errorf("there is no wall of kind %.30q", g.Kind)
	}
	if !(g.Thickness >= 0 && g.Thickness <= 5) {
		return "", fmt.Errorf("a wall is at most 5 m thick")
	}
	seq := nextSeq(d.Plan.Walls, func(w domain.Wall) int { return w.Seq })
	for i, id := range g.IDs {
		a, err := onPlan(g.Points[i])
		if err != nil {
			return "", err
		}
		b, err := onPlan(g.Points[i+1])
		if err != nil {
			return "", err
		}
		if a.Distance(b) < shortestWall {
			return "", fmt.Errorf("a wall of no length: its ends must lie apart")
		}
		d.Plan.Walls = append(d.Plan.Walls, domain.Wall{ID: id, Seq: seq + i, A: a, B: b, Kind: g.Kind, Thickness: g.Thickness})
	}
	return "drew " + counted(len(g.IDs), "wall"), nil
}

// AddOpening puts a window, a door or a gap into a wall, and marks a window that
// comes to stand between two rooms. At is the distance of
// its middle from the wall's first end.
type AddOpening struct {
	onWalls
	Wall, ID   domain.ID
	Kind       domain.OpeningKind
	At, Width  units.Metres
	Sill, Head units.Metres
}

// Apply adds the opening.
func (g AddOpening) Apply(d *Drawing) (string, error) {
	w := d.Plan.Wall(g.Wall)
	if w == nil {
		return "", goneWall()
	}
	if g.Kind != domain.Window && g.Kind != domain.Door && g.Kind != domain.Gap {
		return "", fmt.Errorf("there is no opening of kind %.30q", g.Kind)
	}
	if !(g.Sill >= 0 && g.Head >= 0 && g.Head <= 50) || g.Head > 0 && g.Head <= g.Sill {
		return "", fmt.Errorf("the head of a %s lies above its sill, at most 50 m up", g.Kind)
	}
	o := domain.Opening{ID: g.ID, Seq: nextSeq(w.Openings, func(o domain.Opening) int { return o.Seq }), Kind: g.Kind, Width: g.Width, Sill: g.Sill, Head: g.Head}
	if err := settle(w, &o, g.At-g.Width/2); err != nil {
		return "", err
	}
	d.settleIndoors(w, &o)
	w.Openings = append(w.Openings, o)
	return "added a " + string(g.Kind), nil
}

// settle puts an opening so far from the wall's first end, kept within the
// wall, or says what is in its way.
func settle(w *domain.Wall, o *domain.Opening, at units.Metres) error {
	length := units.Metres(w.A.Distance(w.B))
	if !(o.Width > 0 && o.Width <= length) {
		return fmt.Errorf("a %s of %s does not fit into a wall of %s", o.Kind, units.Length(o.Width, units.SI), units.Length(length, units.SI))
	}
	o.At = units.Metres(tenths(float64(min(max(at, 0), length-o.Width))))
	for i := range w.Openings {
		other := &w.Openings[i]
		if other.ID != o.ID && o.At < other.At+other.Width-geom.Coincident && other.At < o.At+o.Width-geom.Coincident {
			return fmt.Errorf("there is a %s in this place already", other.Kind)
		}
	}
	return nil
}

func goneWall() error {
	return fmt.Errorf("the wall is no longer on this plan: it may have been removed in another window")
}

func openingOf(w *domain.Wall, id domain.ID) *domain.Opening {
	for i := range w.Openings {
		if w.Openings[i].ID == id {
			return &w.Openings[i]
		}
	}
	return nil
}

// moveOfWall moves a wall with what stands in it, or slides an opening along
// its wall.
func moveOfWall(p *domain.Plan, t Thing, by geom.Point) error {
	if t.Kind == WallThing {
		w := p.Wall(t.ID)
		if w == nil {
			return goneWall()
		}
		var err error
		if w.A, err = onPlan(w.A.Add(by)); err != nil {
			return err
		}
		w.B, err = onPlan(w.B.Add(by))
		return err
	}
	w := p.Wall(t.Wall)
	if w == nil {
		return goneWall()
	}
	o := openingOf(w, t.ID)
	if o == nil {
		return fmt.Errorf("the opening is no longer in its wall: it may have been removed in another window")
	}
	if !by.Finite() {
		return fmt.Errorf("a %s stays in its wall", o.Kind)
	}
	length := w.A.Distance(w.B)
	if length == 0 {
		return fmt.Errorf("the wall has no length")
	}
	return settle(w, o, o.At+units.Metres(by.Dot(w.B.Sub(w.A))/length))
}

// removeOfWall takes a wall or an opening away; an opening whose wall goes too
// is gone with it.
func removeOfWall(p *domain.Plan, t Thing, all []Thing) error {
	if t.Kind == WallThing {
		if p.Wall(t.ID) == nil {
			return goneWall()
		}
		p.Walls = slices.DeleteFunc(p.Walls, func(w domain.Wall) bool { return w.ID == t.ID })
		return nil
	}
	if slices.Contains(all, Thing{Kind: WallThing, ID: t.Wall}) {
		return nil
	}
	w := p.Wall(t.Wall)
	if w == nil {
		return goneWall()
	}
	if openingOf(w, t.ID) == nil {
		return fmt.Errorf("the opening is no longer in its wall: it may have been removed in another window")
	}
	w.Openings = slices.DeleteFunc(w.Openings, func(o domain.Opening) bool { return o.ID == t.ID })
	return nil
}
