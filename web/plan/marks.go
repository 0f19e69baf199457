package plan

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/edits"
)

// mark is the place of a finding and the thing that it is about.
type mark struct {
	drawing.Finding
	Thing string // "device/<room>/<id>", "room/<id>", "wall/<id>", "opening/<wall>/<id>"
	Where string // "Room 101", "Storey"
	Fix   *markFix
}

// markFix is a finding's fix that a click on the plan carries out.
type markFix struct{ Rule, Key, Title string }

// roomMarks gives the marks of a room's findings. Remarks are left to the room's
// own page.
func (s Screen) roomMarks(r *store.RoomState, n store.Summary) []mark {
	if r.Resolved.Outline.Empty() || n.Errors+n.Warnings == 0 {
		return nil
	}
	return roomMarks(r.Resolved, s.Judge(r.Project, r.Resolved), n)
}

// roomMarks marks each place that a finding names, each device that one is about
// once, with the worst that was found of it, and the room with all the rest.
func roomMarks(r *domain.Resolved, found []rule.Finding, n store.Summary) []mark {
	var out []mark
	where := "Room " + r.Number
	at := map[domain.ID]int{}
	left, first, worst := n, "", rule.Info
	for i := range found {
		f := &found[i]
		if f.Waived() || f.Severity == rule.Info {
			continue
		}
		dev := deviceOf(r, f)
		switch {
		case dev == nil && len(f.Places) > 0:
			left = without(left, f.Severity)
			for j, place := range f.Places {
				id := fmt.Sprintf("%s-%s-%s-%d", r.ID, f.Rule, idText(f.Key), j)
				out = append(out, mark{Finding: drawing.Finding{ID: id, At: place, Severity: drawing.Severity(f.Severity), Text: f.Message}, Thing: roomThing(r, f), Where: where})
			}
			continue
		case dev == nil:
			if first == "" || f.Severity == rule.Error && worst != rule.Error {
				first, worst = f.Message, f.Severity
			}
			continue
		}
		left = without(left, f.Severity)
		if j, some := at[dev.ID]; some {
			if f.Severity == rule.Error {
				out[j].Severity = drawing.Error
			}
			out[j].Text += " " + f.Message
			continue
		}
		at[dev.ID] = len(out)
		finding := drawing.Finding{ID: string(r.ID + "-" + dev.ID), At: *dev.At, Severity: drawing.Severity(f.Severity), Text: f.Message}
		out = append(out, mark{Finding: finding, Thing: "device/" + string(r.ID) + "/" + string(dev.ID), Where: where})
	}
	if rest := left.Errors + left.Warnings; rest > 0 {
		severity := drawing.Warning
		if left.Errors > 0 {
			severity = drawing.Error
		}
		text := first
		if rest > 1 || first == "" {
			text = strings.TrimSpace(first + " " + inAll(n) + " in all: the room's workbench lists them.")
		}
		out = append(out, mark{Finding: drawing.Finding{ID: string(r.ID), At: corner(r.Outline), Severity: severity, Text: text}, Thing: "room/" + string(r.ID), Where: where})
	}
	return out
}

// without takes a finding that has a mark of its own out of the count of the rest.
func without(n store.Summary, severity rule.Severity) store.Summary {
	if severity == rule.Error {
		n.Errors--
	} else {
		n.Warnings--
	}
	return n
}

// inAll counts a room's findings: "2 errors and 1 warning", "2 warnings".
func inAll(n store.Summary) string {
	switch {
	case n.Errors == 0:
		return edits.Count(n.Warnings, "warning")
	case n.Warnings == 0:
		return edits.Count(n.Errors, "error")
	}
	return edits.Count(n.Errors, "error") + " and " + edits.Count(n.Warnings, "warning")
}

// roomThing gives the luminaire that a finding's key names, the room otherwise.
func roomThing(r *domain.Resolved, f *rule.Finding) string {
	for i := range r.Fixtures {
		if string(r.Fixtures[i].ID) == f.Key {
			return "fixture/" + string(r.ID) + "/" + f.Key
		}
	}
	return "room/" + string(r.ID)
}

// idText makes a key fit for an element's ID.
func idText(key string) string {
	return strings.Map(func(r rune) rune {
		if r <= ' ' || strings.ContainsRune(`/"'<>&#`, r) {
			return '_'
		}
		return r
	}, key)
}

// deviceOf gives the first device with a place that a finding is about.
func deviceOf(r *domain.Resolved, f *rule.Finding) *domain.Device {
	for _, s := range f.Subjects {
		if s.Part != "devices" {
			continue
		}
		if dev := r.Design.Device(s.ID); dev != nil && dev.At != nil {
			return dev
		}
	}
	return nil
}

