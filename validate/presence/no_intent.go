package presence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// NoIntent asks for an intent wherever a presence sensor acts on a load.
var NoIntent = rule.Rule{
	ID: "presence-no-intent", Title: "Presence sensor acts, but no intent says what happens", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The sensor reports and nobody has said what the load does then: the installer guesses a delay and a level.",
	Source:  commonPractice,
	Example: "A sensor that acts on four lighting loads needs a presence intent for all four, and a receptacle intent for the receptacles that it acts on.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for _, c := range []struct {
			loads  domain.LoadKind
			intent domain.IntentKind
			named  string
		}{{domain.Lighting, domain.ByPresence, "presence"}, {domain.Receptacle, domain.ForReceptacles, "receptacle"}} {
			if open := withoutIntent(f, c.loads, c.intent); len(open) > 0 {
				out = append(out, missingIntent(f, open, c.intent, c.named))
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Do(edit.Remove{Part: "intents", ID: "i2"})
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

// withoutIntent gives the loads of a kind that a sensor acts on and no intent does.
func withoutIntent(f *rule.Facts, kind domain.LoadKind, by domain.IntentKind) []rule.Subject {
	var open []rule.Subject
	for i := range f.Loads {
		if l := &f.Loads[i]; l.Kind == kind && sensed(f, l) && !acted(f, l, by) {
			open = append(open, l.Subject())
		}
	}
	return open
}

func sensed(f *rule.Facts, l *rule.Load) bool {
	for i := range f.Links {
		if k := &f.Links[i]; k.To == l && k.Senses() {
			return true
		}
	}
	return false
}

func acted(f *rule.Facts, l *rule.Load, by domain.IntentKind) bool {
	for i := range f.Design.Intents {
		if in := &f.Design.Intents[i]; in.Kind == by && in.ActsOn(l.Load) {
			return true
		}
	}
	return false
}

func missingIntent(f *rule.Facts, open []rule.Subject, kind domain.IntentKind, named string) rule.Finding {
	out := rule.AtMost(float64(len(open)), 0, "loads")
	out.Key, out.Subjects = named, open
	out.Message = fmt.Sprintf("A presence sensor acts on %s, and no %s intent does: add one, or write - where the sensor does nothing.", rule.Tags(open), named)
	for i := range f.Design.Intents {
		if f.Design.Intents[i].Kind == kind {
			return out // one is there: which loads it should have is the designer's to say
		}
	}
	id := f.FreshID(named + " intent")
	out.Fix = &rule.Fix{Title: "Add a " + named + " intent for them", Edits: []edit.Edit{edit.AddIntent{ID: id, Kind: kind}}}
	if every := all(f, open); !every {
		out.Fix.Edits = append(out.Fix.Edits, edit.SetField{Path: "intents/" + string(id) + "/loads", Text: ids(open)})
	}
	return out
}

// all tells whether open are all loads of their kind.
func all(f *rule.Facts, open []rule.Subject) bool {
	n, kind := 0, f.Load(open[0].ID).Kind
	for i := range f.Loads {
		if f.Loads[i].Kind == kind {
			n++
		}
	}
	return n == len(open)
}

func ids(subjects []rule.Subject) string {
	text := ""
	for _, s := range subjects {
		text += string(s.ID) + ","
	}
	return text
}
