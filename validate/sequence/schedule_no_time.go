package sequence

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// ScheduleNoTime asks when a schedule acts.
var ScheduleNoTime = rule.Rule{
	ID: "sequence-schedule-no-time", Title: "Schedule without a time", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A schedule that names no time, or turns on and off at the same minute, leaves the hour to whoever commissions it.",
	Source:  commonPractice,
	Example: "On at 21:59 and off at 22:00 passes; on and off at 22:00 does not, nor does no time at all. One that sets a mode needs its first time.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if in.Kind != domain.BySchedule {
				return rule.Finding{}, false
			}
			out := of(in)
			switch {
			case in.Do == domain.SetMode && in.OnAt == "":
				out.Message = "The schedule sets a mode and names no time at which it does: state it."
			case in.OnAt == "" && in.OffAt == "":
				out.Message = "The schedule names no time, neither on nor off: state one, or remove it."
			case in.Do != domain.SetMode && in.OnAt == in.OffAt:
				out.Message = "The schedule turns on and off at " + in.OnAt + ", the same minute: state two times."
			default:
				return rule.Finding{}, false
			}
			return out, true
		})
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule}).Set("intents/clock/off_at", "")
	},
	Quiet: func() *domaintest.Builder { return mornings("0") },
}
