package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// daySensor is a daylight sensor on the plan with what is found of its place.
type daySensor struct {
	*domain.Device
	daylight.Sensor
	view   float64 // of a closed loop: whole angle, its type's or the limit's
	loads  []domain.ID
	sights []daylight.Sight
	faults []daylight.Fault
}

// besideDevice is where a mark stands that the device's own symbol must not hide, to
// its lower left, meters.
var besideDevice = geom.Pt(0.34, 0.34)

// sensors draws the room's daylight sensors.
func (d *dayDrawing) sensors() roomOverlay {
	if d.space == nil {
		return d.without(d.dark())
	}
	list, off := d.daySensors()
	if len(list)+len(off) == 0 {
		return d.without("The room has no daylight sensor.")
	}
	cells, lines := &markup{}, &markup{}
	d.glass(lines)
	for i := range list {
		if !d.whole {
			d.sees(lines, &list[i])
		}
		lines.mark(list[i].Sensor.At.Sub(besideDevice), len(list[i].faults) == 0)
	}
	if d.whole {
		return d.drawn(cells, lines, d.sensorSummary(list, off))
	}
	var told []overlayRow
	for i := range list {
		told = append(told, d.sensorRow(&list[i]))
		told = append(told, d.faultRows(&list[i])...)
	}
	for _, dev := range off {
		told = append(told, d.row("off-"+string(dev.ID), dev.Tag+" is not on the plan and left out", "", ""))
	}
	return d.drawn(cells, lines, told...)
}

// daySensors gives the daylight sensors that stand on the plan, judged, and those
// that do not.
func (d *dayDrawing) daySensors() (list []daySensor, off []*domain.Device) {
	limits := daylight.PlaceLimitsOf(d.project)
	tasks := make([]geom.Point, len(d.room.Sitting))
	for i := range tasks {
		tasks[i] = d.room.Sitting[i].At
	}
	for _, s := range daylight.Sensors(d.project, d.room) {
		one := daySensor{Device: d.room.Design.Device(s.ID), Sensor: s, view: limits.ViewOf(&s), loads: d.actsOn(s.ID), sights: d.space.Sights(&s)}
		if d.light != nil {
			one.faults = d.light.JudgeSensor(&one.Sensor, tasks, one.loads, &limits)
		} else {
			one.faults = d.space.Judge(&one.Sensor, tasks, &limits)
		}
		list = append(list, one)
	}
	for i := range d.room.Design.Devices {
		dev := &d.room.Design.Devices[i]
		if t := d.project.Book.Find(dev.Type); t != nil && t.Kind.Traits().Daylight && dev.At == nil {
			off = append(off, dev)
		}
	}
	return list, off
}

// actsOn gives the loads that a sensor's reading trims, in the order of the schedule.
func (d *dayDrawing) actsOn(sensor domain.ID) (out []domain.ID) {
	for i := range d.room.Design.Loads {
		load := d.room.Design.Loads[i].ID
		if slices.ContainsFunc(d.room.Design.Links, func(k domain.Link) bool {
			return k.Device == sensor && k.Load == load && k.Do.Verb == domain.Acts
		}) {
			out = append(out, load)
		}
	}
	return out
}

func (d *dayDrawing) tagsOf(loads []domain.ID) string {
	out := ""
	for _, id := range loads {
		if l := d.room.Design.Load(id); l != nil {
			out = joinedNotes(out, l.Tag)
		}
	}
	return out
}

func (s *daySensor) closed() bool { return s.Sensor.Loop == domain.ClosedLoop }

// hasInView tells that a sensor has the glass of a sight in its view: a closed loop, which
// looks down, by how steeply it lies below, as the rule that keeps glass out of its view;
// an open one by where it faces.
func (s *daySensor) hasInView(v *daylight.Sight) bool {
	if s.closed() {
		return v.SeesGlass(s.view)
	}
	return !v.Hidden && (s.Sensor.Facing == nil || s.View <= 0 || v.Aside <= s.View/2)
}

// sees draws the lines of sight to the glass, where the sensor faces, and of one that
// looks down what it sees of the work plane.
func (d *dayDrawing) sees(out *markup, s *daySensor) {
	at := s.Sensor.At
	for _, v := range s.sights {
		w := &d.space.Windows[v.Window]
		near, _ := geom.Segment{A: w.A, B: w.B}.Nearest(at)
		class := "o-look"
		if !s.hasInView(&v) {
			class += " o-away"
		}
		out.raw(`<path class="`, class, `" d="`, linePath(at, near), `"/>`)
	}
	if s.Sensor.Facing != nil {
		sin, cos := math.Sincos(*s.Sensor.Facing * math.Pi / 180)
		tip, wing := at.Add(geom.Pt(0.8*cos, 0.8*sin)), geom.Pt(-0.12*sin, 0.12*cos)
		back := at.Add(geom.Pt(0.6*cos, 0.6*sin))
		out.raw(`<path class="o-facing" d="`, linePath(at, tip), linePath(back.Add(wing), tip), linePath(tip, back.Sub(wing)), `"/>`)
	}
	if s.closed() && s.view > 0 && s.view < 180 {
		radius := float64(s.Sensor.Height-d.in.WorkPlane) * math.Tan(s.view/2*math.Pi/180)
		if radius > 0 {
			out.raw(`<circle class="o-reach" cx="`, meters(at.X), `" cy="`, meters(at.Y), `" r="`, meters(radius), `"/>`)
		}
	}
}

