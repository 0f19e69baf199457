package plan

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// divideView is what the page of a division shows, ready to print.
type divideView struct {
	Label, Path, Plan, Room, Base, Shown string

	Why    string // it does not fit: why
	Result string // "3 areas that each fit; no fewer than 3 can."
	Proof  string
	Now    string // findings of the room as it is
	Worse  string // what the division leaves to be mended; empty where it adds no finding
	Asks   []ask
	Kinds  []string // columns of counts
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

// areaRow is one room to be.
type areaRow struct {
	Number, Area, Adds, Findings string
	New                          bool
	Counts                       []string // one a kind
}

// toldList is a list under its own heading.
type toldList struct {
	Title, Hint string
	Lines       []string
}

func (s Screen) viewOf(d *division) divideView {
	p := d.state.Project
	v := divideView{Label: d.room.Label(), Path: ui.Plan(p.ID, d.state.Storey.ID) + "/divide", Plan: ui.Plan(p.ID, d.state.Storey.ID), Room: string(d.room.ID),
		Base: d.base(), Shown: d.stamp(), Why: d.Why}
	for _, c := range d.Ceilings {
		v.Asks = append(v.Asks, ask{fmt.Sprintf("%s: %d, at most %d: %s", p.Limits.Find(c.Limit).Title, c.Have, c.Most, edits.Count(c.Areas, "area")), c.Areas == d.Bound && c.Areas > 1})
		v.Kinds = append(v.Kinds, kindTitles[c.Limit])
	}
	if !d.Fits {
		return v
	}
	v.Result, v.Proof = fmt.Sprintf("%s that each fit; no fewer than %d can.", edits.Count(len(d.Areas), "area"), d.Bound), d.proof()
	v.Now = s.judged(p, d.room)
	v.Worse = s.worse(d)
	v.Submit = fmt.Sprintf("Divide into %d rooms", len(d.Areas))
	for i := range d.Areas {
		v.Areas = append(v.Areas, s.areaRow(d, i))
	}
	v.Lists = d.lists()
	v.picture = drawing.Storey(p, nil, d.after, drawing.Options{Scale: divideScale(d.room.Outline), Layers: drawing.Without(drawing.LayerFindings, drawing.LayerUnderlay)})
	return v
}

// proof says how good the division is.
func (d *division) proof() string {
	switch {
	case d.Best:
		return "No division by straight cuts has fewer areas, or as many with fewer links cut, fewer things astray and shorter cuts."
	case d.Fewest:
		return "No division has fewer areas; one that cuts fewer links may exist: the search was ended after half a second."
	}
	return "The best that was found: the search was ended after half a second, and a division into fewer areas may exist."
}

var kindTitles = map[domain.LimitID]string{
	domain.DevicesPerRoom: "Devices", domain.PresencePerRoom: "Presence sensors", domain.BatteryStations: "Battery stations",
	domain.DaylightPerRoom: "Open-loop sensors", domain.GatewaysPerRoom: "Gateways", domain.AVPerRoom: "AV interfaces",
}

func (s Screen) areaRow(d *division, i int) areaRow {
	a, room := &d.Areas[i], d.after[i]
	row := areaRow{Number: room.Number, New: i > 0, Area: units.Area(room.Measured(), d.state.Project.Units)}
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
	row.Findings = s.judged(d.state.Project, room)
	return row
}

// judged counts what the rules find of a room, without what is waived.
// worse says how many findings the areas have that the room has not.
func (s Screen) worse(d *division) string {
	errors, warnings := s.tally(d.state.Project, d.room)
	errorsThen, warningsThen := 0, 0
	for _, room := range d.after {
		e, w := s.tally(d.state.Project, room)
		errorsThen, warningsThen = errorsThen+e, warningsThen+w
	}
	if errorsThen <= errors && warningsThen <= warnings {
		return ""
	}
	return fmt.Sprintf("The areas have %s and %s together, the whole room %s and %s: stations, sensors and links that a cut separates from their loads want new ones. The rooms' workbenches list them.",
		edits.Count(errorsThen, "error"), edits.Count(warningsThen, "warning"), edits.Count(errors, "error"), edits.Count(warnings, "warning"))
}

func (s Screen) judged(p *domain.Project, room *domain.Resolved) string {
	errors, warnings := s.tally(p, room)
	return edits.Count(errors, "error") + " and " + edits.Count(warnings, "warning")
}

// tally counts the open errors and warnings of a room.
func (s Screen) tally(p *domain.Project, room *domain.Resolved) (errors, warnings int) {
	for _, f := range s.Judge(p, room) {
		switch {
		case f.Waived():
		case f.Severity == rule.Error:
			errors++
		case f.Severity == rule.Warning:
			warnings++
		}
	}
	return errors, warnings
}

// lists tells what the division costs.
func (d *division) lists() []toldList {
	number := func(i int) string { return d.after[i].Number }
	var strays []string
	for _, x := range d.Strays {
		strays = append(strays, d.strayLine(x, number))
	}
	var tags []string
	for _, id := range d.Unplaced {
		tags = append(tags, d.room.Design.Device(id).Tag)
	}
	lost := edit.LeftOut(&d.room.Design, d.after)
	all := []toldList{
		{"Left out of the design", "Links between what comes to be in two rooms are cut; scenes, intents and scenarios stay where they still name something.", lost},
		{"Standing in another area", "A load is one output of one controller and goes whole to one area. Move these things, or hang them on a controller of the area that they stand in.", strays},
		{"Without a place on the plan", "They go with what they act on. Place them first where it matters.", nil},
	}
	if len(tags) > 0 {
		all[2].Lines = []string{strings.Join(tags, ", ")}
	}
	var out []toldList
	for _, l := range all {
		if len(l.Lines) > 0 {
			out = append(out, l)
		}
	}
	return out
}

func (d *division) strayLine(x propose.Stray, number func(int) string) string {
	if x.Device != "" {
		return fmt.Sprintf("%s goes to %s and stands in %s", d.room.Design.Device(x.Device).Tag, number(x.Area), number(x.In))
	}
	return fmt.Sprintf("%s goes to %s; %d of its %s hang in %s", d.room.Design.Load(x.Load).Tag, number(x.Area), x.Count, edits.Count(x.Of, "luminaire"), number(x.In))
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
