package plan

import (
	"encoding/json"
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// view is what the page shows, ready to print.
type view struct {
	Project    domain.ID
	Path       string
	Title      string
	Table      bool
	Other      string // the address of the other way to see it
	Sums       []string
	Storeys    []storeyTab
	Layers     []layerChoice
	Picture    *drawing.Picture
	pictureURL func(sha string) string // of the picture beneath
	Model      string                  // for the page's script, as JSON
	Unplaced   []unplacedRoom
	Shapeless  []domain.Choice // rooms without an outline
	Empty      bool            // nothing is drawn
	Import     string
	Rooms      ui.Grid
	Places     ui.Grid
	Walls      ui.Grid
}

type storeyTab struct {
	Title, Path string
	Here        bool
}

type layerChoice struct{ Name, Title string }

// unplacedRoom lists what a room has that the plan does not show.
type unplacedRoom struct {
	ID      string
	Label   string
	Path    string
	Devices []unplacedDevice
	Loads   []unplacedLoad
}

type unplacedDevice struct{ Thing, Tag, What string }

type unplacedLoad struct {
	Room, Load domain.ID
	Tag        string
	Left       int
}

func newView(st *state) view {
	p := st.Project
	v := view{
		Project: p.ID, Path: ui.Plan(p.ID, st.Storey.ID), Table: st.Table, Title: ui.StoreyTitle(p, st.Building.Name, st.Storey.Name),
		Import: ui.Import(p.ID), Sums: st.sums(),
	}
	v.Other = v.Path + "?show=table"
	if st.Table {
		v.Other = v.Path
	}
	for i := range p.Buildings {
		b := &p.Buildings[i]
		for j := range b.Storeys {
			tab := storeyTab{Title: ui.StoreyTitle(p, b.Name, b.Storeys[j].Name), Path: ui.Plan(p.ID, b.Storeys[j].ID), Here: b.Storeys[j].ID == st.Storey.ID}
			if st.Table {
				tab.Path += "?show=table"
			}
			v.Storeys = append(v.Storeys, tab)
		}
	}
	v.Unplaced, v.Shapeless = st.unplaced()
	v.Empty = st.Plan.Empty() && len(v.Shapeless) == len(st.Rooms) && st.bare()
	if st.Table {
		v.Rooms, v.Places, v.Walls = st.roomGrid(), st.placeGrid(), st.wallGrid()
		return v
	}
	for _, l := range drawing.Layers() {
		v.Layers = append(v.Layers, layerChoice{string(l), layerTitles[l]})
	}
	v.pictureURL = func(sha string) string { return ui.Picture(p.ID, sha) }
	v.Picture = drawing.Storey(p, st.Plan, st.resolved(), drawing.Options{Scale: screenScale(p.Units), Findings: st.findings()})
	v.Model = st.model(v.Picture)
	return v
}

var layerTitles = map[drawing.Layer]string{
	drawing.LayerUnderlay: "Picture beneath", drawing.LayerRooms: "Rooms", drawing.LayerSeats: "Seats", drawing.LayerWalls: "Walls, doors, windows",
	drawing.LayerLuminaires: "Luminaires", drawing.LayerDevices: "Devices", drawing.LayerNames: "Room names", drawing.LayerFindings: "Findings",
}

// screenScale is that of the drawing behind the screen's zoom: what a sheet
// would take.
func screenScale(sys units.System) drawing.Scale {
	if sys == units.US {
		return drawing.StandardScales(sys)[4]
	}
	return drawing.DefaultScale
}

// bare tells that no room shows anything.
func (st *state) bare() bool {
	for _, r := range st.Rooms {
		if len(r.Resolved.Fixtures)+len(r.Resolved.Sitting) > 0 {
			return false
		}
	}
	return true
}

// sums are what is always seen of a storey: rooms, area, what is not placed.
func (st *state) sums() []string {
	var area units.SquareMetres
	drawn, devices, luminaires := 0, 0, 0
	for _, r := range st.Rooms {
		if !r.Resolved.Outline.Empty() {
			drawn++
			area += r.Resolved.Measured()
		}
		d, l := r.Resolved.Unplaced()
		devices, luminaires = devices+d, luminaires+l
	}
	out := []string{fmt.Sprintf("%d of %s drawn", drawn, edits.Count(len(st.Rooms), "room"))}
	if drawn > 0 {
		out = append(out, units.Area(area, st.Project.Units))
	}
	if devices+luminaires > 0 {
		out = append(out, "not placed: "+edits.Count(devices, "device")+", "+edits.Count(luminaires, "luminaire"))
	}
	return out
}

func (st *state) unplaced() (list []unplacedRoom, shapeless []domain.Choice) {
	for _, state := range st.Rooms {
		r := state.Resolved
		if r.Outline.Empty() {
			shapeless = append(shapeless, domain.Choice{Value: string(r.ID), Label: r.Label()})
		}
		room := unplacedRoom{ID: string(r.ID), Label: r.Label(), Path: ui.Room(st.Project.ID, r.ID)}
		for i := range r.Design.Devices {
			if d := &r.Design.Devices[i]; d.At == nil {
				room.Devices = append(room.Devices, unplacedDevice{"device/" + string(r.ID) + "/" + string(d.ID), d.Tag, st.typeName(d)})
			}
		}
		for i := range r.Design.Loads {
			l := &r.Design.Loads[i]
			if left := luminairesLeft(r, l); left > 0 {
				room.Loads = append(room.Loads, unplacedLoad{r.ID, l.ID, l.Tag, left})
			}
		}
		if len(room.Devices)+len(room.Loads) > 0 {
			list = append(list, room)
		}
	}
	return list, shapeless
}

func luminairesLeft(r *domain.Resolved, l *domain.Load) int {
	if l.Luminaire == "" {
		return 0
	}
	left := l.Count
	for i := range r.Fixtures {
		if r.Fixtures[i].Load == l.ID {
			left--
		}
	}
	return left
}

func (st *state) typeName(d *domain.Device) string {
	if t := st.Project.Book.Find(d.Type); t != nil {
		return t.Name
	}
	return d.Type
}

// model is what the page's script knows of the storey: places in meters, all
// else as text to show.
type model struct {
	Origin   geom.Point     `json:"origin"` // of the picture's upper left corner
	Scale    float64        `json:"scale"`  // millimeters of the picture a meter
	Size     geom.Point     `json:"size"`   // of the picture, millimeters
	Units    units.System   `json:"units"`
	Rooms    []modelRoom    `json:"rooms"`
	Things   []modelThing   `json:"things"`
	Walls    []modelWall    `json:"walls"`
	Findings []modelFinding `json:"findings"`
}

type modelRoom struct {
	Key     string         `json:"key"` // "room/<id>"
	ID      domain.ID      `json:"id"`
	Name    string         `json:"name"`
	Path    string         `json:"path"`
	Facts   [][2]string    `json:"facts"`
	Outline [][]geom.Point `json:"outline"`
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
	Key      string `json:"key"`
	Severity string `json:"severity"`
	Text     string `json:"text"`
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
}

func (st *state) modelWalls(w *domain.Wall) []modelWall {
	sys := st.Project.Units
	wall := modelWall{Key: "wall/" + string(w.ID), What: string(w.Kind), A: w.A, B: w.B, Facts: [][2]string{{"Length", units.Length(units.Metres(w.A.Distance(w.B)), sys)}}}
	if w.Thickness > 0 {
		wall.Facts = append(wall.Facts, [2]string{"Thickness", units.Length(w.Thickness, sys)})
	}
	if w.Material != "" {
		wall.Facts = append(wall.Facts, [2]string{"Material", w.Material})
	}
	out := []modelWall{wall}
	for i := range w.Openings {
		o := &w.Openings[i]
		span := w.Span(o)
		out = append(out, modelWall{Key: "opening/" + string(w.ID) + "/" + string(o.ID), What: string(o.Kind), A: span.A, B: span.B, Facts: [][2]string{
			{"Width", units.Length(o.Width, sys)}, {"Sill", units.Length(o.Sill, sys)}, {"Head", units.Length(o.Head, sys)},
		}})
	}
	return out
}

func (st *state) model(pic *drawing.Picture) string {
	m := model{
		Origin: pic.Origin, Scale: pic.Scale.PerMeter(), Size: geom.Pt(pic.Width, pic.Height), Units: st.Project.Units,
		Rooms: []modelRoom{}, Things: []modelThing{}, Walls: []modelWall{}, Findings: []modelFinding{},
	}
	for _, state := range st.Rooms {
		r := state.Resolved
		m.Rooms = append(m.Rooms, st.modelRoom(r))
		m.Things = append(m.Things, st.modelThings(r)...)
	}
	for i := range st.Plan.Walls {
		m.Walls = append(m.Walls, st.modelWalls(&st.Plan.Walls[i])...)
	}
	for _, mark := range st.Marks {
		m.Findings = append(m.Findings, modelFinding{mark.Thing, string(mark.Severity), mark.Text})
	}
	raw, err := json.Marshal(m)
	if err != nil {
		return "{}" // a coordinate that is no number: the store refuses those
	}
	return string(raw)
}

func (st *state) modelRoom(r *domain.Resolved) modelRoom {
	sys := st.Project.Units
	out := modelRoom{Key: "room/" + string(r.ID), ID: r.ID, Name: r.Label(), Path: ui.Room(st.Project.ID, r.ID), Outline: [][]geom.Point{}}
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
