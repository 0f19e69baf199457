package capacity

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// Devices holds the devices of a room to its limit.
var Devices = rule.Rule{
	ID: "capacity-devices", Title: "Too many devices in the room", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.DevicesPerRoom},
	Why:     "Devices beyond the room's table of members do not join, or join and drop out later.",
	Source:  commonPractice,
	Example: "32 devices of all kinds pass at a limit of 32; with 33 the room is 1 over.",
	Check: func(f *rule.Facts) []rule.Finding {
		return overCount(f, domain.DevicesPerRoom, "device", "Divide the room into areas that fit, on its storey's plan, or use controllers with more outputs.", func(*rule.Device) bool { return true })
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Devices(27, "rt-plug") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Devices(26, "rt-plug") },
}
