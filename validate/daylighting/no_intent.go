package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// NoIntent asks for an intent wherever a daylight sensor acts on a load.
var NoIntent = rule.Rule{
	ID: "daylighting-no-intent", Title: "Daylight sensor acts, but no intent says what happens", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Without a target and a lowest level the commissioning technician guesses how bright the room shall be.",
	Source:  commonPractice,
	Example: "A daylight sensor that acts on L3 passes with a daylight intent for L3 and does not pass without.",
	Check: func(f *rule.Facts) []rule.Finding {
		var open []rule.Subject
		for i := range f.Loads {
			if l := &f.Loads[i]; sensed(f, l) && !acted(f, l) {
				open = append(open, l.Subject())
			}
		}
		if len(open) == 0 {
			return nil
		}
		out := rule.AtMost(float64(len(open)), 0, "loads")
		out.Subjects = open
		out.Message = fmt.Sprintf("A daylight sensor acts on %s, and no daylight intent does: add one with its target and lowest level, or write - in the sensor's row.", rule.Tags(open))
		for i := range open {
			if f.Load(open[i].ID).Kind != domain.Lighting {
				return []rule.Finding{out}
			}
		}
		id := f.FreshID("daylight intent")
		out.Fix = &rule.Fix{Title: "Add a daylight intent for " + rule.Tags(open), Edits: []edit.Edit{
			edit.AddIntent{ID: id, Kind: domain.ByDaylight}, edit.SetField{Path: "intents/" + string(id) + "/loads", Text: ids(open)}}}
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Do(edit.Remove{Part: "intents", ID: "i3"}) },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}
