package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// SilentSensor asks what a dead sensor battery does where nothing else lights.
var SilentSensor = rule.Rule{
	ID: "sequence-silent-sensor", Title: "Not said what a dead sensor battery does", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "Where only battery sensors light a room, a dead battery leaves people in the dark, with nothing to press.",
	Source:  commonPractice,
	Example: "Light that only a battery occupancy sensor brings passes where the intent counts a sensor as occupied that has been silent for 24 h, and where a button lights it too; else it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if in.Kind != domain.ByPresence || in.Watchdog > 0 || !in.Enters || in.OffLevel > 0 {
				return rule.Finding{}, false
			}
			dark := tagsOf(f, in, func(l *rule.Load) bool { return onlyBatterySensors(f, l) && !lit(f, l) })
			if len(dark) == 0 {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Subjects = append(out.Subjects, dark...)
			out.Message = fmt.Sprintf("Only battery sensors light %s, and nothing says what happens when their batteries are dead: state after what time a silent sensor counts as occupied, for example 24 h, or add a station.", rule.Tags(dark))
			out.Fix = rule.SetFields("Count it as occupied after 24 h", path(in, "watchdog_s"), "24 h")
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return restroom("") },
	Quiet: func() *domaintest.Builder { return restroom("24 h") },
}

// onlyBatterySensors tells that sensors act on the load and all run on batteries.
func onlyBatterySensors(f *rule.Facts, l *rule.Load) bool {
	return senses(f, l, domain.Occupancy) && !anyLink(f, func(k *rule.Link) bool { return k.To == l && k.Senses() && !k.From.Battery() })
}

// restroom gives a room that is lit on entry and has nothing to press.
func restroom(watchdog string) *domaintest.Builder {
	return domaintest.Room().Load("l1", "a", 4).Device("lc", "lc-1").Device("ps", "ps-ceiling").
		Set("loads/l1/circuit", "LP-1", "devices/ps/presence", "occupancy", "devices/ps/parent", "LC-1", "facts/windows", "no").
		Carry("l1", "lc", 1).Link("ps", 0, "", "l1", "ACT").
		Do(edit.AddIntent{ID: "i1", Kind: domain.ByPresence}, edit.AddIntent{ID: "i2", Kind: domain.OnPowerBack}).Set("intents/i1/watchdog_s", watchdog)
}
