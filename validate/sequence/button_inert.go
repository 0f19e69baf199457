package sequence

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// ButtonInert asks whether a button with cells ever changes a load.
var ButtonInert = rule.Rule{
	ID: "sequence-button-inert", Title: "Button that never has an effect", Severity: rule.Warning, Scope: rule.OfRoom, Deep: true,
	Why:     "People press it, nothing happens, and they call for service.",
	Source:  commonPractice,
	Example: "A button whose loads listen to a person only while the room is occupied, in a room without sensors, does not pass.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.ButtonBut, func(one *prove.Found) rule.Finding {
			out := pressed(f, one)
			out.Message = fmt.Sprintf("Button %s of %s never changes a load, in no state that the room can come to: see the conditions of the by hand intent and the cells of the matrix.", f.Design.Devices[one.Device].ButtonName(one.Button), out.Subjects[0].Tag)
			return out
		})
	},
	Fires: func() *domaintest.Builder { return switched().Set("intents/hand/people", "occupied") },
	Quiet: func() *domaintest.Builder { return switched().Set("intents/hand/people", "vacant") },
}
