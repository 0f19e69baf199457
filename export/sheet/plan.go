package sheet

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// roomPlanHeight is the room for a room's plan on its scope sheet, in millimeters: less
// than half a page, so that facts and devices stand beside it.
const roomPlanHeight = 136.0

// StoreyPlans prints each storey with what has been drawn on it, at the largest standard
// scale that the paper holds.
func StoreyPlans(c *Content) []Sheet {
	var out []Sheet
	for _, s := range c.storeys {
		if d, ok := c.storeyDrawing(s); ok {
			sh := Sheet{ID: fmt.Sprintf("plan-%d", s.place), Number: s.planNumber(), Title: "Plan of " + s.name(c), Head: c.head(), Landscape: d.View.Landscape()}
			sh.Head.Building, sh.Head.Storey = s.buildingName(), s.name(c)
			if s.storey != nil {
				sh.Head.Storey = s.storey.Name
			}
			sh.Blocks = withoutNil([]Block{c.partialNote(), d})
			out = append(out, sh)
		}
	}
	return out
}

// PlanSheets is the document of the plans; it says so where there are none.
func PlanSheets(c *Content) []Sheet {
	if sheets := StoreyPlans(c); len(sheets) > 0 {
		return sheets
	}
	return []Sheet{{ID: "plan", Number: numberPlans, Title: "Storey plans", Head: c.head(),
		Blocks: withoutNil([]Block{c.partialNote(), Paragraph{Text: "No storey has been drawn yet.", Strong: true}})}}
}

func (c *Content) storeyDrawing(s *storey) (Drawing, bool) {
	var rooms []*domain.Resolved
	for _, r := range s.rooms {
		rooms = append(rooms, r.Resolved)
	}
	plan := c.planOf(s)
	if len(rooms) == 0 {
		return Drawing{}, false
	}
	opt := drawing.Options{Furniture: true, Spread: true, Beneath: c.in.PlanBeneath}
	note := s.unplaced()
	if len(c.in.PlanWithout) > 0 {
		opt.Layers = drawing.Without(c.in.PlanWithout...)
		note = strings.TrimSpace(note + " " + leftOut(c.in.PlanWithout))
	}
	view := drawing.StoreyView(c.project, plan, rooms, opt)
	return Drawing{View: view, Note: note}, !view.Empty()
}

func (c *Content) planOf(s *storey) *domain.Plan {
	if s.storey == nil {
		return nil
	}
	if p := c.in.Scope.Plan(s.storey.ID); p != nil {
		return p
	}
	return &domain.Plan{ID: s.storey.ID}
}

// unplaced says what of a storey its plan does not show.
func (s *storey) unplaced() string {
	var without []*room
	devices, luminaires := 0, 0
	for _, r := range s.rooms {
		d, l := r.Unplaced()
		devices, luminaires = devices+d, luminaires+l
		if r.Outline.Empty() {
			without = append(without, r)
		}
	}
	text := notOnPlan(devices, luminaires)
	if len(without) > 0 {
		text = strings.TrimSpace(text + " Not drawn: " + roomNumbers(without) + ".")
	}
	return text
}

// leftOut names the layers that a plan does not show, so that nobody takes them for
// missing in the design.
func leftOut(layers []drawing.Layer) string {
	words := make([]string, len(layers))
	for i, l := range layers {
		words[i] = l.Name()
	}
	return "Left out of this print: " + joined(words) + "."
}

func notOnPlan(devices, luminaires int) string {
	var parts []string
	if devices > 0 {
		parts = append(parts, count(devices, "device", "devices"))
	}
	if luminaires > 0 {
		parts = append(parts, count(luminaires, "luminaire", "luminaires"))
	}
	if parts == nil {
		return ""
	}
	verb := "have"
	if devices+luminaires == 1 {
		verb = "has"
	}
	return joined(parts) + " " + verb + " no place on the plan yet."
}

// planBlocks is the room's plan on its scope sheet, nil where it has no outline.
func (r *room) planBlocks() []Block {
	if r.Outline.Empty() {
		return nil
	}
	view := drawing.RoomView(r.c.project, r.c.planOf(r.on), r.Resolved, r.c.neighbors(r.StoreyID), drawing.Options{Furniture: true, Spread: true})
	if view.Empty() {
		return nil
	}
	return []Block{Drawing{Caption: view.Title(), View: view, Height: roomPlanHeight, Note: notOnPlan(r.Unplaced())}}
}

// neighbors lists all rooms of a storey with their outlines, also those that are not of
// this document, to stand faintly around the one that is drawn.
func (c *Content) neighbors(storey domain.ID) []*domain.Resolved {
	if c.around == nil {
		c.around = map[domain.ID][]*domain.Resolved{}
		for i := range c.in.Scope.Rooms {
			if r := &c.in.Scope.Rooms[i]; !r.Outline.Empty() {
				c.around[r.StoreyID] = append(c.around[r.StoreyID], &domain.Resolved{Room: r})
			}
		}
	}
	return c.around[storey]
}

// drawn lists what the room itself puts on its plan, for the content hash: the outline and
// the places of what it holds, from the outline's lower left corner, to the tenth of a
// millimeter. Walls, doors and windows belong to the storey: a change of them alone, or a
// drawing moved as a whole, leaves a signature standing.
func (r *room) drawn() []string {
	if r.Outline.Empty() {
		return nil
	}
	corner := tenths(r.Outline.Bounds().Min)
	place := func(p drawing.Point) string {
		p = tenths(p).Sub(corner)
		return units.Trim(p.X, 0) + " " + units.Trim(p.Y, 0)
	}
	out := []string{"plan"}
	for _, ring := range r.Outline.Rings() {
		out = append(out, "ring")
		for _, p := range ring {
			out = append(out, place(p))
		}
	}
	for i := range r.Design.Devices {
		if d := &r.Design.Devices[i]; d.At != nil {
			out = append(out, "device", d.Tag, place(*d.At), number(d.Turn))
		}
	}
	for i := range r.Fixtures {
		f := &r.Fixtures[i]
		tag := ""
		if l := r.Design.Load(f.Load); l != nil {
			tag = l.Tag
		}
		out = append(out, "luminaire", tag, place(f.At), number(f.Turn))
	}
	for i := range r.Sitting {
		out = append(out, "seat", place(r.Sitting[i].At))
	}
	return out
}

// tenths gives a place in whole tenths of a millimeter, the resolution that is stored.
func tenths(p drawing.Point) drawing.Point {
	return drawing.Point{X: math.Round(p.X * 1e4), Y: math.Round(p.Y * 1e4)}
}
