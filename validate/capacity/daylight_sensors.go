package capacity

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// DaylightSensors holds the open-loop daylight sensors of a room to their limit.
var DaylightSensors = rule.Rule{
	ID: "capacity-daylight-sensors", Title: "Too many open-loop daylight sensors", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.DaylightPerRoom},
	Why:     "An open-loop sensor speaks for the whole room; a second one contradicts it and the lights hunt.",
	Source:  commonPractice,
	Example: "1 open-loop sensor passes at a limit of 1; a second is 1 over. Closed-loop sensors do not count.",
	Check: func(f *rule.Facts) []rule.Finding {
		return overCount(f, domain.DaylightPerRoom, "open-loop daylight sensor", "Keep one, or set the others to closed loop where they look at a task.",
			func(d *rule.Device) bool { return d.Traits.Daylight && d.Loop != domain.ClosedLoop })
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Working(1, "ds-open") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}
