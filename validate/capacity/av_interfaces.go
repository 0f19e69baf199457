package capacity

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// AVInterfaces holds the AV interfaces of a room to their limit.
var AVInterfaces = rule.Rule{
	ID: "capacity-av-interfaces", Title: "Too many AV interfaces in the room", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.AVPerRoom},
	Why:     "Two presentation systems in one room recall scenes against each other.",
	Source:  commonPractice,
	Example: "1 AV interface passes at a limit of 1; a second is 1 over.",
	Check: func(f *rule.Facts) []rule.Finding {
		return overCount(f, domain.AVPerRoom, "AV interface", "Let one presentation system command the room, or split it.",
			func(d *rule.Device) bool { return d.Type != nil && d.Type.Kind == equipment.AV })
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Working(2, "av-serial") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Working(1, "av-serial") },
}
