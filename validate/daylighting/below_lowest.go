package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// BelowLowest holds the lowest level of a daylight intent to what the drivers
// of its loads dim to.
var BelowLowest = rule.Rule{
	ID: "daylighting-below-lowest", Title: "Daylight dims below what the driver can", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "The control goes on lowering its signal while the light stays, and hunts when it comes back.",
	Source:  commonPractice + "; the lowest level is the luminaire schedule's",
	Example: "A daylight intent down to 10 % passes with drivers that dim to 10 %; down to 9 % it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Design.Intents {
			in := &f.Design.Intents[i]
			if in.Kind != domain.ByDaylight {
				continue
			}
			var worst *rule.Load
			for j := range f.Loads {
				l := &f.Loads[j]
				if in.ActsOn(l.Load) && l.Lum != nil && l.Dims() && in.Lowest < l.Lum.DimsTo && (worst == nil || l.Lum.DimsTo > worst.Lum.DimsTo) {
					worst = l
				}
			}
			if worst == nil {
				continue
			}
			least := worst.Lum.DimsTo
			found := rule.Finding{Key: string(in.ID), Subjects: []rule.Subject{rule.IntentSubject(in), worst.Subject()}, Numbers: true,
				Measured: float64(in.Lowest), Limit: float64(least), Margin: float64(in.Lowest - least), Unit: "%"}
			found.Message = fmt.Sprintf("The daylight intent goes down to %s, and the driver of %s (type %s) goes no lower than %s: raise the lowest level by %s.",
				units.Percent(in.Lowest), rule.Named(worst.Tag), worst.Lum.Tag, units.Percent(least), units.Percent(least-in.Lowest))
			found.Fix = rule.SetFields("Set the lowest level to "+units.Percent(least), "intents/"+string(in.ID)+"/lowest", units.Percent(least))
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("intents/i3/lowest", "9") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("intents/i3/lowest", "10") },
}
