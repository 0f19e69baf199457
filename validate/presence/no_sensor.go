package presence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// NoSensor asks for a sensor wherever an intent waits for people to leave.
var NoSensor = rule.Rule{
	ID: "presence-no-sensor", Title: "Intent waits for presence, but no sensor acts on the load", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The sequence promises light that goes off by itself, and no sensor is set to do it: it stays on all night.",
	Source:  commonPractice,
	Example: "A presence intent for all lighting loads passes when a presence sensor acts on each of them; a fifth load that no sensor acts on does not pass.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Design.Intents {
			in := &f.Design.Intents[i]
			if in.Kind != domain.ByPresence && in.Kind != domain.ForReceptacles {
				continue
			}
			if found, ok := unsensed(f, in); ok {
				out = append(out, found)
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Link("ps", 0, "", "l4", "-")
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

func unsensed(f *rule.Facts, in *domain.Intent) (rule.Finding, bool) {
	var open []rule.Subject
	for i := range f.Loads {
		if l := &f.Loads[i]; in.ActsOn(l.Load) && !sensed(f, l) {
			open = append(open, l.Subject())
		}
	}
	if len(open) == 0 {
		return rule.Finding{}, false
	}
	out := rule.AtMost(float64(len(open)), 0, "loads")
	out.Key, out.Subjects = string(in.ID), append([]rule.Subject{rule.IntentSubject(in)}, open...)
	out.Message = fmt.Sprintf("The %s intent acts on %s, and no presence sensor does: write ACT in the sensor's row, or name the other loads in the intent.", named(in.Kind), rule.Tags(open))
	if rest := sensedOf(f, in); len(rest) > 0 {
		out.Fix = rule.SetFields("Let the intent act on "+rule.Tags(rest)+" only", "intents/"+string(in.ID)+"/loads", ids(rest))
	}
	return out, true
}

// sensedOf gives the intent's loads that a presence sensor acts on.
func sensedOf(f *rule.Facts, in *domain.Intent) []rule.Subject {
	var rest []rule.Subject
	for i := range f.Loads {
		if l := &f.Loads[i]; in.ActsOn(l.Load) && sensed(f, l) {
			rest = append(rest, l.Subject())
		}
	}
	return rest
}

func named(k domain.IntentKind) string {
	if k == domain.ForReceptacles {
		return "receptacle"
	}
	return "presence"
}
