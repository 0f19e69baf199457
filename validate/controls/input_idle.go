package controls

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// InputIdle asks for something that each sensor, contact input and AV
// interface acts on.
var InputIdle = rule.Rule{
	ID: "controls-input-idle", Title: "Sensor or input that acts on nothing", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A sensor that acts on nothing is bought, hung and paired for nothing, and everybody thinks that it works.",
	Source:  commonPractice,
	Example: "A presence sensor with ACT on one load passes; with - on all it does not. A contact input or AV interface also passes when an intent names it, and a contact input when it feeds a wired sensor.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Traits.Links || d.Traits.Buttons || acts(f, d) || answered(f, d) || feeds(f, d) {
				continue
			}
			name := strings.ToLower(d.Traits.Name)
			if d.Type.Kind == equipment.AV {
				name = d.Traits.Name
			}
			out = append(out, rule.Finding{Key: string(d.ID), Subjects: []rule.Subject{d.Subject()},
				Message: fmt.Sprintf("The %s %s acts on no load: write ACT in its row of the matrix where it does, or remove it.", name, rule.Named(d.Tag))})
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		b := domaintest.Classroom().Working(1, "ps-ceiling")
		for _, l := range []domain.ID{"l1", "l2", "l3", "l4", "r1"} {
			b.Link("w1", 0, "", l, "-")
		}
		return b
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Working(1, "cn-2").Working(1, "av-serial") },
}

// acts tells that the device acts on some load of the matrix.
func acts(f *rule.Facts, d *rule.Device) bool {
	for i := range f.Links {
		if k := &f.Links[i]; k.From == d && k.Does() {
			return true
		}
	}
	return false
}

// answered tells that an intent says what follows from a contact or AV command.
func answered(f *rule.Facts, d *rule.Device) bool {
	for i := range f.Design.Intents {
		in := &f.Design.Intents[i]
		if in.Kind == domain.ByContact && d.Traits.Inputs && in.Device == d.ID ||
			in.Kind == domain.ByAV && d.Type.Kind == equipment.AV && (in.Device == d.ID || in.Device == "") {
			return true
		}
	}
	return false
}

func feeds(f *rule.Facts, d *rule.Device) bool {
	if !d.Traits.Power {
		return false
	}
	for i := range f.Devices {
		if f.Devices[i].FedBy == d.ID {
			return true
		}
	}
	return false
}
