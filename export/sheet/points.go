package sheet

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// PointsList lists what building automation may read and write of each room that has a
// link to the building network.
func PointsList(c *Content) []Sheet {
	s := Sheet{ID: "points", Number: numberPoints, Title: "Points list for building automation", Head: c.head(), Landscape: true}
	t := Table{Caption: "Points", Empty: "No room has a gateway, so there is nothing for building automation to read or write.", Columns: []Column{
		{Title: "Room", Width: 1}, {Title: "Point", Width: 1.9}, {Title: "Meaning", Width: 2.8}, {Title: "Object type", Width: 1.3}, {Title: "Unit", Width: 0.9}, {Title: "Range or states", Width: 2.2},
		{Title: "Access", Width: 0.9}, {Title: "Priority", Align: Center, Width: 0.8}, {Title: "When released", Width: 1.5}, {Title: "Change that is told", Width: 1}, {Title: "On failure", Width: 2}, {Title: "Source", Width: 1}}}
	var without []*room
	for _, r := range c.rooms() {
		if len(r.gateways()) == 0 {
			without = append(without, r)
			continue
		}
		for _, p := range r.points() {
			t.Rows = append(t.Rows, p.row(r))
		}
	}
	s.Blocks = withoutNil([]Block{c.partialNote(), t})
	if len(without) > 0 {
		s.Blocks = append(s.Blocks, Paragraph{Text: "No points, for want of a gateway: " + roomNumbers(without) + "."})
	}
	if len(t.Rows) > 0 {
		s.Blocks = append(s.Blocks, Heading{2, "How to read it"}, pointNotes(), objectLegend())
	}
	return []Sheet{s}
}

func pointNotes() Block {
	return Statements{Items: []Statement{
		{Text: "Object types and priorities are those of the open standard BACnet (ASHRAE 135, clauses 12 and 19, from memory). Numbers of objects and devices are given by the trade that builds the automation; names are proposed here and agreed in writing."},
		{Text: "A write counts in the room as a person's press does, for the hold of the room's statement \"by hand\"; the room's order of priority decides what wins. Write at the priority stated, and release what was written: a write that is never released overrides the room for good."},
		{Text: "Loads that light the way out are read only. Nothing here replaces the emergency circuit, or the work of people licensed for it."},
		{Text: "Steps of change are common practice, no published source."},
	}}
}

func objectLegend() Block {
	return Legend{Items: []LegendItem{{"Priority 8", "manual operator; 1 and 2 are kept for life safety and are not used here"}, {"R", "read"}, {"R/W", "read and write"}, {"any", "each change is told"}}}
}

// The object types of BACnet that rooms need.
const (
	binaryInput  = "binary input"
	binaryValue  = "binary value"
	binaryOutput = "binary output"
	analogInput  = "analog input"
	analogValue  = "analog value"
	analogOutput = "analog output"
	multiState   = "multi-state value"
)

// point is one row of the list.
type point struct {
	name, meaning, object, unit, span, access, priority, released, step, failure, source string
}

// daylightSpan is what a daylight reading goes through and the step that is worth
// telling, in a project's units (common practice, no published source).
func daylightSpan(sys units.System) (unit, span, step string) {
	if sys == units.US {
		return "fc", "0 to 2000", "2 fc"
	}
	return "lx", "0 to 20000", "20 lx"
}

// readOnly fills in what all points have in common that are only read.
func readOnly(name, meaning, object, unit, span, step, failure, source string) point {
	return point{name, meaning, object, unit, span, "R", none, none, step, failure, source}
}

// operator is the priority of manual operators in BACnet.
const operator = "8"

func written(name, meaning, object, unit, span, step, failure, source string) point {
	return point{name, meaning, object, unit, span, "R/W", operator, "the room's own sequence", step, failure, source}
}

func (p point) row(r *room) Row {
	out := Row{}
	for _, text := range []string{r.Number, p.name, p.meaning, p.object, p.unit, p.span, p.access, p.priority, p.released, p.step, p.failure, p.source} {
		out.Cells = append(out.Cells, TextCell(orDash(text)))
	}
	return out
}

func (r *room) gateways() []string {
	return r.tagsWhere(func(d *domain.Device) bool { return r.isA(d, equipment.Gateway) })
}

func (r *room) isA(d *domain.Device, kind equipment.Kind) bool {
	t := r.c.project.Book.Find(d.Type)
	return t != nil && t.Kind == kind
}

// pointName joins the room's number and what the point is of: "214.L1.level".
func (r *room) pointName(parts ...string) string {
	clean := func(text string) string { return strings.Join(strings.Fields(text), "-") }
	name := clean(or(r.Number, "room"))
	for _, p := range parts {
		name += "." + clean(p)
	}
	return name
}

// lost is what a point reads when the room cannot be reached.
const lost = "fault; last value kept"

