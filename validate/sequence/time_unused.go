package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence/prove"
	"scopewright/validate/rule"
)

// TimeUnused asks whether the times that an intent states ever run out.
var TimeUnused = rule.Rule{
	ID: "sequence-time-unused", Title: "Delay, warning or override that never runs out", Severity: rule.Info, Scope: rule.OfRoom, Deep: true,
	Why:     "The number prints, and a technician looks for something that nothing in the room can show.",
	Source:  commonPractice,
	Example: "A schedule's override of 2 h in a room without a station does not pass, as nobody can press after the off; with a station it does.",
	Check: func(f *rule.Facts) []rule.Finding {
		return proven(f, prove.NoExpiry, func(one *prove.Found) rule.Finding {
			in := &f.Design.Intents[one.Intent]
			out := of(in)
			out.Key += "." + one.Time
			out.Message = fmt.Sprintf("The %s of the intent %s never runs out with an effect, in no state that the room can come to: %s. Take it away, or mend what keeps it from acting.", one.Time, in.Kind.Title(), unusedWords[one.Time])
			return out
		})
	},
	Fires: func() *domaintest.Builder { return nightly(false) },
	Quiet: func() *domaintest.Builder { return nightly(true) },
}

var unusedWords = map[string]string{
	"delay":    "no load ever burns at more than its level of the empty room when the delay ends",
	"warning":  "no load is ever put off by it with this warning",
	"override": "nothing lights the loads after its off, or something else always puts them off first",
}

// nightly gives a room that people light by coming in and a schedule turns off.
func nightly(station bool) *domaintest.Builder {
	b := switched().Device("ps", "ps-ceiling").Set("devices/ps/presence", "occupancy").Link("ps", 0, "", "l1", "ACT").Intent("people", domain.ByPresence).
		Set("intents/people/enters", "yes", "intents/people/level", "100").Intent("clock", domain.BySchedule)
	if !station {
		b.Link("st", 1, domain.Press, "l1", "-").Link("st", 2, domain.Press, "l1", "-")
	}
	return b
}
