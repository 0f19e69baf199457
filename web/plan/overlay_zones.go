package plan

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/energycode"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// zoneRules gives the rules by which a project's zones are drawn: those of its energy
// code, else the chosen ones, else the first. own tells that they are the code's.
func zoneRules(p *domain.Project, chosen string) (code daylight.ZoneCode, own bool) {
	if pack := energycode.PackOf(p); pack != nil {
		if code, own = daylight.FindZoneCode(pack.ZoneRules); own {
			return code, own
		}
	}
	if code, known := daylight.FindZoneCode(chosen); known {
		return code, false
	}
	return daylight.ZoneCodes()[0], false
}

// zoneChoices lists the rules to choose from; none where the project's code has its own.
func zoneChoices(p *domain.Project) []domain.Choice {
	if _, own := zoneRules(p, ""); own {
		return nil
	}
	var out []domain.Choice
	for _, c := range daylight.ZoneCodes() {
		out = append(out, domain.Choice{Value: c.ID, Label: c.Name})
	}
	return out
}

// drawnZone is one kind of zone as it is shown.
type drawnZone struct {
	hatch hatch
	kind  domain.WindowZone
	word  string
	*daylight.Zone
	*daylight.Counted
}

// dayZones are the zones of one room by some rules.
type dayZones struct {
	code    daylight.ZoneCode
	all     daylight.Zones
	named   bool  // what cuts them is told
	cutting []int // of the space's obstructions
	err     error
}

// zonesOf draws zones; what cuts them takes several times as long and is only told on
// demand.
func zonesOf(s *daylight.Space, code daylight.ZoneCode, named bool) *dayZones {
	z := &dayZones{code: code, named: named}
	if z.all, z.err = code.Rules.Zones(s); z.err == nil && named && z.cut() {
		z.cutting, z.err = code.Rules.Cutting(s, &z.all)
	}
	return z
}

func (z *dayZones) cut() bool { return z.all.Primary.Cut || z.all.Secondary.Cut || z.all.Toplit.Cut }

// ruled gives the zones of the room, of an earlier state where they hold.
func (d *dayDrawing) ruled(code daylight.ZoneCode, now *models, before models) *dayZones {
	fits := func(z *dayZones) bool { return z != nil && z.code == code && (z.named || d.whole) }
	switch {
	case fits(now.zones):
	case fits(before.zones) && d.sameLight(before.day):
		now.zones = before.zones
	default:
		now.zones = zonesOf(d.space, code, !d.whole)
	}
	return now.zones
}

// zoneDrawing draws the daylight zones of one room.
type zoneDrawing struct {
	*dayDrawing
	*dayZones
	own   bool // the project's own
	tally daylight.Tally
}

func (d *dayDrawing) zones(now *models, before models) roomOverlay {
	if why := d.dark(); why != "" {
		return d.without(why)
	}
	z := &zoneDrawing{dayDrawing: d}
	var code daylight.ZoneCode
	code, z.own = zoneRules(d.project, d.code)
	if z.dayZones = d.ruled(code, now, before); z.dayZones.err != nil {
		return d.without(edits.SentenceOf(z.dayZones.err))
	}
	z.tally = z.dayZones.code.Rules.Tally(&z.all, d.space.Luminaires)
	cells, lines := z.areas(), &markup{}
	d.glass(lines)
	if d.whole {
		return d.drawn(cells, lines, z.summary())
	}
	z.signs(lines)
	z.labels(lines)
	return d.drawn(cells, lines, z.list()...)
}

func (z *zoneDrawing) kinds() []drawnZone {
	return []drawnZone{
		{hatchPrimary, domain.ZoneWindow, "Primary", &z.all.Primary, &z.tally.Primary},
		{hatchSecondary, domain.ZoneSecondary, "Secondary", &z.all.Secondary, &z.tally.Secondary},
		{hatchToplit, domain.ZoneRoof, "Toplit", &z.all.Toplit, &z.tally.Toplit},
	}
}

func (z *zoneDrawing) area(one *drawnZone) string { return units.Area(one.Area, z.project.Units) }

func (z *zoneDrawing) areas() *markup {
	out := &markup{}
	for _, one := range z.kinds() {
		var path strings.Builder
		for _, part := range one.Parts {
			path.WriteString(ringPath(part))
		}
		out.area(one.hatch, path.String())
	}
	return out
}

// largest gives the part of a zone that bears its label.
func largest(parts []geom.Polygon) geom.Polygon {
	return slices.MaxFunc(parts, func(a, b geom.Polygon) int {
		if a.Area() < b.Area() {
			return -1
		}
		return 1
	})
}

func (z *zoneDrawing) labels(out *markup) {
	for _, one := range z.kinds() {
		if len(one.Parts) > 0 {
			at, line := largest(one.Parts).LabelPoint(), geom.Pt(0, 0.36) // two lines: zones may be narrow
			out.note("o-label", at, one.word)
			out.note("o-label", at.Sub(line), z.area(&one))
		}
	}
}

