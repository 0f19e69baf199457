package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// IntentNoInput asks for the device that an AV or contact intent listens to.
var IntentNoInput = rule.Rule{
	ID: "controls-intent-no-input", Title: "AV or contact intent without its device", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A command that nothing in the room can receive never comes: the sequence promises what cannot happen.",
	Source:  commonPractice,
	Example: "An AV intent passes in a room with an AV interface; without one it does not. A contact intent must name a contact input.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Design.Intents {
			in := &f.Design.Intents[i]
			fit, what := listener(in)
			if fit == nil {
				continue
			}
			one, n := only(f, fit)
			named := f.Device(in.Device)
			switch {
			case in.Device != "" && named == nil: // another rule's: it is gone
				continue
			case named != nil && fit(named), in.Device == "" && in.Kind == domain.ByAV && n > 0:
				continue
			}
			found := rule.Finding{Key: string(in.ID), Subjects: []rule.Subject{rule.IntentSubject(in)}}
			found.Message = fmt.Sprintf("The %s intent (%q) names no %s of this room: add one and name it in the intent.", kindWord(in.Kind), in.Command, what)
			if n == 1 {
				found.Message = fmt.Sprintf("The %s intent (%q) names no %s of this room: name %s.", kindWord(in.Kind), in.Command, what, rule.Named(one.Tag))
				found.Fix = rule.SetFields("Name "+rule.Named(one.Tag), "intents/"+string(in.ID)+"/device", string(one.ID))
			}
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Working(1, "cn-2").Do(edit.AddIntent{ID: "open", Kind: domain.ByContact}).Set("intents/open/command", "open")
	},
	Quiet: func() *domaintest.Builder {
		return domaintest.Classroom().Working(1, "av-serial").Set("intents/for-w1/device", "")
	},
}

func kindWord(k domain.IntentKind) string {
	if k == domain.ByAV {
		return "AV"
	}
	return "contact"
}

// listener gives what kind of device an intent listens to, nil where none.
func listener(in *domain.Intent) (fit func(*rule.Device) bool, what string) {
	switch in.Kind {
	case domain.ByAV:
		return func(d *rule.Device) bool { return d.Type != nil && d.Type.Kind == equipment.AV }, "AV interface"
	case domain.ByContact:
		return func(d *rule.Device) bool { return d.Traits.Inputs }, "contact input"
	}
	return nil, ""
}

// only gives the last device that fits, and how many do.
func only(f *rule.Facts, fit func(*rule.Device) bool) (last *rule.Device, n int) {
	for i := range f.Devices {
		if fit(&f.Devices[i]) {
			last, n = &f.Devices[i], n+1
		}
	}
	return last, n
}
