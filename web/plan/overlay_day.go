package plan

import (
	"math"
	"net/url"
	"slices"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// aspect is what an overlay of daylight shows of it.
type aspect string

const (
	ofZones   aspect = "zones"   // by the rules of an energy code
	ofFactor  aspect = "factor"  // on the work plane
	ofSensors aspect = "sensors" // their place and what they see
)

// readAspect reads view=zones, factor or sensors, and by whose rules zones are drawn.
func readAspect(q url.Values) (a aspect, code string, err error) {
	switch a = aspect(q.Get("view")); a {
	case "", ofZones:
		if code = q.Get("code"); code != "" {
			if _, known := daylight.FindZoneCode(code); !known {
				return a, code, edits.Refusef("no zone rules are known by the name %.40q: choose others", code)
			}
		}
		return ofZones, code, nil
	case ofFactor, ofSensors:
		return a, "", nil
	}
	return a, "", edits.Refusef("the plan knows no view of daylight %.40q", a)
}

// dayRoom is a room as daylight sees it, with what is reckoned of it once.
type dayRoom struct {
	space *daylight.Space // nil: no sound outline
	in    daylight.Interior
	light *daylight.Light // nil where err says why
	err   error
}

// dayOf makes a room ready, or gives the one of an earlier state, which may be nil,
// where nothing that matters has changed.
func dayOf(p *domain.Project, r *domain.Resolved, before *dayRoom) *dayRoom {
	d := &dayRoom{space: daylight.NewSpace(p, r, daylight.AssumedOf(p)), in: daylight.InteriorOf(p)}
	if before != nil && before.in == d.in && d.space.Same(before.space) {
		return before
	}
	if d.space != nil {
		d.light, d.err = daylight.NewLight(d.space, d.in)
	}
	return d
}

// sameLight tells that daylight factors of an earlier state hold.
func (d *dayRoom) sameLight(before *dayRoom) bool {
	return before != nil && before.in == d.in && d.space.SameLight(before.space)
}

// lit tells that daylight comes in at all.
func (d *dayRoom) lit() bool {
	return d.space != nil && len(d.space.Windows)+len(d.space.Rooflights) > 0
}

// mostLooks bounds what a grid of one room costs: points times windows times what may
// stand between, some 0.1 to 0.7 microseconds each. The open offices of a real plan
// stay far below it, so that their figures are those of the sheet.
const mostLooks = 400_000

// step gives the side of the cells in meters: the limit's, as on paper, and more where
// the room would take too long.
func (d *dayRoom) step(p *domain.Project) float64 {
	step := max(0.1, p.Limits.Value(domain.DaylightGrid))
	looks := float64(len(d.space.Windows) + 3*len(d.space.Rooflights))
	between := 1 + float64(len(d.space.Obstructions))
	if !d.space.Outline.Convex() {
		between += float64(len(d.space.Outline.Edges()))
	}
	box := d.space.Outline.Bounds()
	return max(step, math.Sqrt(box.Width()*box.Height()*looks*between/mostLooks))
}

// dayDrawing draws the daylight of one room.
type dayDrawing struct {
	project *domain.Project
	room    *domain.Resolved
	*dayRoom
	look
}

// dayOverlay draws a room's daylight, and keeps with the models what it reckons.
func dayOverlay(p *domain.Project, r *domain.Resolved, l look, now *models, before models) roomOverlay {
	if now.day == nil {
		now.day = dayOf(p, r, before.day)
	}
	d := &dayDrawing{p, r, now.day, l}
	switch l.aspect {
	case ofFactor:
		return d.factors(now, before)
	case ofSensors:
		return d.sensors()
	}
	return d.zones(now, before)
}

// grid gives the daylight factors of a room, of an earlier state where they hold. A
// room among others has the same, so that no figure depends on what is shown beside it.
func (d *dayDrawing) grid(now *models, before models) *daylight.Grid {
	if now.factors == nil {
		if now.factors = before.factors; now.factors == nil || !d.sameLight(before.day) {
			g := d.light.Grid(d.step(d.project))
			now.factors = &g
		}
	}
	return now.factors
}

func (d *dayDrawing) id() string { return string(d.room.ID) }

// drawn puts an overlay together. Of a room that is shown alone the list says first which
// it is.
func (d *dayDrawing) drawn(cells, lines *markup, list ...overlayRow) roomOverlay {
	if !d.whole {
		list = slices.Insert(list, 0, d.head())
	}
	return roomOverlay{cells.group("over-cells-" + d.id()), lines.group("over-lines-" + d.id()), rows(list...)}
}

func (d *dayDrawing) head() overlayRow {
	row := d.row("room", "Room "+d.room.Label(), "", "")
	if !d.room.Outline.Empty() {
		row.Key, row.At = "room/"+d.id(), lookAt(d.room.Outline.Bounds().Center())
	}
	return row
}

// without tells why nothing is shown of a room; among others it is left out.
func (d *dayDrawing) without(why string) roomOverlay {
	if d.whole {
		return d.drawn(&markup{}, &markup{})
	}
	return d.drawn(&markup{}, &markup{}, d.row("none", why, "", "Select another room, or Whole storey."))
}

// dark tells why no daylight comes in, "" where some does.
func (d *dayDrawing) dark() string {
	switch {
	case d.lit():
		return ""
	case d.space == nil:
		return "The room has no sound outline: draw it on the plan, then its daylight can be reckoned."
	case d.room.Plan == nil || len(d.room.Plan.Walls) == 0:
		return "The plan shows no walls around this room, so no windows: draw walls and windows, or import the architect's plan."
	case d.room.Windows:
		return "No window that gives outdoors is drawn in the walls along this room, though the room states that it has windows: draw them (O)."
	}
	return "No window that gives outdoors stands in the walls along this room, and no rooflight is over it: no daylight comes in."
}

// noDaylight is said of a storey of which nothing is shown.
func noDaylight(a aspect) string {
	if a == ofSensors {
		return "No daylight sensor stands on the plan of this storey."
	}
	return "No room of this storey has an outline with a window that gives outdoors or a rooflight: draw them on the plan."
}

// glass marks the windows and rooflights that count.
func (d *dayDrawing) glass(out *markup) {
	for i := range d.space.Windows {
		w := &d.space.Windows[i]
		out.raw(`<path class="o-glass" d="`, linePath(w.A, w.B), `"/>`)
	}
	for i := range d.space.Rooflights {
		l := domain.Rooflight{At: d.space.Rooflights[i].At, Width: d.space.Rooflights[i].Width, Length: d.space.Rooflights[i].Length, Turn: d.space.Rooflights[i].Turn}
		out.raw(`<path class="o-glass" d="`, ringPath(l.Box()), `"/>`)
	}
}

func linePath(a, b geom.Point) string {
	return "M" + meters(a.X) + " " + meters(a.Y) + "L" + meters(b.X) + " " + meters(b.Y)
}

// row is a line of the list about the room as a whole.
func (d *dayDrawing) row(name, title, value, more string) overlayRow {
	return overlayRow{ID: d.id() + "-" + name, Title: title, Value: value, More: more}
}

// roomRow is the one line of a room among others.
func (d *dayDrawing) roomRow(title, value string) overlayRow {
	return overlayRow{ID: d.id(), Title: d.room.Label() + ": " + title, Value: value, Key: "room/" + d.id(), At: lookAt(d.space.Outline.Bounds().Center())}
}

func watts(w units.Watts) string { return units.Trim(float64(w), 1) + " W" }
