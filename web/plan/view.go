package plan

import (
	"fmt"

	"scopewright/domain"
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
	ZoneCodes  []domain.Choice         // by whose rules daylight zones may be drawn; none where the project's code says
	now        *shown                  // the parts of a plan; nil for a table
	Whole      bool                    // with the parts that are told one by one otherwise
	pictureURL func(sha string) string // of the picture beneath
	Empty      bool                    // nothing is drawn
	Import     string
	Rooms      ui.Grid
	Places     ui.Grid
	Walls      ui.Grid
	Openings   ui.Grid
	Rooflights ui.Grid
	Corners    ui.Grid
	Below      string          // name of the storey below; empty for the lowest
	Outlined   []domain.Choice // rooms with an outline
	Fillable   []domain.Choice // what can stand in a grid: "<room>" its seats, "<room>/<load>" luminaires
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

// newView gives what a page shows; of a table, now is nil.
func newView(st *state, now *shown) view {
	p := st.Project
	v := view{
		Project: p.ID, Path: ui.Plan(p.ID, st.Storey.ID), Table: st.Table, Title: ui.StoreyTitle(p, st.Building.Name, st.Storey.Name),
		Import: ui.Import(p.ID), Sums: st.sums(), now: now,
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
	if under := storeyBelow(p, st.Storey.ID); under != nil {
		v.Below = under.Name
	}
	v.Empty = st.Plan.Empty() && st.shapeless() == len(st.Rooms) && st.bare()
	if st.Table {
		v.Rooms, v.Places, v.Walls, v.Corners = st.roomGrid(), st.placeGrid(), st.wallGrid(), st.cornerGrid(v.Path)
		v.Openings, v.Rooflights = st.openingGrid(), st.rooflightGrid(v.Path)
		v.Outlined, v.Fillable = st.outlined()
		return v
	}
	for _, l := range drawing.Layers() {
		v.Layers = append(v.Layers, layerChoice{string(l), layerTitles[l]})
	}
	v.ZoneCodes = zoneChoices(p)
	v.pictureURL = func(sha string) string { return ui.Picture(p.ID, sha) }
	return v
}

var layerTitles = map[drawing.Layer]string{
	drawing.LayerUnderlay: "Picture beneath", drawing.LayerRooms: "Rooms", drawing.LayerSeats: "Seats", drawing.LayerWalls: "Walls, doors, windows, rooflights",
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

// unplacedOf lists what a room has that the plan does not show, nil for nothing.
func (st *state) unplacedOf(r *domain.Resolved) *unplacedRoom {
	room := &unplacedRoom{ID: string(r.ID), Label: r.Label(), Path: ui.Room(st.Project.ID, r.ID)}
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
	if len(room.Devices)+len(room.Loads) == 0 {
		return nil
	}
	return room
}

// shapeless counts the rooms without an outline.
func (st *state) shapeless() int {
	n := 0
	for _, r := range st.Rooms {
		if r.Resolved.Outline.Empty() {
			n++
		}
	}
	return n
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

// outlined gives the rooms with an outline, and what each can be filled with.
func (st *state) outlined() (rooms, fillable []domain.Choice) {
	for _, state := range st.Rooms {
		r := state.Resolved
		if r.Outline.Empty() {
			continue
		}
		rooms = append(rooms, domain.Choice{Value: string(r.ID), Label: r.Label()})
		fillable = append(fillable, domain.Choice{Value: string(r.ID), Label: r.Label() + ": seats"})
		for i := range r.Design.Loads {
			if l := &r.Design.Loads[i]; l.Kind == domain.Lighting {
				fillable = append(fillable, domain.Choice{Value: string(r.ID + "/" + l.ID), Label: r.Label() + ": luminaires of " + l.Tag})
			}
		}
	}
	return rooms, fillable
}
