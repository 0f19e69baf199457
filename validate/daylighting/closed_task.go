package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// ClosedTask asks that a closed-loop sensor hangs above a task, where the plan shows
// where people sit.
var ClosedTask = rule.Rule{
	ID: "daylighting-closed-task", Title: "Closed-loop daylight sensor with no task beneath", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.ClosedLoopTask},
	Why:     "What the sensor holds steady is what it looks at: over an aisle that is the floor, and the desks get what they get.",
	Source:  commonPractice,
	Example: "A closed-loop sensor passes 5 ft (1.524 m) from the nearest seat, level; at 1.53 m it does not. A room without seats on the plan is not asked.",
	Check: func(f *rule.Facts) []rule.Finding {
		return faulty(f, true, func(s *rule.DaylightSensor, x *daylight.Fault) string {
			return fmt.Sprintf("%s (closed loop) is %s from the nearest seat, level, limit %s: it holds the light steady where nobody works. Move it over a typical task.", rule.Named(s.Device.Tag), length(f, x.Measured), exact(f, x.Limit))
		}, daylight.NoTask)
	},
	Fires: func() *domaintest.Builder { return seated(1.53) },
	Quiet: func() *domaintest.Builder { return seated(1.524) },
}

// seated gives a closed-loop sensor with the only seat so far from it.
func seated(meters float64) *domaintest.Builder {
	b := closed(4, 3.6)
	b.R.Sitting = []domain.Seat{{ID: "seat", At: geom.Pt(4, 3.6-meters)}}
	return b
}
