package capacity

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// PresenceSensors holds the presence sensors of a room to their limit.
var PresenceSensors = rule.Rule{
	ID: "capacity-presence-sensors", Title: "Too many presence sensors", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.PresencePerRoom},
	Why:     "The room counts as vacant only when every sensor says so; reports of sensors beyond the limit are not kept.",
	Source:  commonPractice,
	Example: "8 presence sensors pass at a limit of 8; a ninth is 1 over.",
	Check: func(f *rule.Facts) []rule.Finding {
		return overCount(f, domain.PresencePerRoom, "presence sensor", "Use sensors that cover more, or split the room.",
			func(d *rule.Device) bool { return d.Traits.Presence })
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Working(8, "ps-ceiling") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Working(7, "ps-ceiling") },
}
