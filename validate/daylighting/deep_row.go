package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// DeepRow holds how much of a room's depth is dimmed as one.
var DeepRow = rule.Rule{
	ID: "daylighting-deep-row", Title: "Dimmed by daylight as one over too much of the room's depth", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.DaylightRowDepth},
	Why:     "Daylight falls off steeply from the glass: what suits the first row leaves the last one dark.",
	Source:  commonPractice + ": a zone along the glass for each 3 m or so of depth",
	Example: "A load whose luminaires hang 0.8 to 3.848 m from the glass (10 ft apart) passes; 0.8 to 3.9 m does not. Of a closed-loop sensor all loads count together, of an open-loop one, which is set for each load, each for itself.",
	Check: func(f *rule.Facts) []rule.Finding {
		return faulty(f, false, func(s *rule.DaylightSensor, x *daylight.Fault) string {
			what, do := tags(f, s.Loads)+" together", "Give each row a sensor of its own."
			if x.Load != "" {
				what, do = tags(f, []domain.ID{x.Load}), "Make a load of each row along the glass."
			} else if len(s.Loads) == 1 {
				what, do = tags(f, s.Loads), "Make a load of each row along the glass."
			}
			return fmt.Sprintf("%s dims %s over %s of depth from the glass, limit %s: what suits the first row leaves the last one dark. %s", rule.Named(s.Device.Tag), what, length(f, x.Measured), exact(f, x.Limit), do)
		}, daylight.DeepRow)
	},
	Fires: func() *domaintest.Builder { return deep(3.9) },
	Quiet: func() *domaintest.Builder { return deep(3.848) },
}

// deep hangs half of L3 0.8 m from the glass and half so far from it.
func deep(meters float64) *domaintest.Builder {
	return hangAt(drawn(), "l3", geom.Pt(1.2, 4.2), geom.Pt(6.8, 4.2), geom.Pt(2.6, 5-meters), geom.Pt(5.4, 5-meters))
}
