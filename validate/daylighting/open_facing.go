package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// OpenFacing holds the way that an open-loop sensor faces to the glass.
var OpenFacing = rule.Rule{
	ID: "daylighting-open-facing", Title: "Open-loop daylight sensor does not face the glass", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.OpenLoopAside},
	Why:     "A sensor that looks into the room reads its lamps: they turn themselves down.",
	Source:  commonPractice,
	Example: "An open-loop sensor turned 45 degrees aside of the nearest glass passes, at 46 degrees it does not. One without a turn is not asked: its plan does not say where it faces.",
	Check: func(f *rule.Facts) []rule.Finding {
		out := faulty(f, true, func(s *rule.DaylightSensor, x *daylight.Fault) string {
			return fmt.Sprintf("%s (open loop) faces %s degrees aside of the nearest glass, limit %s degrees: turn it to the window.", rule.Named(s.Device.Tag), rule.Number(x.Measured), rule.Number(x.Limit))
		}, daylight.FacesAway)
		for i := range out {
			out[i].Fix.Title = fmt.Sprintf("Turn %s to the glass, or move it where that is not enough", rule.Named(out[i].Subjects[0].Tag))
		}
		return out
	},
	Fires: func() *domaintest.Builder { return facing(136) },
	Quiet: func() *domaintest.Builder { return facing(135) },
}

// facing turns the example's sensor; its glass lies at 90 degrees.
func facing(turn float64) *domaintest.Builder {
	b := drawn()
	b.R.Design.Device("ds").Turn = turn
	b.R.Room.Design = b.R.Design
	return b
}
