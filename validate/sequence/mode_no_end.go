// Package sequence judges what the intents say together: times, modes,
// conditions and what ends what they begin. It is one of the families of rules
// under validate, and looks at what needs no running of the sequence.
package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ModeNoEnd asks what ends a mode that a command, a contact or a schedule sets.
var ModeNoEnd = rule.Rule{
	ID: "sequence-mode-no-end", Title: "Mode that nothing ends", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A room that went into cleaning or event mode on Friday is still in it on Monday, and nobody knows why its sensors do nothing.",
	Source:  commonPractice,
	Example: "An AV command that sets mode event for at most 4 h passes, as does one without a limit where the calendar or another intent sets another mode; alone and without a limit it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			mode := into(in)
			if in.Do != domain.SetMode || mode == domain.NormalMode || in.Hold > 0 && in.Kind != domain.BySchedule || modeEnds(f, mode) {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Message = fmt.Sprintf("The intent %s sets mode %s, and nothing ends it: state for how long it holds, or let the calendar or another intent set another mode.", in.Kind.Title(), mode)
			if in.Kind != domain.BySchedule {
				out.Fix = rule.SetFields("Let it end after 2 h", path(in, "hold_s"), "2 h")
			}
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return eventByCommand("") },
	Quiet: func() *domaintest.Builder { return eventByCommand("4 h") },
}

func modeEnds(f *rule.Facts, mode domain.Mode) bool {
	return calendarHas(f.Project, func(m domain.Mode) bool { return m != mode }) || anyIntent(f, func(in *domain.Intent) bool {
		return in.Do == domain.SetMode && into(in) != mode || in.Kind == domain.OnMode && into(in) == mode && in.Hold > 0
	})
}

// eventByCommand gives a classroom that an AV command puts into mode event.
func eventByCommand(hold string) *domaintest.Builder {
	return domaintest.Classroom().Working(1, "av-serial").Set("intents/for-w1/do", "mode", "intents/for-w1/mode", "event", "intents/for-w1/hold_s", hold)
}
