package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// PowerBack asks what each controlled lighting load does when power comes back.
var PowerBack = rule.Rule{
	ID: "controls-power-back", Title: "Not said what happens when power comes back", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "After an outage at night a whole building lights up, or stays dark over people, as the equipment happens to be set.",
	Source:  commonPractice,
	Example: "A power-back intent for all lighting loads passes; without one, each lighting load on a controller is open.",
	Check: func(f *rule.Facts) []rule.Finding {
		some := false
		for i := range f.Design.Intents {
			some = some || f.Design.Intents[i].Kind == domain.OnPowerBack
		}
		var open []rule.Subject
		for i := range f.Loads {
			if l := &f.Loads[i]; l.Kind == domain.Lighting && l.Carrier != nil && !(some && comesBack(f, l)) {
				open = append(open, l.Subject())
			}
		}
		if len(open) == 0 {
			return nil
		}
		out := rule.AtMost(float64(len(open)), 0, "loads")
		out.Subjects = open
		out.Message = fmt.Sprintf("Not said what %s do when power comes back: add a power-back intent.", rule.Tags(open))
		if len(open) == 1 {
			out.Message = fmt.Sprintf("Not said what %s does when power comes back: add a power-back intent.", rule.Tags(open))
		}
		id := f.FreshID("power-back intent")
		out.Fix = &rule.Fix{Title: "Let them come back to the level they had", Edits: []edit.Edit{edit.AddIntent{ID: id, Kind: domain.OnPowerBack}}}
		if some {
			text := ""
			for _, s := range open {
				text += string(s.ID) + ","
			}
			out.Fix.Edits = append(out.Fix.Edits, edit.SetField{Path: "intents/" + string(id) + "/loads", Text: text})
		}
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Do(edit.Remove{Part: "intents", ID: "i5"}) },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

func comesBack(f *rule.Facts, l *rule.Load) bool {
	for i := range f.Design.Intents {
		if in := &f.Design.Intents[i]; in.Kind == domain.OnPowerBack && in.ActsOn(l.Load) {
			return true
		}
	}
	return false
}
