package plan

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// divideView is what the page of a division shows, ready to print.
type divideView struct {
	Label, Path, Plan, Room, Base, Shown string

	Why    string // it does not fit: why
	Result string // "3 areas that each fit; no fewer than 3 can."
	Proof  string
	Worse  string // what the division leaves to be mended; empty where it adds no finding
	Asks   []ask
	Now    verdict
	Ways   []wayRow
	Sides  []findingSide // the findings of the room now and of its areas then
	Kinds  []string      // columns of counts
	Areas  []areaRow
	Lists  []toldList
	Submit string

	picture *drawing.Picture
}

// ask is what one limit asks for.
type ask struct {
	Text    string
	Decides bool // no other asks for more areas
}

// wayRow is one of the ways to choose from.
type wayRow struct {
	Name, Path, Devices, Areas, Cut string
	Here                            bool
	Then                            verdict
}

// areaRow is one room to be.
type areaRow struct {
	Number, Area, Adds string
	New                bool
	Counts             []string // one a kind
	Then               verdict
}

// toldList is a list under its own heading.
type toldList struct {
	Title, Hint string
	Lines       []string
}

// viewOf shows the ways with one of them drawn: that of the name, or the best.
func (s Screen) viewOf(d *dividable, name string) divideView {
	p := d.state.Project
	v := divideView{Label: d.room.Label(), Path: ui.Plan(p.ID, d.state.Storey.ID) + "/divide", Plan: ui.Plan(p.ID, d.state.Storey.ID), Room: string(d.room.ID), Base: d.base(), Why: d.Why}
	for _, c := range d.Ceilings {
		v.Asks = append(v.Asks, ask{fmt.Sprintf("%s: %d, at most %d: %s", p.Limits.Find(c.Limit).Title, c.Have, c.Most, edits.Count(c.Areas, "area")), c.Areas == d.Bound && c.Areas > 1})
		v.Kinds = append(v.Kinds, kindTitles[c.Limit])
	}
	if len(d.ways) == 0 {
		return v
	}
	w := d.way(name)
	if w == nil {
		w = d.ways[0]
	}
	v.Shown = w.name
	v.Result, v.Proof = fmt.Sprintf("%s that each fit; no fewer than %d can.", edits.Count(len(w.Areas), "area"), d.Bound), d.proof()
	v.Now, v.Worse = verdictOf(d.found), d.worse(w)
	v.Submit = fmt.Sprintf("Divide into %d rooms", len(w.Areas))
	for i, o := range d.ways {
		v.Ways = append(v.Ways, d.wayRow(i, o, o == w))
	}
	for i := range w.Areas {
		v.Areas = append(v.Areas, d.areaRow(w, i))
	}
	v.Sides, v.Lists = d.sides(w), d.lists(w)
	v.picture = drawing.Storey(p, nil, w.after, drawing.Options{Scale: divideScale(d.room.Outline), Layers: drawing.Without(drawing.LayerFindings, drawing.LayerUnderlay)})
	return v
}

// proof says how good the divisions are.
func (d *dividable) proof() string {
	fewest := "No division by straight cuts has fewer areas."
	if !d.Fewest {
		fewest = "The search was ended after half a second, and a division into fewer areas may exist."
	}
	if d.judged == 1 {
		return fewest + " It is the only way that was found."
	}
	return fmt.Sprintf("%s The rules judged the rooms to be of %d ways to cut; the best come first: by errors, then warnings, links cut and even areas.", fewest, d.judged)
}

var kindTitles = map[domain.LimitID]string{
	domain.DevicesPerRoom: "Devices", domain.PresencePerRoom: "Presence sensors", domain.BatteryStations: "Battery stations",
	domain.DaylightPerRoom: "Open-loop sensors", domain.GatewaysPerRoom: "Gateways", domain.AVPerRoom: "AV interfaces",
}

func (d *dividable) wayRow(i int, w *way, here bool) wayRow {
	p := d.state.Project
	row := wayRow{Name: fmt.Sprintf("Way %d", i+1), Here: here, Then: w.verdict, Cut: fmt.Sprint(len(w.Cut)),
		Path: fmt.Sprintf("%s/divide?room=%s&way=%s", ui.Plan(p.ID, d.state.Storey.ID), d.room.ID, w.name)}
	var devices, areas []string
	for j := range w.Areas {
		devices = append(devices, fmt.Sprint(len(w.after[j].Design.Devices)))
		areas = append(areas, units.Area(w.after[j].Measured(), p.Units))
	}
	row.Devices, row.Areas = strings.Join(devices, " + "), strings.Join(areas, " + ")
	return row
}

func (d *dividable) areaRow(w *way, i int) areaRow {
	a, room := &w.Areas[i], w.after[i]
	row := areaRow{Number: room.Number, New: i > 0, Area: units.Area(room.Measured(), d.state.Project.Units), Then: verdictOf(w.found[i])}
	for _, want := range d.Ceilings {
		text := ""
		for _, has := range a.Counts {
			if has.Limit == want.Limit {
				text = fmt.Sprintf("%d of %d", has.Have, has.Most)
			}
		}
		row.Counts = append(row.Counts, text)
	}
	var adds []string
	for _, dev := range a.Added {
		if now := room.Design.Device(dev.ID); now != nil {
			adds = append(adds, now.Tag+" "+d.state.typeName(now))
		}
	}
	row.Adds = strings.Join(adds, ", ")
	return row
}

// Bounds of the scale of the areas' drawing: as large as a sheet of paper's width
// takes, and at 1:250 luminaires are still drawn.
const (
	divideSize     = 140.0 // millimeters of the longer side
	divideCoarsest = 250.0
)

// divideScale makes every room about the same size on the page.
func divideScale(shape geom.Polygon) drawing.Scale {
	box := shape.Bounds()
	return drawing.Scale{Ratio: min(max(box.Width(), box.Height(), 2)*1000/divideSize, divideCoarsest)}
}
