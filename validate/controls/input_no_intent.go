package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// InputNoIntent asks what follows from a contact or an AV command that acts on
// loads.
var InputNoIntent = rule.Rule{
	ID: "controls-input-no-intent", Title: "Contact or AV interface acts, but no intent says what happens", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The matrix says that the input acts; only an intent says to which scene or level, on closing or on opening.",
	Source:  commonPractice,
	Example: "An AV interface with ACT on the lighting passes with an AV intent and does not pass without.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			av := d.Type != nil && d.Type.Kind == equipment.AV
			if !av && !d.Traits.Inputs || !acts(f, d) || answered(f, d) {
				continue
			}
			kind, what := domain.ByContact, "a contact intent"
			if av {
				kind, what = domain.ByAV, "an AV intent"
			}
			id := f.FreshID("intent for " + string(d.ID))
			found := rule.Finding{Key: string(d.ID), Subjects: []rule.Subject{d.Subject()}}
			found.Message = fmt.Sprintf("%s acts on loads, and no intent names it: add %s that says to which level or scene they go.", rule.Named(d.Tag), what)
			found.Fix = &rule.Fix{Title: "Add " + what + " for " + rule.Named(d.Tag), Edits: []edit.Edit{
				edit.AddIntent{ID: id, Kind: kind}, edit.SetField{Path: "intents/" + string(id) + "/device", Text: string(d.ID)}}}
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Working(1, "av-serial").Do(edit.Remove{Part: "intents", ID: "for-w1"})
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Working(1, "av-serial") },
}
