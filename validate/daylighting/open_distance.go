package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// OpenDistance holds an open-loop sensor to its band of distances from the glass.
var OpenDistance = rule.Rule{
	ID: "daylighting-open-distance", Title: "Open-loop daylight sensor too near to the glass, or too far", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.OpenLoopNearest, domain.OpenLoopFarthest},
	Why:     "Right at the glass the sensor sees patches of sun that the room does not have; deep in the room it sees little of the sky and much of the lamps.",
	Source:  commonPractice + ": about 6 ft (1.8 m)",
	Example: "An open-loop sensor passes 4 ft and 8 ft from the nearest glass that it sees; at 3.9 ft and at 8.1 ft it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return faulty(f, true, func(s *rule.DaylightSensor, x *daylight.Fault) string {
			if x.Kind == daylight.TooNear {
				return fmt.Sprintf("%s (open loop) is %s from the glass, at least %s: there it sees patches of sun that the room does not have. Move it into the room.", rule.Named(s.Device.Tag), length(f, x.Measured), exact(f, x.Limit))
			}
			return fmt.Sprintf("%s (open loop) is %s from the nearest glass that it sees, limit %s: there it sees little of the sky. Move it nearer, or set it to closed loop where it hangs over a task.", rule.Named(s.Device.Tag), length(f, x.Measured), exact(f, x.Limit))
		}, daylight.TooNear, daylight.TooFar)
	},
	Fires: func() *domaintest.Builder { return fromGlass(2.47) },
	Quiet: func() *domaintest.Builder { return fromGlass(2.4384) },
}