// signs mark each luminaire: a full disc within one zone, half a disc that straddles
// an edge, a ring outside of all.
func (z *zoneDrawing) signs(out *markup) {
	for i := range z.space.Luminaires {
		l := &z.space.Luminaires[i]
		out.lamp(l.At, where(z.all.Stands(l)))
	}
}

// where sums up how a luminaire stands to all zones.
func where(s daylight.Standing) daylight.Where {
	return daylight.WhereOf(max(s.Toplit, s.Primary, s.Secondary))
}

func (m *markup) lamp(at geom.Point, w daylight.Where) {
	x, y := meters(at.X), meters(at.Y)
	m.raw(`<circle class="o-lamp" cx="`, x, `" cy="`, y, `" r="0.14"/>`)
	switch w {
	case daylight.Inside:
		m.raw(`<circle class="o-lamp-in" cx="`, x, `" cy="`, y, `" r="0.09"/>`)
	case daylight.Straddles:
		m.raw(`<path class="o-lamp-in" d="M`, x, " ", y, `m0 .14a.14 .14 0 0 1 0 -.28z"/>`)
	}
}

// summary is the room's line among others.
func (z *zoneDrawing) summary() overlayRow {
	var parts []string
	for _, one := range z.kinds() {
		if one.Area > 0 {
			parts = append(parts, strings.ToLower(one.word)+" "+z.area(&one)+" with "+watts(one.Watts))
		}
	}
	row := z.roomRow(strings.Join(parts, ", "), "")
	if slices.ContainsFunc(z.hung(), z.differs) {
		row.Grade = grade{"warning", "load differs"}
	}
	return row
}

func (z *zoneDrawing) list() []overlayRow {
	out := []overlayRow{z.ruleRow()}
	for _, one := range z.kinds() {
		out = append(out, z.zoneRow(&one))
	}
	out = append(out, z.cutRows()...)
	out = append(out, z.loadRows()...)
	return append(out, z.doubtRows()...)
}

func (z *zoneDrawing) ruleRow() overlayRow {
	why := "The project names no energy code with such rules: they can be chosen above the plan."
	if z.own {
		why = "The rules of the project's energy code."
	}
	return z.row("rules", "Zones as "+z.dayZones.code.Name+" draws them.", "", why)
}

func (z *zoneDrawing) zoneRow(one *drawnZone) overlayRow {
	row := z.row("zone-"+string(one.hatch), one.word+" zone", z.area(one), "")
	switch {
	case one.Area == 0 && !z.dayZones.code.Rules.Knows(one.kind):
		row.Value, row.More = "", "these rules draw none"
		return row
	case one.Area == 0:
		row.Value = "none"
		return row
	}
	row.More = fmt.Sprintf("%s counted, %s", edits.Count(one.Luminaires, "luminaire"), watts(one.Watts))
	if tags := z.tags(one.Loads); tags != "" {
		row.More += ": " + tags
	}
	if one.Cut {
		row.More += ". Cut short"
	}
	row.Key, row.At = "room/"+z.id(), lookAt(largest(one.Parts).LabelPoint())
	return row
}

func (z *zoneDrawing) tags(loads []domain.ID) string {
	out := ""
	for _, id := range loads {
		if l := z.room.Design.Load(id); l != nil {
			out = joinedNotes(out, l.Tag)
		}
	}
	return out
}

// cutRows name what ends a zone. What no obstruction explains is an inner corner of
// the room or, for the primary and toplit zone, the other one.
func (z *zoneDrawing) cutRows() []overlayRow {
	if !z.cut() {
		return nil
	}
	if len(z.cutting) == 0 {
		return []overlayRow{z.row("cut", "Zones are cut by an inner corner of the room or by one another.", "", "")}
	}
	var out []overlayRow
	for _, i := range z.cutting {
		o := &z.space.Obstructions[i]
		row := z.row(fmt.Sprintf("cut-%d", i), "Cut by "+z.obstruction(o), "", "what lies behind it does not count")
		row.Key, row.At = "wall/"+string(o.ID), lookAt(o.Line.At(0.5))
		out = append(out, row)
	}
	return out
}

func (z *zoneDrawing) obstruction(o *daylight.Obstruction) string {
	if o.Height >= z.space.Ceiling {
		return "a wall up to the ceiling"
	}
	return "a partition " + units.Length(o.Height, z.project.Units) + " high"
}

func (z *zoneDrawing) doubtRows() []overlayRow {
	var out []overlayRow
	if tags := z.tags(daylight.Unhung(z.room)); tags != "" {
		out = append(out, z.row("unhung", "Luminaires of "+tags+" are not all on the plan:", "", "where those hang is not known, and they are not counted"))
	}
	if slices.ContainsFunc(z.space.Windows, func(w daylight.Window) bool { return w.Assumed }) {
		out = append(out, z.row("assumed", "Sill and head of windows are assumed", "", "the plan states none: the depth of zones hangs on the head"))
	}
	return out
}