// points lists what the room really has.
func (r *room) points() []point {
	var out []point
	if sensors := r.tagsOf(func(t equipment.Traits) bool { return t.Presence }); len(sensors) > 0 {
		out = append(out, readOnly(r.pointName("presence"), "People in the room, by any of "+shortTags(sensors, " and "), binaryInput, none, "vacant, occupied", "any", "occupied", shortTags(sensors, ", ")))
	}
	for i := range r.Design.Loads {
		out = append(out, r.loadPoint(&r.Design.Loads[i]))
	}
	if states := r.sceneStates(); states != "" {
		out = append(out, written(r.pointName("scene"), "Scene last recalled; a write recalls one", multiState, none, states, "any", lost, "scene table"))
	}
	unit, span, step := daylightSpan(r.c.project.Units)
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		if r.isA(d, equipment.Daylight) {
			out = append(out, readOnly(r.pointName(d.Tag, "daylight"), "Daylight as the sensor reads it, "+or(string(d.Loop), "loop not stated"), analogInput, unit, span, step, "fault; its loads are not trimmed", d.Tag))
		}
	}
	out = append(out, r.timePoints()...)
	out = append(out, readOnly(r.pointName("fault"), "A device of the room is missing or at fault", binaryInput, none, "normal, fault", "any", "fault", joined(r.gateways())))
	if cells := r.tagsWhere(func(d *domain.Device) bool {
		t := r.c.project.Book.Find(d.Type)
		return t != nil && t.Supply == equipment.Battery
	}); len(cells) > 0 {
		out = append(out, readOnly(r.pointName("battery"), "A cell runs low in "+shortTags(cells, " or "), binaryInput, none, "normal, low", "any", lost, shortTags(cells, ", ")))
	}
	return out
}

func (r *room) tagsOf(want func(equipment.Traits) bool) []string {
	return r.tagsWhere(func(d *domain.Device) bool {
		t := r.c.project.Book.Find(d.Type)
		return t != nil && want(t.Kind.Traits())
	})
}

// loadPoint is the level of a load. Receptacles follow presence alone and egress lighting
// is left alone, so both are only read.
func (r *room) loadPoint(l *domain.Load) point {
	name, meaning := r.pointName(l.Tag, "level"), "Level of "+strings.TrimSpace(l.Tag+" "+l.Name)
	failure := "room goes on by itself"
	if in := r.sensed(l, domain.OnNetworkLoss); in != nil {
		failure = units.Percent(in.Level) + " (" + r.stepOfIntent(in.ID) + "); room goes on by itself"
	}
	dimmed := l.Dimming != "" && l.Dimming != equipment.Switched
	switch {
	case l.Kind == domain.Receptacle:
		return readOnly(r.pointName(l.Tag, "live"), "Receptacles "+strings.TrimSpace(l.Tag+" "+l.Name)+" live", binaryValue, none, "dead, live", "any", failure, l.Tag)
	case l.Egress && dimmed:
		return readOnly(name, meaning+" (egress, read only)", analogValue, "%", "0 to 100", "1 %", failure, l.Tag)
	case l.Egress:
		return readOnly(r.pointName(l.Tag, "on"), meaning+" (egress, read only)", binaryValue, none, "off, on", "any", failure, l.Tag)
	case dimmed:
		return written(name, meaning, analogOutput, "%", fmt.Sprintf("0, %s to 100", number(r.lowestOf(l))), "1 %", failure, l.Tag)
	}
	return written(r.pointName(l.Tag, "on"), meaning, binaryOutput, none, "off, on", "any", failure, l.Tag)
}

// lowestOf is the lowest level that a dimmed load has, 1 % where its luminaire states none.
func (r *room) lowestOf(l *domain.Load) float64 {
	if lum := r.c.project.Luminaire(l.Luminaire); lum != nil && lum.DimsTo > 0 {
		return float64(lum.DimsTo)
	}
	return 1
}

// sceneStates lists the states of the scene point: scenes in order of their number, then
// one for none of them.
func (r *room) sceneStates() string {
	if len(r.Design.Scenes) == 0 {
		return ""
	}
	parts := []string{"1 none of them"}
	for i := range r.Design.Scenes {
		s := &r.Design.Scenes[i]
		parts = append(parts, fmt.Sprintf("%d scene %d %s", i+2, s.Number, s.Name))
	}
	return strings.Join(parts, ", ")
}

// timePoints are those of schedules, modes, demand response, emergency and partition.
func (r *room) timePoints() []point {
	var out []point
	need := needs{}
	need.add(&r.Design)
	if need.modes {
		out = append(out, point{r.pointName("mode"), "Mode of the room; calendar, intents and automation change it", multiState, none, "1 normal, 2 after hours, 3 cleaning, 4 event", "R/W", none, none, "any", "room keeps its mode", "calendar of modes"})
	}
	longest := units.Seconds(0)
	var steps []string
	for i := range r.Design.Intents {
		if in := &r.Design.Intents[i]; in.Kind == domain.BySchedule && in.Override > 0 && in.OffAt != "" {
			longest, steps = max(longest, in.Override), append(steps, r.stepOfIntent(in.ID))
		}
	}
	if longest > 0 {
		out = append(out, readOnly(r.pointName("override"), "Time that light after the schedule's off still has", analogValue, "min", "0 to "+number(float64(longest)/60), "1 min", lost, joined(steps)))
	}
	for _, p := range []struct {
		kind                 domain.IntentKind
		name, meaning, span  string
		write                bool
		object, failureState string
	}{
		{domain.OnDemandResponse, "demand", "Demand response asked for", "no, asked for", true, binaryValue, "no longer asked for"},
		{domain.OnEmergency, "emergency", "Emergency signal at the room; not to be given over the network", "normal, emergency", false, binaryInput, "fault; the room's own signal goes on"},
	} {
		steps := r.stepsOf(p.kind)
		switch {
		case len(steps) == 0:
		case p.write:
			out = append(out, point{r.pointName(p.name), p.meaning, p.object, none, p.span, "R/W", operator, "not asked for", "any", p.failureState, joined(steps)})
		default:
			out = append(out, readOnly(r.pointName(p.name), p.meaning, p.object, none, p.span, "any", p.failureState, joined(steps)))
		}
	}
	if r.Design.Divisible() {
		out = append(out, readOnly(r.pointName("partition"), "State of the partition", binaryInput, none, "closed, open", "any", lost, "contact of the partition"))
	}
	return out
}
