package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// RooflightBeyond looks for rooflights that lie only partly over a room.
var RooflightBeyond = rule.Rule{
	ID: "plan-rooflight-beyond", Title: "Rooflight only partly over a room", Severity: rule.Warning, Scope: rule.OfStorey,
	Why:     "A rooflight lights the room that its middle is over with all of its glass, and no other: one across a wall makes that room too bright and its neighbor too dark.",
	Source:  "how this program counts rooflights",
	Example: "A rooflight that ends at its room's outline passes, and so does one that reaches beyond by half a millimeter, which is no fault of a drawing; by two millimeters it does not. One that is clear of all rooms is not asked: its room may not be drawn yet.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		var out []rule.Finding
		lights := rooflights(f.Plan)
		for i := range lights {
			room, partly := lights[i].under(f.Rooms)
			if !partly {
				continue
			}
			if len(out) == mostFindings {
				return out
			}
			out = append(out, reachesBeyond(f, &lights[i], room))
		}
		return out
	},
	FiresStorey: func() *rule.StoreyFacts { return roofed(geom.Pt(5.502, 2)) },
	QuietStorey: func() *rule.StoreyFacts { return roofed(geom.Pt(5.5, 2)) },
}

// under gives the room that the middle of a rooflight is over, nil for none, and whether
// some of the glass is over a room and some not over that one.
func (l *placedLight) under(rooms []*domain.Room) (middle *domain.Room, partly bool) {
	touched := false
	for _, r := range rooms {
		if r.Outline.Empty() || len(r.Outline.Validate()) > 0 || !r.Outline.Bounds().Touches(l.box) {
			continue
		}
		if parts, err := geom.Intersection(l.glass, r.Outline); err != nil || len(parts) == 0 {
			continue
		}
		touched = true
		if !r.Outline.Contains(l.At) {
			continue
		}
		if beyond, err := geom.Difference(l.glass, r.Outline); err == nil && len(beyond) == 0 {
			return r, false
		}
		middle = r
	}
	return middle, touched
}

func reachesBeyond(f *rule.StoreyFacts, l *placedLight, room *domain.Room) rule.Finding {
	out := rule.Finding{Key: string(f.Storey.ID) + "/" + string(l.ID), Subjects: []rule.Subject{l.subject()}, Places: []geom.Point{l.At}}
	if room == nil {
		out.Message = fmt.Sprintf("Rooflight %d %s lies partly over a room, but its middle is over none, so that no room gets its daylight: move it over the room.", l.number, onPlan(f))
		return out
	}
	out.Message = fmt.Sprintf("Rooflight %d %s reaches beyond room %s, which is counted to get all of its daylight: move it over the room, or make it smaller.", l.number, onPlan(f), room.Number)
	return out
}
