package edit

import (
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// AddRooflight puts a rooflight between two opposite corners.
type AddRooflight struct {
	onWalls
	ID   domain.ID
	A, B geom.Point
}

// Apply adds the rooflight.
func (g AddRooflight) Apply(d *Drawing) (string, error) {
	l := domain.Rooflight{ID: g.ID, At: geom.Segment{A: g.A, B: g.B}.Middle(),
		Width: units.Metres(tenths(math.Abs(g.A.X - g.B.X))), Length: units.Metres(tenths(math.Abs(g.A.Y - g.B.Y)))}
	return "added a rooflight", d.addRooflight(l, geom.Point{})
}

// addRooflight puts one on the plan, moved by a distance.
func (d *Drawing) addRooflight(l domain.Rooflight, by geom.Point) error {
	if len(d.Plan.Rooflights) >= domain.MaxRooflights {
		return fmt.Errorf("the plan has %d rooflights, which is the most that it can have", domain.MaxRooflights)
	}
	if !(l.Width >= domain.LeastRooflight && l.Length >= domain.LeastRooflight) {
		return fmt.Errorf("a rooflight needs a width and a length of at least %s: drag from one corner to the opposite one", units.Length(domain.LeastRooflight, d.Project.Units))
	}
	var err error
	if l.At, err = onPlan(l.At.Add(by)); err != nil {
		return err
	}
	l.Turn = full(l.Turn)
	l.Seq = nextSeq(d.Plan.Rooflights, func(l domain.Rooflight) int { return l.Seq })
	d.Plan.Rooflights = append(d.Plan.Rooflights, l)
	return nil
}

// rooflight gives a rooflight of the plan.
func (d *Drawing) rooflight(id domain.ID) (*domain.Rooflight, error) {
	if l := d.Plan.Rooflight(id); l != nil {
		return l, nil
	}
	return nil, gone("the rooflight")
}

// moveOfPlan moves a wall with what stands in it or a rooflight, or slides an
// opening along its wall.
func (d *Drawing) moveOfPlan(t Thing, by geom.Point) error {
	if !t.rooflight() {
		return moveOfWall(d.Plan, t, by)
	}
	l, err := d.rooflight(t.ID)
	if err != nil {
		return err
	}
	l.At, err = onPlan(l.At.Add(by))
	return err
}

func (d *Drawing) turnRooflight(id domain.ID, by float64) error {
	l, err := d.rooflight(id)
	if err == nil {
		l.Turn = full(l.Turn + by)
	}
	return err
}

// removeOfPlan takes a wall, an opening or a rooflight away.
func (d *Drawing) removeOfPlan(t Thing, all []Thing) error {
	if !t.rooflight() {
		return removeOfWall(d.Plan, t, all)
	}
	if _, err := d.rooflight(t.ID); err != nil {
		return err
	}
	d.Plan.Rooflights = slices.DeleteFunc(d.Plan.Rooflights, func(l domain.Rooflight) bool { return l.ID == t.ID })
	return nil
}

func (d *Drawing) copyRooflight(from, id domain.ID, by geom.Point) error {
	l, err := d.rooflight(from)
	if err != nil {
		return err
	}
	twin := *l
	twin.ID = id
	return d.addRooflight(twin, by)
}

// SetRooflight sets one of domain.RooflightFields from the text that a person
// typed.
type SetRooflight struct {
	onWalls
	Thing Thing
	Field string
	Text  string
	Path  string // of the cell, for the error
}

// Apply sets the field.
func (g SetRooflight) Apply(d *Drawing) (string, error) {
	if err := g.set(d); err != nil {
		return "", &FieldError{Path: g.Path, Text: g.Text, Err: err}
	}
	return "changed a rooflight", nil
}

func (g SetRooflight) set(d *Drawing) error {
	l, err := d.rooflight(g.Thing.ID)
	if err != nil {
		return err
	}
	f, ok := domain.FieldNamed(domain.RooflightFields(), g.Field)
	if !ok {
		return fmt.Errorf("there is no field %q", g.Path)
	}
	next := *l
	if err := f.Set(domain.Env{Project: d.Project}, &next, g.Text); err != nil {
		return err
	}
	if next.At, err = onPlan(next.At); err != nil {
		return err
	}
	next.Turn = full(next.Turn)
	*l = next
	return nil
}
