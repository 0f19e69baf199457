package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ClosedGlass keeps windows out of the view of closed-loop sensors.
var ClosedGlass = rule.Rule{
	ID: "daylighting-closed-glass", Title: "Closed-loop daylight sensor has glass in its view", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.ClosedLoopView, domain.CeilingHeight},
	Why:     "Glass is many times as bright as the task: the sensor follows the sky and leaves the desk dark.",
	Source:  commonPractice + "; a sensor shielded from the window held the level best: LBNL-24872, 1989, abstract",
	Example: "A sensor at 2.7 m over a sill of 0.9 m, with a view of 60 degrees, passes 1.04 m from the glass (30.02 degrees from straight down); at 1 m (29.05 degrees) it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return faulty(f, true, func(s *rule.DaylightSensor, x *daylight.Fault) string {
			return fmt.Sprintf("%s (closed loop) sees glass from %s degrees aside of straight down, and its view reaches %s degrees: it follows the sky and not the task. Move it away from the window, or choose a type with a narrower view.", rule.Named(s.Device.Tag), rule.Number(x.Measured), rule.Number(x.Limit))
		}, daylight.GlassInView)
	},
	Fires: func() *domaintest.Builder { return closed(4, 4) },
	Quiet: func() *domaintest.Builder { return closed(4, 3.96) },
}
