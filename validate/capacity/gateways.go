package capacity

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// Gateways holds the gateways of a room to their limit.
var Gateways = rule.Rule{
	ID: "capacity-gateways", Title: "Too many gateways in the room", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.GatewaysPerRoom},
	Why:     "A room has one link to the building network; two report the same devices twice and answer each other.",
	Source:  commonPractice,
	Example: "1 gateway passes at a limit of 1; a second is 1 over.",
	Check: func(f *rule.Facts) []rule.Finding {
		return overCount(f, domain.GatewaysPerRoom, "gateway", "Remove one; a router is enough where radio reach is short.",
			func(d *rule.Device) bool { return d.Type != nil && d.Type.Kind == equipment.Gateway })
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Device("gw2", "gw-room") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}
