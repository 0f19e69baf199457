package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// WarningOnSwitched looks for warnings that no load can show.
var WarningOnSwitched = rule.Rule{
	ID: "sequence-warning-on-switched", Title: "Warning that no load can show", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A load that is only switched cannot dip: people get no warning, and the light goes out later than the delay says.",
	Source:  commonPractice,
	Example: "A warning passes where one of the intent's loads is dimmed; it does not where all are only switched.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if !warns(in) || anyTarget(f, in, (*rule.Load).Dims) {
				return rule.Finding{}, false
			}
			loads := tagsOf(f, in, func(*rule.Load) bool { return true })
			if len(loads) == 0 {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Subjects = append(out.Subjects, loads...)
			out.Message = fmt.Sprintf("The intent %s warns by a dip, and %s %s only switched: take the warning away, or make the delay longer by it.", in.Kind.Title(), rule.Tags(loads), verb(loads, "is", "are"))
			out.Fix = rule.SetFields("Take the warning away", path(in, "warning_s"), "")
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return stripRoom("1 min") },
	Quiet: func() *domaintest.Builder { return stripRoom("") },
}

// warns tells that the intent announces that loads go off.
func warns(in *domain.Intent) bool {
	return in.Warning > 0 && (in.Kind == domain.ByPresence || switchesOff(in))
}

// stripRoom gives a store room with a switched load that a wall-box switch
// carries and an occupancy sensor lights.
func stripRoom(warning string) *domaintest.Builder {
	return domaintest.Room().Load("l1", "s", 2).Device("wb", "wb-switch").Device("ps", "ps-corner").
		Set("loads/l1/circuit", "LP-1", "devices/ps/presence", "occupancy", "devices/ps/parent", "WB-1", "devices/wb/buttons/1", "On", "devices/wb/buttons/2", "Off", "facts/windows", "no").
		Carry("l1", "wb", 1).Link("wb", 1, domain.Press, "l1", "100").Link("wb", 2, domain.Press, "l1", "0").Link("ps", 0, "", "l1", "ACT").
		Do(edit.AddIntent{ID: "i1", Kind: domain.ByPresence}, edit.AddIntent{ID: "i2", Kind: domain.OnPowerBack}).Set("intents/i1/warning_s", warning, "intents/i1/fade_s", "")
}
