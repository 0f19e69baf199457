package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// modelFrame, with the lists below, is what the page's script knows of the
// storey: places in meters, all else as text to show.
type modelFrame struct {
	Origin geom.Point   `json:"origin"` // of the picture's upper left corner
	Scale  float64      `json:"scale"`  // millimeters of the picture a meter
	Size   geom.Point   `json:"size"`   // of the picture, millimeters
	Box    [4]float64   `json:"box"`    // of what is drawn: left, bottom, right, top
	Units  units.System `json:"units"`

	Beneath *modelBeneath `json:"beneath"` // nil for no picture

	Fields map[string][]modelField `json:"fields"` // by what a thing is
}

type modelRoom struct {
	Key     string         `json:"key"` // "room/<id>"
	ID      domain.ID      `json:"id"`
	Name    string         `json:"name"`
	Path    string         `json:"path"`
	Facts   [][2]string    `json:"facts"`
	Outline [][]geom.Point `json:"outline"`
	Loads   []modelLoad    `json:"loads"` // lighting
}

// modelLoad is a load that luminaires can be placed of.
type modelLoad struct {
	ID   domain.ID `json:"id"`
	Tag  string    `json:"tag"`
	Left int       `json:"left"` // luminaires that have no place yet
}

type modelThing struct {
	Key   string      `json:"key"` // "device/<room>/<id>"
	Room  domain.ID   `json:"room"`
	Name  string      `json:"name"`
	What  string      `json:"what"`
	At    geom.Point  `json:"at"`
	Turn  float64     `json:"turn"`
	Turns bool        `json:"turns"` // has a direction
	Facts [][2]string `json:"facts"`
}

// modelFinding is what the rules found of a thing.
type modelFinding struct {
	ID       string     `json:"id"`
	Key      string     `json:"key"`
	Severity string     `json:"severity"`
	Text     string     `json:"text"`
	At       geom.Point `json:"at"`
}

func (st *state) findings() []drawing.Finding {
	out := make([]drawing.Finding, len(st.Marks))
	for i := range st.Marks {
		out[i] = st.Marks[i].Finding
	}
	return out
}

// modelWall is a wall, or an opening in one, by its ends.
type modelWall struct {
	Key   string      `json:"key"` // "wall/<id>" or "opening/<wall>/<id>"
	What  string      `json:"what"`
	A     geom.Point  `json:"a"`
	B     geom.Point  `json:"b"`
	Facts [][2]string `json:"facts"`

	Values []string `json:"values,omitempty"` // of the fields of an opening
}

func (st *state) modelWalls(w *domain.Wall) []modelWall {
	sys := st.Project.Units
	wall := modelWall{Key: "wall/" + string(w.ID), What: string(w.Kind), A: w.A, B: w.B, Facts: [][2]string{{"Length", units.Length(units.Metres(w.A.Distance(w.B)), sys)}}}
	if w.Thickness > 0 {
		wall.Facts = append(wall.Facts, [2]string{"Thickness", units.Length(w.Thickness, sys)})
	}
	if w.Material != "" {
		wall.Facts = append(wall.Facts, [2]string{"Material", materialFact(w)})
	}
	out := []modelWall{wall}
	for i := range w.Openings {
		o := &w.Openings[i]
		span := w.Span(o)
		out = append(out, modelWall{Key: "opening/" + string(w.ID) + "/" + string(o.ID), What: string(o.Kind), A: span.A, B: span.B, Facts: [][2]string{{"Width", units.Length(o.Width, sys)}},
			Values: valuesOf(domain.OpeningFields(o.Kind), st.env(), o)})
	}
	return out
}

// frame is where the drawing lies.
func (st *state) frame(d *drawing.Steady) modelFrame {
	pic := d.Picture
	return modelFrame{
		Origin: pic.Origin, Scale: pic.Scale.PerMeter(), Size: geom.Pt(pic.Width, pic.Height), Units: st.Project.Units,
		Box:     [4]float64{d.Box.Min.X, d.Box.Min.Y, d.Box.Max.X, d.Box.Max.Y},
		Beneath: beneathOf(st.Project.ID, st.Plan.Underlay), Fields: st.fields(),
	}
}

func (st *state) modelRoom(r *domain.Resolved) modelRoom {
	sys := st.Project.Units
	out := modelRoom{Key: "room/" + string(r.ID), ID: r.ID, Name: r.Label(), Path: ui.Room(st.Project.ID, r.ID), Outline: [][]geom.Point{}, Loads: []modelLoad{}}
	if !r.Outline.Empty() {
		out.Outline = r.Outline.Rings()
		out.Facts = append(out.Facts, [2]string{"Area drawn", units.Area(r.Measured(), sys)}, [2]string{"Perimeter", units.Length(units.Metres(r.Outline.Perimeter()), sys)})
	}
	if r.Area > 0 {
		out.Facts = append(out.Facts, [2]string{"Area stated", units.Area(r.Area, sys)})
	}
	if r.Ceiling > 0 {
		out.Facts = append(out.Facts, [2]string{"Ceiling", units.Length(r.Ceiling, sys)})
	}
	for i := range r.Design.Loads {
		if l := &r.Design.Loads[i]; l.Kind == domain.Lighting {
			out.Loads = append(out.Loads, modelLoad{l.ID, l.Tag, luminairesLeft(r, l)})
		}
	}
	devices, luminaires := r.Unplaced()
	out.Facts = append(out.Facts, [2]string{"Not placed", edits.Count(devices, "device") + ", " + edits.Count(luminaires, "luminaire")})
	return out
}

func (st *state) modelThings(r *domain.Resolved) []modelThing {
	var out []modelThing
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		if d.At == nil {
			continue
		}
		t := modelThing{Key: "device/" + string(r.ID) + "/" + string(d.ID), Room: r.ID, Name: d.Tag, What: st.typeName(d), At: *d.At, Turn: d.Turn, Turns: true}
		if d.Height > 0 {
			t.Facts = append(t.Facts, [2]string{"Height", units.Length(d.Height, st.Project.Units)})
		}
		if d.Place != "" {
			t.Facts = append(t.Facts, [2]string{"Place", d.Place})
		}
		out = append(out, t)
	}
	for i := range r.Fixtures {
		f := &r.Fixtures[i]
		name := "no load"
		if l := r.Design.Load(f.Load); l != nil {
			name = l.Tag
		}
		out = append(out, modelThing{Key: "fixture/" + string(r.ID) + "/" + string(f.ID), Room: r.ID, Name: name, What: "luminaire", At: f.At, Turn: f.Turn, Turns: true})
	}
	for i := range r.Sitting {
		s := &r.Sitting[i]
		out = append(out, modelThing{Key: "seat/" + string(r.ID) + "/" + string(s.ID), Room: r.ID, Name: "Seat " + fmt.Sprint(i+1), What: "seat", At: s.At})
	}
	return out
}