func (d *dayDrawing) sensorSummary(list []daySensor, off []*domain.Device) overlayRow {
	var parts []string
	faults := 0
	for i := range list {
		parts = append(parts, list[i].Tag)
		faults += len(list[i].faults)
	}
	for _, dev := range off {
		parts = append(parts, dev.Tag+" not on the plan")
	}
	row := d.roomRow(strings.Join(parts, ", "), "")
	switch {
	case faults > 0:
		row.Grade = grade{"warning", "badly placed"}
	case len(off) == 0:
		row.Grade = grade{"ok", "placed well"}
	}
	return row
}

func (d *dayDrawing) sensorRow(s *daySensor) overlayRow {
	row := d.row("sensor-"+string(s.Device.ID), s.Tag+", "+d.looks(s), "", d.inSight(s))
	if tags := d.tagsOf(s.loads); tags != "" {
		row.More += "; acts on " + tags
	} else {
		row.More += "; acts on no load"
	}
	row.Key, row.At = "device/"+d.id()+"/"+string(s.Device.ID), lookAt(s.Sensor.At)
	row.Grade = grade{"ok", "placed well"}
	if len(s.faults) > 0 {
		row.Grade = grade{"warning", "badly placed"}
	}
	return row
}

// looks says how a sensor looks and where to.
func (d *dayDrawing) looks(s *daySensor) string {
	text := string(s.Sensor.Loop)
	if text == "" {
		text = "loop not stated, judged as an open one"
	}
	switch {
	case s.Sensor.Facing != nil:
		text += ", faces " + units.Trim(*s.Sensor.Facing, 0) + "\u00b0 on the plan"
	case s.Sensor.Loop == domain.ClosedLoop:
		text += ", looks straight down"
	default:
		text += ", states no direction, so that where it faces is not judged"
	}
	return text
}

// inSight says which windows it has in sight.
func (d *dayDrawing) inSight(s *daySensor) string {
	n, seen := 0, 0
	nearest := units.Metres(math.Inf(1))
	for _, v := range s.sights {
		if v.Hidden {
			continue
		}
		n++
		nearest = min(nearest, v.Distance)
		if s.hasInView(&v) {
			seen++
		}
	}
	away := units.Nearly(nearest, d.project.Units) + " away"
	switch {
	case n == 0:
		return "no window in sight"
	case s.closed() && seen == 0:
		return "no glass in its view of " + units.Trim(s.view, 0) + "\u00b0, the nearest " + away
	case s.closed():
		return edits.Count(seen, "window") + " in its view of " + units.Trim(s.view, 0) + "\u00b0, the nearest " + away
	case n == 1:
		return "1 window in sight, " + away
	}
	return fmt.Sprintf("%d windows in sight, the nearest %s", n, away)
}

func (d *dayDrawing) faultRows(s *daySensor) []overlayRow {
	var out []overlayRow
	for _, f := range s.faults {
		row := d.row("sensor-"+string(s.Device.ID)+"-"+strings.ReplaceAll(string(f.Kind), " ", "-"), s.Tag+": "+string(f.Kind), "", d.numbersOf(&f))
		row.Grade = grade{"warning", "place"}
		row.Key, row.At = "device/"+d.id()+"/"+string(s.Device.ID), lookAt(s.Sensor.At)
		out = append(out, row)
	}
	return out
}

// numbersOf tells a fault's measure beside its limit.
func (d *dayDrawing) numbersOf(f *daylight.Fault) string {
	show := func(v float64) string {
		switch f.Unit {
		case "m":
			return units.Nearly(units.Metres(v), d.project.Units)
		case "degrees":
			return units.Trim(v, 0) + "\u00b0"
		}
		return strings.TrimSpace(units.Trim(v, 0) + " " + f.Unit)
	}
	text := ""
	if f.Load != "" {
		text = d.tagsOf([]domain.ID{f.Load}) + ": "
	}
	switch f.Kind {
	case daylight.NoGlass:
		return "an open loop must see a window"
	case daylight.LampsInView:
		return edits.Count(int(f.Measured), "luminaire")
	case daylight.TwoFacades:
		return edits.Count(int(f.Measured), "facade") + " light its loads, which follow one sensor"
	case daylight.TooNear, daylight.GlassInView:
		return text + show(f.Measured) + ", at least " + show(f.Limit)
	}
	return text + show(f.Measured) + ", at most " + show(f.Limit)
}
