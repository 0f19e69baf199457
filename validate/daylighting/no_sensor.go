package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// NoSensor asks for a sensor wherever an intent dims by daylight.
var NoSensor = rule.Rule{
	ID: "daylighting-no-sensor", Title: "Daylight intent, but no daylight sensor acts on the load", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The sequence promises dimming by daylight, and nothing tells the load how bright the day is.",
	Source:  commonPractice,
	Example: "A daylight intent for L3 passes when a daylight sensor acts on L3; an intent for all loads does not when it acts on L3 alone.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Design.Intents {
			in := &f.Design.Intents[i]
			if in.Kind != domain.ByDaylight {
				continue
			}
			var open []rule.Subject
			for j := range f.Loads {
				if l := &f.Loads[j]; in.ActsOn(l.Load) && !sensed(f, l) {
					open = append(open, l.Subject())
				}
			}
			if len(open) == 0 {
				continue
			}
			found := rule.AtMost(float64(len(open)), 0, "loads")
			found.Key, found.Subjects = string(in.ID), append([]rule.Subject{rule.IntentSubject(in)}, open...)
			found.Message = fmt.Sprintf("The daylight intent acts on %s, and no daylight sensor does: write ACT in a sensor's row, or name the other loads in the intent.", rule.Tags(open))
			if rest := sensedOf(f, in); len(rest) > 0 {
				found.Fix = rule.SetFields("Let the intent act on "+rule.Tags(rest)+" only", "intents/"+string(in.ID)+"/loads", ids(rest))
			}
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("intents/i3/loads", "all") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

// sensedOf gives the intent's loads that a daylight sensor acts on.
func sensedOf(f *rule.Facts, in *domain.Intent) []rule.Subject {
	var rest []rule.Subject
	for i := range f.Loads {
		if l := &f.Loads[i]; in.ActsOn(l.Load) && sensed(f, l) {
			rest = append(rest, l.Subject())
		}
	}
	return rest
}
