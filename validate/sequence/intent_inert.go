package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// IntentInert asks whether an intent ever does anything.
var IntentInert = rule.Rule{
	ID: "sequence-intent-inert", Title: "Intent that never acts", Severity: rule.Warning, Scope: rule.OfRoom, Deep: true,
	Why:     "It prints, it is built and tested, and nothing that can happen in the room makes it act.",
	Source:  commonPractice,
	Example: "An AV command that counts only while the room is occupied, in a room without sensors, does not pass.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.Idle, func(one *prove.Found) rule.Finding {
			out := of(&f.Design.Intents[one.Intent])
			out.Message = fmt.Sprintf("The intent %s never acts, in no state that the room can come to: its event cannot come, its condition never holds, or something of higher rank always wins. Mend that or take it away.", out.Subjects[0].Tag)
			return out
		})
	},
	Fires: func() *domaintest.Builder { return asked(switched()) },
	Quiet: func() *domaintest.Builder {
		return asked(switched().Device("ps", "ps-ceiling").Set("devices/ps/presence", "occupancy").Link("ps", 0, "", "l1", "ACT").Intent("people", domain.ByPresence))
	},
}
