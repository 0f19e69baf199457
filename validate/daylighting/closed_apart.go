package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ClosedApart asks that a closed-loop sensor hangs over the loads that it dims.
var ClosedApart = rule.Rule{
	ID: "daylighting-closed-apart", Title: "Closed-loop daylight sensor not above its zone", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.ClosedLoopTask},
	Why:     "A closed loop must see the light that it changes, or it runs to one end: all on, or all down.",
	Source:  commonPractice,
	Example: "A closed-loop sensor passes 5 ft (1.524 m) from the rectangle that the luminaires of its loads span; at 1.53 m it does not. Loads without luminaires on the plan are not asked.",
	Check: func(f *rule.Facts) []rule.Finding {
		return faulty(f, true, func(s *rule.DaylightSensor, x *daylight.Fault) string {
			return fmt.Sprintf("%s (closed loop) is %s from the luminaires of %s, limit %s: it does not see the light that it changes. Move it over them, or let it act on the loads beneath it.", rule.Named(s.Device.Tag), length(f, x.Measured), tags(f, s.Loads), exact(f, x.Limit))
		}, daylight.ApartZone)
	},
	Fires: func() *domaintest.Builder { return closed(4, 4.2-1.53) },
	Quiet: func() *domaintest.Builder { return closed(4, 4.2-1.524) },
}
