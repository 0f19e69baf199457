package plan

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// sightDrawing draws what the presence sensors of one room see.
type sightDrawing struct {
	project *domain.Project
	room    *domain.Resolved
	sight   *coverage.Room
	motion  coverage.Motion
	look
}

func sightOverlay(p *domain.Project, r *domain.Resolved, sight *coverage.Room, l look) roomOverlay {
	d := &sightDrawing{p, r, sight, coverage.Major, l}
	if l.small {
		d.motion = coverage.Minor
	}
	id := string(r.ID)
	out := roomOverlay{(&markup{}).group("over-cells-" + id), (&markup{}).group("over-lines-" + id), &group{}}
	switch {
	case sight != nil && len(sight.Sensors) > 0:
		return roomOverlay{d.cells(), d.lines(), d.list()}
	case l.whole:
	case sight == nil:
		out.list = rows(overlayRow{ID: id + "-none", Title: "The room has no outline: what its sensors see is not known."})
	default:
		out.list = rows(overlayRow{ID: id + "-none", Title: "No presence sensor stands on the plan."})
	}
	return out
}

func (d *sightDrawing) cells() *group {
	levels := []hatch{hatchBad, hatchOne, hatchGood}
	paths := make([]strings.Builder, len(levels))
	for _, patch := range d.sight.Patches(d.motion) {
		boxPath(&paths[patch.Seen], patch.Box)
	}
	var out markup
	for i, h := range levels {
		out.area(h, paths[i].String())
	}
	return out.group("over-cells-" + string(d.room.ID))
}

func (d *sightDrawing) lines() *group {
	var out markup
	for _, l := range d.sight.Leaks() {
		for _, part := range l.Parts {
			out.area(hatchLeak, ringPath(part))
		}
	}
	for i := range d.sight.Sensors {
		if !d.whole { // circles over circles, which slow a zoom down
			d.reach(&out, &d.sight.Sensors[i])
		}
	}
	for i := range d.sight.Seats {
		t := &d.sight.Seats[i]
		out.mark(t.At, t.Seen())
	}
	for i := range d.sight.Entrances {
		t := &d.sight.Entrances[i]
		out.mark(t.At, t.Seen())
	}
	return out.group("over-lines-" + string(d.room.ID))
}

// mark writes a tick in a ring where somebody is seen, a cross in a square where
// not.
func (m *markup) mark(at geom.Point, seen bool) {
	x, y := meters(at.X), meters(at.Y)
	if seen {
		m.raw(`<circle class="o-mark o-seen" cx="`, x, `" cy="`, y, `" r="0.2"/><path class="o-sign o-seen" d="M`, x, " ", y, `m-.1 0l.07 -.08l.13 .16"/>`)
		return
	}
	m.raw(`<path class="o-mark o-unseen" d="M`, x, " ", y, `m-.2 -.2h.4v.4h-.4z"/><path class="o-sign o-unseen" d="M`, x, " ", y, `m-.11 -.11l.22 .22m0 -.22l-.22 .22"/>`)
}

// reach outlines how far a sensor's pattern goes where nothing is in its way.
func (d *sightDrawing) reach(out *markup, s *coverage.RoomSensor) {
	radius := s.Radius(d.motion)
	if !(radius > 0) {
		return
	}
	if s.Span <= 0 || s.Span >= 360 {
		out.raw(`<circle class="o-reach" cx="`, meters(s.At.X), `" cy="`, meters(s.At.Y), `" r="`, meters(radius), `"/>`)
		return
	}
	end := func(degrees float64) string {
		sin, cos := math.Sincos((s.Facing + degrees) * math.Pi / 180)
		return meters(s.At.X+radius*cos) + " " + meters(s.At.Y+radius*sin)
	}
	large := "0"
	if s.Span > 180 {
		large = "1"
	}
	r := meters(radius)
	out.raw(`<path class="o-reach" d="M`, meters(s.At.X), " ", meters(s.At.Y), "L", end(-s.Span/2), "A", r, " ", r, " 0 ", large, " 1 ", end(s.Span/2), `z"/>`)
}

