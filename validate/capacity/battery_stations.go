package capacity

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// BatteryStations holds the battery wall stations of a room to their limit.
var BatteryStations = rule.Rule{
	ID: "capacity-battery-stations", Title: "Too many battery wall stations", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.BatteryStations},
	Why:     "Each battery station asks its router for messages; too many fill the room's radio time and answer late.",
	Source:  commonPractice,
	Example: "8 battery stations pass at a limit of 8; a ninth is 1 over. Mains stations do not count.",
	Check: func(f *rule.Facts) []rule.Finding {
		return overCount(f, domain.BatteryStations, "battery wall station", "Use mains stations, or fewer with more buttons.",
			func(d *rule.Device) bool { return d.Station() && d.Battery() })
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Working(9, "st-4-battery") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Working(8, "st-4-battery") },
}
