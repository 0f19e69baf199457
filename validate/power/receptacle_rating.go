package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// ReceptacleRating asks that a controller carries what its receptacles may draw.
var ReceptacleRating = rule.Rule{
	ID: "power-receptacle-rating", Title: "Receptacle circuit above the controller's rating", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Anybody may plug in anything that the receptacle takes: the controller must be rated for the whole circuit.",
	Source:  commonPractice,
	Example: "A circuit of 20 A on a controller rated 20 A passes; on one rated 15 A it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			d := l.Carrier
			if l.Kind != domain.Receptacle || d == nil || d.Type == nil || d.Type.OutputAmps == 0 || units.AtMost(float64(l.Rating), float64(d.Type.OutputAmps)) {
				continue
			}
			found := rule.AtMost(float64(l.Rating), float64(d.Type.OutputAmps), "A")
			found.Key, found.Subjects = string(l.ID), []rule.Subject{l.Subject(), d.Subject()}
			found.Message = fmt.Sprintf("%s is a receptacle circuit of %s A, and %s is rated %s A: %s A over. Choose a controller of at least the circuit's rating. Caution: a licensed electrician decides.",
				rule.Named(l.Tag), rule.Number(found.Measured), rule.Named(d.Tag), rule.Number(found.Limit), rule.Number(-found.Margin))
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("loads/r1/rating_a", "21") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("loads/r1/rating_a", "20") },
}
