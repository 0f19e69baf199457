package presence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// NoDelay asks how long a room must be vacant before anything happens.
var NoDelay = rule.Rule{
	ID: "presence-no-delay", Title: "No delay before vacant", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "With no delay the light goes out as soon as a sensor sees nobody move, and comes and goes over people at a desk.",
	Source:  commonPractice,
	Example: "A presence intent with a delay of 20 min passes; one with none does not, unless each sensor that acts on its loads has a delay of its own.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Design.Intents {
			in := &f.Design.Intents[i]
			if in.Kind != domain.ByPresence && in.Kind != domain.ForReceptacles || in.Delay > 0 || sensorsWait(f, in) {
				continue
			}
			start := domain.NewIntent(in.ID, in.Kind).Delay
			found := rule.Finding{Key: string(in.ID), Subjects: []rule.Subject{rule.IntentSubject(in)}}
			found.Message = fmt.Sprintf("The %s intent has no delay and its sensors have none: say how long all sensors must report vacant, for example %s.", named(in.Kind), units.Duration(start))
			found.Fix = rule.SetFields("Set the delay to "+units.Duration(start), "intents/"+string(in.ID)+"/delay_s", units.Duration(start))
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("intents/i2/delay_s", "") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("intents/i2/delay_s", "1 s") },
}

// sensorsWait tells that some sensor acts on the intent's loads and that each
// that does has a delay of its own.
func sensorsWait(f *rule.Facts, in *domain.Intent) bool {
	some := false
	for i := range f.Links {
		k := &f.Links[i]
		if !k.Senses() || !in.ActsOn(k.To.Load) {
			continue
		}
		if k.From.Delay == 0 {
			return false
		}
		some = true
	}
	return some
}