// corner is where a room's own mark stands: in its upper left corner, clear of
// its name.
func corner(outline geom.Polygon) geom.Point {
	const in = 0.6 // meters from the walls
	box := outline.Bounds()
	at := geom.Pt(box.Min.X+in, box.Max.Y-in)
	if outline.Contains(at) {
		return at
	}
	return outline.LabelPoint()
}

// storeyJudged is what the rules find of a storey as a whole, with all that they
// look at.
type storeyJudged struct {
	project *domain.Project
	plan    *domain.Plan
	rooms   []shapeOf
	beside  []beside
	marks   []mark
}

// beside is what the rules read of a storey above or below.
type beside struct {
	storey domain.Storey
	plan   *domain.Plan
	rooms  []shapeOf
}

func sameBeside(a, b beside) bool {
	return a.storey == b.storey && a.plan == b.plan && slices.EqualFunc(a.rooms, b.rooms, sameShape)
}

// shapeOf is what the rules of a storey read of a room: its outline, and the
// gateways that its network runs between.
type shapeOf struct {
	id       domain.ID
	number   string
	outline  geom.Polygon
	gateways []gatewayAt
}

type gatewayAt struct {
	id     domain.ID
	kind   string
	at     geom.Point
	height units.Metres
}

func (st *state) shapeOf(r *domain.Resolved) shapeOf {
	out := shapeOf{id: r.ID, number: r.Number, outline: r.Outline}
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		if t := st.Project.Book.Find(d.Type); t != nil && t.Kind == equipment.Gateway && d.At != nil {
			h, _ := st.Project.HeightOf(r.Room, d)
			out.gateways = append(out.gateways, gatewayAt{d.ID, d.Type, *d.At, h})
		}
	}
	return out
}

func sameShape(a, b shapeOf) bool {
	return a.id == b.id && a.number == b.number && slices.Equal(a.outline.Outer, b.outline.Outer) && slices.EqualFunc(a.outline.Holes, b.outline.Holes, slices.Equal) &&
		slices.Equal(a.gateways, b.gateways)
}

// markStorey judges the storey, unless its shapes are as they were.
func (s Screen) markStorey(st *state, before, now *shown) {
	judged := storeyJudged{project: st.Project, plan: st.Plan}
	facts := &rule.StoreyFacts{Project: st.Project, Storey: st.Storey, Plan: st.Plan, Neighbours: st.neighbours}
	for _, state := range st.Rooms {
		r := state.Resolved.Room
		facts.Rooms, facts.Designs = append(facts.Rooms, r), append(facts.Designs, state.Resolved)
		judged.rooms = append(judged.rooms, st.shapeOf(state.Resolved))
	}
	for _, n := range st.neighbours {
		one := beside{storey: *n.Storey, plan: n.Plan}
		for _, r := range n.Designs {
			one.rooms = append(one.rooms, st.shapeOf(r))
		}
		judged.beside = append(judged.beside, one)
	}
	if before != nil {
		old := &before.storey
		if old.project == judged.project && old.plan == judged.plan && slices.EqualFunc(old.rooms, judged.rooms, sameShape) && slices.EqualFunc(old.beside, judged.beside, sameBeside) {
			now.storey = *old
			return
		}
	}
	judged.marks = storeyMarks(validate.Storey(facts), st.Plan)
	now.storey = judged
}

func storeyMarks(found []rule.Finding, plan *domain.Plan) []mark {
	var out []mark
	for i := range found {
		f := &found[i]
		if f.Severity == rule.Info {
			continue
		}
		for j, place := range f.Places {
			id := fmt.Sprintf("storey-%s-%s-%d", f.Rule, idText(f.Key), j)
			one := mark{Finding: drawing.Finding{ID: id, At: place, Severity: drawing.Severity(f.Severity), Text: f.Message}, Thing: storeyThing(f, plan), Where: "Storey"}
			if f.Fix != nil {
				one.Fix = &markFix{f.Rule, f.Key, f.Fix.Title}
			}
			out = append(out, one)
		}
	}
	return out
}

// storeyThing gives the opening, wall, rooflight or room that a finding is about.
func storeyThing(f *rule.Finding, plan *domain.Plan) string {
	for _, s := range f.Subjects {
		switch s.Part {
		case "walls":
			parts := strings.Split(f.Key, "/") // <storey>/<wall>[/<opening>]
			if w := plan.Wall(s.ID); w != nil && len(parts) == 3 && slices.ContainsFunc(w.Openings, func(o domain.Opening) bool { return string(o.ID) == parts[2] }) {
				return "opening/" + string(s.ID) + "/" + parts[2]
			}
			return "wall/" + string(s.ID)
		case "rooflights":
			return "rooflight/" + string(s.ID)
		case "rooms":
			return "room/" + string(s.ID)
		}
	}
	return ""
}
