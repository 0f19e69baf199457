package plan

import (
	"cmp"
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Overlap looks for rooms of one storey that share floor.
var Overlap = rule.Rule{
	ID: "plan-overlap", Title: "Rooms that overlap on the plan", Severity: rule.Error, Scope: rule.OfStorey,
	Limits:  []domain.LimitID{domain.RoomsOverlap},
	Why:     "Floor that two rooms share is lit, covered and counted twice, and a device there belongs to either.",
	Source:  commonPractice,
	Example: "Two rooms that share a wall pass, and so do two that overlap by 0.1 m2; by 1 m2 they do not.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		var out []rule.Finding
		limit := f.Limit(domain.RoomsOverlap)
		eachNear(f.Rooms, limit, func(a, b *domain.Room) bool {
			parts, err := geom.Intersection(a.Outline, b.Outline)
			if err != nil { // a shape that is not sound: its room says so
				return true
			}
			if shared := geom.TotalArea(parts); !units.AtMost(shared, limit) {
				out = append(out, overlapping(f, a, b, parts, shared, limit))
			}
			return len(out) < mostFindings
		})
		return out
	},
	FiresStorey: func() *rule.StoreyFacts {
		return storey(nil, geom.Rectangle(0, 0, 5, 4), geom.Rectangle(4.75, 0, 5, 4))
	},
	QuietStorey: func() *rule.StoreyFacts {
		return storey(nil, geom.Rectangle(0, 0, 5, 4), geom.Rectangle(4.975, 0, 5, 4))
	},
}

func overlapping(f *rule.StoreyFacts, a, b *domain.Room, parts []geom.Polygon, shared, limit float64) rule.Finding {
	sys := f.Project.Units
	out := rule.AtMost(shared, limit, "m2")
	out.Key, out.Subjects = string(min(a.ID, b.ID)+"/"+max(a.ID, b.ID)), []rule.Subject{rule.RoomSubject(a), rule.RoomSubject(b)}
	for _, p := range parts {
		out.Places = append(out.Places, p.LabelPoint())
	}
	out.Message = fmt.Sprintf("Rooms %s and %s %s overlap by %s, limit %s: move the wall between them, or redraw one.", a.Number, b.Number, onPlan(f),
		units.Area(units.SquareMetres(shared), sys), units.Area(units.SquareMetres(limit), sys))
	return out
}

// eachNear visits the pairs of rooms whose boxes share more than some area,
// until the visit says no. Boxes are sorted, so that far rooms never meet.
func eachNear(rooms []*domain.Room, more float64, visit func(a, b *domain.Room) bool) {
	type boxed struct {
		room *domain.Room
		box  geom.Box
	}
	var all []boxed
	for _, r := range rooms {
		if !r.Outline.Empty() {
			all = append(all, boxed{r, r.Outline.Bounds()})
		}
	}
	slices.SortStableFunc(all, func(a, b boxed) int { return cmp.Compare(a.box.Min.X, b.box.Min.X) })
	for i, a := range all {
		for _, b := range all[i+1:] {
			if b.box.Min.X >= a.box.Max.X {
				break
			}
			width := min(a.box.Max.X, b.box.Max.X) - b.box.Min.X
			height := min(a.box.Max.Y, b.box.Max.Y) - max(a.box.Min.Y, b.box.Min.Y)
			if height > 0 && width*height > more && !visit(a.room, b.room) {
				return
			}
		}
	}
}
