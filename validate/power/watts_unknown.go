package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// WattsUnknown asks for what each lighting load draws.
var WattsUnknown = rule.Rule{
	ID: "power-watts-unknown", Title: "Watts or volts of a load not known", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Ratings cannot be checked against a load that is not known: not checked is not the same as sound.",
	Source:  commonPractice,
	Example: "One luminaire of 38 W at 277 V passes; a count of 0 does not, nor do own watts without volts.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			if l.Kind != domain.Lighting || l.Known || l.Luminaire != "" && l.Lum == nil { // a type that is gone is another rule's
				continue
			}
			lacks := "its watts"
			switch {
			case l.Lum != nil && l.Count == 0:
				lacks = "how many luminaires it has"
			case l.Lum != nil && l.Lum.Watts <= 0:
				lacks = "the watts of luminaire type " + l.Lum.Tag
			case l.Watts > 0:
				lacks = "its volts"
			}
			out = append(out, rule.Finding{Key: string(l.ID), Subjects: []rule.Subject{l.Subject()},
				Message: fmt.Sprintf("%s is not checked against ratings: %s not known. Fill it in.", rule.Named(l.Tag), verb(lacks))})
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("loads/l4/count", "0") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("loads/l4/count", "1") },
}

func verb(lacks string) string {
	if lacks == "how many luminaires it has" {
		return lacks + " is"
	}
	return lacks + " are"
}
