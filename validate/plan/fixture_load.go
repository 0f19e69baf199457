package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// FixtureLoad looks for luminaires on the plan that no lighting load has.
var FixtureLoad = rule.Rule{
	ID: "plan-fixture-load", Title: "Luminaire on the plan that no load has", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A luminaire without a load is wired to nothing and controlled by nothing: it is missing in the schedules, or too many on the plan.",
	Source:  commonPractice,
	Example: "A luminaire of load L1 passes; one whose load was taken away does not, and neither does a seventh luminaire of a load of six.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		surplus := map[domain.ID][]geom.Point{}
		placed := map[domain.ID]int{}
		for i := range f.Room.Fixtures {
			x := &f.Room.Fixtures[i]
			l := f.Design.Load(x.Load)
			if l == nil || l.Kind != domain.Lighting {
				if len(out) < mostFindings {
					out = append(out, homeless(f, x, l))
				}
				continue
			}
			if placed[l.ID]++; l.Luminaire != "" && placed[l.ID] > l.Count {
				surplus[l.ID] = append(surplus[l.ID], x.At)
			}
		}
		for i := range f.Loads {
			if l := f.Loads[i].Load; surplus[l.ID] != nil {
				one := rule.AtMost(float64(placed[l.ID]), float64(l.Count), "luminaires")
				one.Key, one.Subjects, one.Places = "load/"+string(l.ID), []rule.Subject{rule.LoadSubject(l)}, surplus[l.ID]
				one.Message = fmt.Sprintf("%s has %s on the plan and a count of %d in its schedule: take some off the plan, or raise the count.", rule.Named(l.Tag), rule.Many(placed[l.ID], "luminaire"), l.Count)
				out = append(out, one)
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		b := drawn()
		b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: "x", At: geom.Pt(1, 1)})
		return b
	},
	Quiet: drawn,
}

func homeless(f *rule.Facts, x *domain.Fixture, l *domain.Load) rule.Finding {
	why := "belongs to no load"
	switch {
	case l != nil:
		why = "belongs to " + rule.Named(l.Tag) + ", which is a receptacle load"
	case x.Load != "":
		why = "belongs to a load that is gone"
	}
	return rule.Finding{Key: string(x.ID), Subjects: []rule.Subject{rule.RoomSubject(f.Room.Room)}, Places: []geom.Point{x.At},
		Message: fmt.Sprintf("A luminaire on the plan of room %s %s: give it a lighting load, or take it off the plan.", f.Room.Number, why)}
}
