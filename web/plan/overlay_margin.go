package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/radio"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// Sides of the cells of a map of margins, meters: the second where the whole
// storey is shown.
const (
	fineCell   = 0.25
	coarseCell = 0.5
)

// mostFineCells bounds the fine map of one room, so that a hall is still mapped
// within a frame.
const mostFineCells = 20_000

// marginDrawing draws the radio of one room.
type marginDrawing struct {
	room *domain.Resolved
	net  *radio.Net
	*radio.Room
	look
}

// marginOverlay draws a room's margins, and keeps the map that it makes of them
// with the models.
func marginOverlay(p *domain.Project, r *domain.Resolved, l look, now *models, before models) roomOverlay {
	d := &marginDrawing{room: r, Room: radio.NewRoom(p, r), look: l}
	if d.Room == nil {
		return d.without()
	}
	d.net = d.Room.Net()
	step, kept, old := units.Metres(coarseCell), &now.coarse, before.coarse
	if box := r.Outline.Bounds(); !l.whole && box.Width()*box.Height() <= mostFineCells*fineCell*fineCell {
		step, kept, old = fineCell, &now.fine, before.fine
	}
	*kept = d.Coverage(p, step, old)
	return roomOverlay{d.cells(*kept), d.lines(), d.list(*kept)}
}

// without tells that a room has nothing that could be mapped.
func (d *marginDrawing) without() roomOverlay {
	id := string(d.room.ID)
	out := roomOverlay{(&markup{}).group("over-cells-" + id), (&markup{}).group("over-lines-" + id), &group{}}
	if !d.whole {
		out.list = rows(overlayRow{ID: id + "-none", Title: "No device with a radio stands on the plan."})
	}
	return out
}

// grade sorts a margin: under what is needed, in reserve little, good.
func (d *marginDrawing) grade(margin float64) hatch {
	switch {
	case !units.AtMost(d.Needed(), margin):
		return hatchBad
	case !units.AtMost(d.Settings.Advice, margin):
		return hatchFair
	}
	return hatchGood
}

func (d *marginDrawing) cells(m *radio.Map) *group {
	grades := []hatch{hatchBad, hatchFair, hatchGood}
	end := m.Origin.Add(geom.Pt(float64(m.Columns)*m.Step, float64(m.Rows)*m.Step))
	paths := cellPaths(m.Origin, end, m.Step, m.Columns, m.Rows, len(grades), func(column, row int) int {
		i := row*m.Columns + column
		if m.Inside != nil && !m.Inside[i] {
			return -1
		}
		return slices.Index(grades, d.grade(float64(m.Best[i])))
	})
	var out markup
	for i, h := range grades {
		out.area(h, paths[i])
	}
	return out.group("over-cells-" + string(d.room.ID))
}

// tie is a link that messages take: of a battery device to its router, of a
// router to the next one on the way to the gateway.
type tie struct {
	from, to int // nodes
	margin   float64
	note     string // what is wrong with it beside the margin
}

func (d *marginDrawing) ties() []tie {
	var out []tie
	for i := range d.Nodes {
		if i == d.net.Root {
			continue
		}
		if t := d.tieOf(i); t.to >= 0 {
			out = append(out, t)
		}
	}
	return out
}

// tieOf gives the link that a device's messages take; where there is no way, the
// best link that it has.
func (d *marginDrawing) tieOf(i int) tie {
	n, best := &d.Nodes[i], tie{i, -1, math.Inf(-1), ""}
	if n.Battery {
		if parent := d.Find(n.Device.Parent); n.Device.Parent != "" && parent >= 0 && d.Nodes[parent].Routes {
			return tie{i, parent, d.Margin(i, parent), ""}
		}
		best.note = "no parent is assigned: its best router"
	}
	next := d.net.Hops[i] > 0
	if !next {
		best.note = "no way to " + d.Nodes[max(0, d.net.Root)].Device.Tag
	}
	for j := range d.Nodes {
		if j == i || !d.Nodes[j].Routes || next && !(d.net.Hops[j] == d.net.Hops[i]-1 && d.Hears(i, j)) {
			continue
		}
		if m := d.Margin(i, j); m > best.margin {
			best.to, best.margin = j, m
		}
	}
	return best
}

