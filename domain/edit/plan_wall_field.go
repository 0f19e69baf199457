package edit

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/units"
)

// SetWall sets one field of a wall or an opening from the text that a person
// typed: "ax", "ay", "bx", "by", "thickness", "height" and "material" of a
// wall, "at", "width" and those of domain.OpeningFields of an opening.
type SetWall struct {
	onWalls
	Thing Thing
	Field string
	Text  string
	Path  string // of the cell, for the error
}

// Apply sets the field.
func (g SetWall) Apply(d *Drawing) (string, error) {
	if err := g.set(d); err != nil {
		return "", &FieldError{Path: g.Path, Text: g.Text, Err: err}
	}
	return "changed " + d.name(g.Thing), nil
}

func (g SetWall) set(d *Drawing) error {
	if g.Thing.Kind == WallThing && g.Field == "material" {
		return g.material(d.Plan)
	}
	if g.Thing.Kind == OpeningThing {
		return g.opening(d)
	}
	v, err := units.ParseOffset(g.Text, d.Project.Units)
	if err != nil {
		return err
	}
	return g.wall(d.Plan, v)
}

func (g SetWall) material(p *domain.Plan) error {
	w := p.Wall(g.Thing.ID)
	if w == nil {
		return goneWall()
	}
	if w.Kind == domain.Boundary {
		return fmt.Errorf("a boundary between rooms is no wall: it has no material")
	}
	name, err := domain.ReadMaterial(g.Text, w.Thickness)
	if err == nil {
		w.Material = name
	}
	return err
}

func (g SetWall) wall(p *domain.Plan, v units.Metres) error {
	w := p.Wall(g.Thing.ID)
	if w == nil {
		return goneWall()
	}
	switch g.Field {
	case "ax":
		w.A.X = float64(v)
	case "ay":
		w.A.Y = float64(v)
	case "bx":
		w.B.X = float64(v)
	case "by":
		w.B.Y = float64(v)
	case "thickness", "height":
		if v < 0 || v > 50 || g.Field == "thickness" && v > 5 {
			return fmt.Errorf("a wall is at most 5 m thick and 50 m high")
		}
		if g.Field == "thickness" {
			w.Thickness = v
		} else {
			w.Height = v
		}
		return nil
	default:
		return fmt.Errorf("there is no field %q", g.Path)
	}
	var err error
	if w.A, err = onPlan(w.A); err != nil {
		return err
	}
	if w.B, err = onPlan(w.B); err != nil {
		return err
	}
	length := units.Metres(w.A.Distance(w.B))
	if length < shortestWall {
		return fmt.Errorf("a wall of no length: its ends must lie apart")
	}
	for i := range w.Openings {
		if o := &w.Openings[i]; o.At+o.Width > length+1e-4 {
			return fmt.Errorf("the wall would be too short for its %s", o.Kind)
		}
	}
	return nil
}

func (g SetWall) opening(d *Drawing) error {
	w := d.Plan.Wall(g.Thing.Wall)
	if w == nil {
		return goneWall()
	}
	o := openingOf(w, g.Thing.ID)
	if o == nil {
		return fmt.Errorf("the opening is no longer in its wall: it may have been removed in another window")
	}
	if f, ok := domain.FieldNamed(domain.OpeningFields(o.Kind), g.Field); ok {
		return f.Set(domain.Env{Project: d.Project}, o, g.Text)
	}
	if g.Field != "at" && g.Field != "width" {
		return fmt.Errorf("a %s has no field %q", o.Kind, g.Field)
	}
	v, err := units.ParseOffset(g.Text, d.Project.Units)
	if err != nil {
		return err
	}
	at := o.At
	if g.Field == "at" {
		at = v
	} else {
		o.Width = v
	}
	return settle(w, o, at)
}
