package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// ButtonSame asks whether two buttons of a station with different cells always do the same.
var ButtonSame = rule.Rule{
	ID: "sequence-button-same", Title: "Buttons that always do the same", Severity: rule.Warning, Scope: rule.OfRoom, Deep: true,
	Why:     "One of them is engraved for nothing, and people learn that labels mean little.",
	Source:  commonPractice,
	Example: "Two buttons for 5 % and 10 % of a driver that goes down to 10 % only do not pass; for 10 % and 11 % they do.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.Twins, func(one *prove.Found) rule.Finding {
			out := pressed(f, one)
			out.Message = fmt.Sprintf("Buttons %s and %s of %s do the same in every state that the room can come to, though their cells differ: see the lowest levels that the drivers dim to.", f.Design.Devices[one.Device].ButtonName(one.Other), f.Design.Devices[one.Device].ButtonName(one.Button), out.Subjects[0].Tag)
			return out
		})
	},
	Fires: func() *domaintest.Builder {
		return switched().Link("st", 3, domain.Press, "l1", "5").Link("st", 4, domain.Press, "l1", "10")
	},
	Quiet: func() *domaintest.Builder {
		return switched().Link("st", 3, domain.Press, "l1", "11").Link("st", 4, domain.Press, "l1", "10")
	},
}