func (d *marginDrawing) key(node int) string {
	return "device/" + string(d.room.ID) + "/" + string(d.Nodes[node].Device.ID)
}

func (d *marginDrawing) title(t tie) string {
	return d.Nodes[t.from].Device.Tag + " to " + d.Nodes[t.to].Device.Tag
}

func (d *marginDrawing) lines() *group {
	var out markup
	for _, t := range d.ties() {
		a, b := d.Nodes[t.from].At, d.Nodes[t.to].At
		out.raw(`<line class="o-link o-`, string(d.grade(t.margin)), `" x1="`, meters(a.X), `" y1="`, meters(a.Y), `" x2="`, meters(b.X), `" y2="`, meters(b.Y), `"`)
		out.attr("data-a", d.key(t.from))
		out.attr("data-b", d.key(t.to))
		out.attr("data-text", d.title(t)+", "+decibels(t.margin))
		out.raw("/>")
	}
	for i := range d.Nodes {
		// Among other rooms numbers are too small to read and slow a zoom down.
		if n := &d.Nodes[i]; n.Routes && i != d.net.Root && (!d.whole || d.net.Hops[i] < 0 || d.net.Hops[i] > d.Settings.Hops) {
			d.hops(&out, i)
		}
	}
	return out.group("over-lines-" + string(d.room.ID))
}

// hops writes beside a router how many links lie between it and the gateway.
func (d *marginDrawing) hops(out *markup, i int) {
	at, text, class := d.Nodes[i].At.Add(geom.Pt(0.32, 0.32)), fmt.Sprint(d.net.Hops[i]), "o-hop"
	if d.net.Hops[i] < 0 {
		text, class = "\u00d7", "o-hop o-off"
	} else if d.net.Hops[i] > d.Settings.Hops {
		class = "o-hop o-far"
	}
	out.raw(`<circle class="`, class, `" cx="`, meters(at.X), `" cy="`, meters(at.Y), `" r="0.17"/>`)
	out.note("o-hop-text", at.Sub(geom.Pt(0, 0.075)), text)
}

// list tells a room's links, the weakest first; among other rooms, the weakest.
func (d *marginDrawing) list(m *radio.Map) *group {
	ties := d.ties()
	slices.SortStableFunc(ties, func(a, b tie) int { return cmp.Compare(a.margin, b.margin) })
	id := string(d.room.ID)
	if d.whole {
		row := overlayRow{ID: id, Title: d.room.Label(), Key: "room/" + id, At: lookAt(d.room.Outline.Bounds().Center())}
		if len(ties) > 0 {
			row.Grade, row.Value, row.Title = d.word(ties[0].margin), decibels(ties[0].margin), row.Title+": weakest link "+d.title(ties[0])
		}
		return rows(row)
	}
	out := []overlayRow{{ID: id + "-share", Title: d.shares(m)}}
	if n := len(d.Unplaced); n > 0 {
		out = append(out, overlayRow{ID: id + "-unplaced", Title: "Not on the plan and left out: " + tagsOf(d.Unplaced)})
	}
	for _, t := range ties {
		row := overlayRow{ID: id + "-" + string(d.Nodes[t.from].Device.ID), A: d.key(t.from), B: d.key(t.to), Title: d.title(t), Value: decibels(t.margin), Grade: d.word(t.margin), More: t.note}
		if h := d.net.Hops[t.from]; h > 0 {
			row.More = joinedNotes(row.More, edits.Count(h, "link")+" to "+d.Nodes[d.net.Root].Device.Tag)
		}
		out = append(out, row)
	}
	return rows(out...)
}

func (d *marginDrawing) shares(m *radio.Map) string {
	return fmt.Sprintf("%s %% of the floor hears a router, %s %% hears %d.", units.Trim(100*m.Share(1), 1), units.Trim(100*m.Share(d.Settings.Routers), 1), d.Settings.Routers)
}

func (d *marginDrawing) word(margin float64) grade {
	switch d.grade(margin) {
	case hatchBad:
		return grade{"error", "too weak"}
	case hatchFair:
		return grade{"warning", "little reserve"}
	}
	return grade{"ok", "good"}
}

func tagsOf(nodes []radio.Node) string {
	out := ""
	for i := range nodes {
		out = joinedNotes(out, nodes[i].Device.Tag)
	}
	return out
}

func joinedNotes(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}
