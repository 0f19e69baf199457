package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// NotPlaced says what of a room's radio is not checked because devices have no
// place on the plan while others have. In a room with an outline plan-unplaced
// lists them.
var NotPlaced = rule.Rule{
	ID: "radiolink-not-placed", Title: "Radio not checked: devices without a place", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "A link that nobody has reckoned is found on site, when the ceiling is closed.",
	Source:  commonPractice,
	Example: "A room with all of its radios on the plan, or none of them, passes; with the load controller left in the list the mesh is not checked.",
	Check: func(f *rule.Facts) []rule.Finding {
		r := f.Radio()
		if r == nil || len(r.Unplaced) == 0 || !f.Room.Outline.Empty() {
			return nil
		}
		out := rule.AtMost(float64(len(r.Unplaced)), 0, "devices")
		for i := range r.Unplaced {
			out.Subjects = append(out.Subjects, f.Devices[r.Unplaced[i].Index].Subject())
		}
		what := "Their links are not checked"
		if !r.Whole() {
			what = "As routers are among them, neither the mesh nor what is out of reach is checked"
		}
		out.Message = fmt.Sprintf("%s with radio not on the plan while others are: %s. %s. Place them.", rule.Many(len(r.Unplaced), "device"), rule.Tags(out.Subjects), what)
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder {
		b := classroom(nil)
		b.R.Design.Device("lc").At = nil
		return place(b, nil)
	},
	Quiet: func() *domaintest.Builder { return classroom(map[domain.ID]geom.Point{}) },
}