// list tells of each seat and entrance who sees it; among other rooms, how much
// is seen in all.
func (d *sightDrawing) list() *group {
	id := string(d.room.ID)
	if d.whole {
		return rows(overlayRow{ID: id, Title: d.room.Label() + ": " + d.counts(), Value: d.share(), Grade: d.word(d.allSeen()), Key: "room/" + id, At: lookAt(d.room.Outline.Bounds().Center())})
	}
	out := []overlayRow{{ID: id + "-share", Title: d.share() + " of the floor is seen, " + d.counts() + "."}}
	for i := range d.sight.Sensors {
		if s := &d.sight.Sensors[i]; s.Refused != nil {
			out = append(out, overlayRow{ID: id + "-" + string(s.ID), Title: s.Tag + ": not reckoned, " + s.Refused.Error(), Key: "device/" + id + "/" + string(s.ID), At: lookAt(s.Place)})
		}
	}
	for _, one := range d.sight.Unplaced {
		if dev := d.room.Design.Device(one); dev != nil {
			out = append(out, overlayRow{ID: id + "-" + string(one), Title: dev.Tag + " is not on the plan and left out"})
		}
	}
	out = append(out, d.seatRows()...)
	out = append(out, d.entranceRows()...)
	return rows(append(out, d.leakRows()...)...)
}

func (d *sightDrawing) share() string { return units.Trim(100*d.sight.Share(d.motion), 1) + " %" }

// counts says how many seats and entrances are seen.
func (d *sightDrawing) counts() string {
	seats, entrances := 0, 0
	for i := range d.sight.Seats {
		if d.sight.Seats[i].Seen() {
			seats++
		}
	}
	for i := range d.sight.Entrances {
		if d.sight.Entrances[i].Seen() {
			entrances++
		}
	}
	return fmt.Sprintf("%d of %d seats, %d of %d entrances", seats, len(d.sight.Seats), entrances, len(d.sight.Entrances))
}

// allSeen tells that every seat and entrance is seen, and of the floor the share
// that the limit asks.
func (d *sightDrawing) allSeen() bool {
	for i := range d.sight.Seats {
		if !d.sight.Seats[i].Seen() {
			return false
		}
	}
	for i := range d.sight.Entrances {
		if !d.sight.Entrances[i].Seen() {
			return false
		}
	}
	return d.small || units.AtMost(d.project.Limits.Value(domain.CoveredShare), 100*d.sight.Share(d.motion))
}

func (d *sightDrawing) word(seen bool) grade {
	if seen {
		return grade{"ok", "seen"}
	}
	return grade{"warning", "unseen"}
}

func (d *sightDrawing) seatRows() []overlayRow {
	var out []overlayRow
	for i := range d.sight.Seats {
		t := &d.sight.Seats[i]
		number := 1
		for j := range d.room.Sitting {
			if d.room.Sitting[j].ID == t.ID {
				number = j + 1 // as the plan's list of things calls it
			}
		}
		out = append(out, d.targetRow(t, t.By, "seat/"+string(d.room.ID)+"/"+string(t.ID), fmt.Sprint("Seat ", number)))
	}
	return out
}

func (d *sightDrawing) entranceRows() []overlayRow {
	var out []overlayRow
	for i := range d.sight.Entrances {
		t := &d.sight.Entrances[i]
		out = append(out, d.targetRow(t, t.By, "opening/"+string(t.Wall)+"/"+string(t.ID), fmt.Sprint("Entrance ", i+1)))
	}
	return out
}

func (d *sightDrawing) targetRow(t *coverage.Target, by []int, key, title string) overlayRow {
	tags := ""
	for _, i := range by {
		tags = joinedNotes(tags, d.sight.Sensors[i].Tag)
	}
	return overlayRow{ID: string(d.room.ID) + "-" + idText(key), Title: title, More: tags, Grade: d.word(len(by) > 0), Key: key, At: lookAt(t.At)}
}

func (d *sightDrawing) leakRows() []overlayRow {
	var out []overlayRow
	sys, limit := d.project.Units, d.project.Limits.Value(domain.LeakArea)
	for _, l := range d.sight.Leaks() {
		what := "an opening"
		if l.Door {
			what = "a door that stands open"
		}
		row := overlayRow{ID: fmt.Sprintf("%s-leak-%d-%s", d.room.ID, l.Sensor, l.Opening), Title: d.sight.Sensors[l.Sensor].Tag + " sees through " + what, Value: units.Area(units.SquareMetres(l.Area), sys),
			Key: "opening/" + string(l.Wall) + "/" + string(l.Opening), At: lookAt(l.At)}
		if !units.AtMost(l.Area, limit) {
			row.Grade = grade{"warning", "leak"}
		}
		out = append(out, row)
	}
	return out
}
