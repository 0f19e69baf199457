package plan

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// Outline looks for outlines that are no sound shape.
var Outline = rule.Rule{
	ID: "plan-outline", Title: "Outline that is no sound shape", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "An outline that crosses itself or encloses nothing has no area, and nobody can say what lies in the room.",
	Source:  "simple polygons as in OGC Simple Features (OGC 06-103r4, 6.1.11), from memory",
	Example: "A rectangle of 8 by 5 m passes; with two of its corners exchanged its outline crosses itself and does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i, fault := range f.Shape() {
			if i == mostFindings {
				break
			}
			out = append(out, rule.Finding{Key: fmt.Sprint(i + 1), Subjects: []rule.Subject{rule.RoomSubject(f.Room.Room)}, Places: []geom.Point{fault.At},
				Message: fmt.Sprintf("The outline of room %s is no sound shape: %s. Draw it anew or move the corner.", f.Room.Number, fault.Message())})
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		b := drawn()
		p := b.R.Outline.Outer
		p[1], p[2] = p[2], p[1]
		return b
	},
	Quiet: drawn,
}
