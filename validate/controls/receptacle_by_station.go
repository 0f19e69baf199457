package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ReceptacleByStation keeps receptacles out of the reach of stations.
var ReceptacleByStation = rule.Rule{
	ID: "controls-receptacle-by-station", Title: "Receptacle switched by a wall station", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Who presses Off for the light must not cut the power of a computer; receptacles follow presence or time.",
	Source:  commonPractice,
	Example: "A receptacle with - in every station's row passes; with 0 in the row of an Off button it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			if l.Kind != domain.Receptacle {
				continue
			}
			var subjects []rule.Subject
			var pairs []string
			for j := range f.Links {
				if k := &f.Links[j]; k.To == l && k.Presses() {
					subjects, pairs = append(subjects, cellSubject(k)), append(pairs, cellPath(k), "-")
				}
			}
			if len(subjects) == 0 {
				continue
			}
			found := rule.AtMost(float64(len(subjects)), 0, "buttons")
			found.Key, found.Subjects = string(l.ID), append([]rule.Subject{l.Subject()}, subjects...)
			found.Message = fmt.Sprintf("%s is switched by %s: receptacles follow presence or time and never a wall station. Write - there.", rule.Named(l.Tag), rule.Tags(subjects))
			found.Fix = rule.SetFields("Write - for "+rule.Named(l.Tag)+" in these rows", pairs...)
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Link("st", 4, domain.Press, "r1", "0") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Link("st", 4, domain.Press, "r1", "-") },
}
