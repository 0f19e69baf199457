package daylighting

import (
	"fmt"

	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// OpenLamps looks for luminaires between an open-loop sensor and its glass.
var OpenLamps = rule.Rule{
	ID: "daylighting-open-lamps", Title: "Luminaires between an open-loop daylight sensor and the glass", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Their light counts as daylight: they turn themselves and all others down, at night too.",
	Source:  commonPractice + ": no lamp light in view, within 30 degrees to either side where the type states no view",
	Example: "A luminaire 31 degrees aside of the way from an open-loop sensor to the nearest glass passes; one straight between them does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return faulty(f, true, func(s *rule.DaylightSensor, x *daylight.Fault) string {
			return fmt.Sprintf("%s between %s (open loop) and the glass, where there should be 0: their light counts as daylight. Move the sensor along the window, between two luminaires.", rule.Many(int(x.Measured), "luminaire"), rule.Named(s.Device.Tag))
		}, daylight.LampsInView)
	},
	Fires: func() *domaintest.Builder { return between(0) },
	Quiet: func() *domaintest.Builder { return between(0.618) },
}

// between hangs a luminaire of L3 so far aside of the way from the sensor to the
// glass, 1.0288 m before it: tan 31 degrees of that is 0.6182 m.
func between(aside float64) *domaintest.Builder {
	b := drawn()
	return hangAt(b, "l3", geom.Pt(0.8, 4.2), geom.Pt(4+aside, 4.2), geom.Pt(5.4, 4.2), geom.Pt(7.2, 4.2))
}
