package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// NoGlass asks that an open-loop sensor sees a window. Under rooflights it may look
// at those, of which this says nothing.
var NoGlass = rule.Rule{
	ID: "daylighting-no-glass", Title: "Open-loop daylight sensor sees no window", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Behind a wall or an inner corner the sensor reads what little daylight the room reflects, and the lamps.",
	Source:  commonPractice,
	Example: "A partition of 1.5 m between sensor and glass passes; a wall up to the ceiling before the nearest glass of every window does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		if room := f.Daylight(); room != nil && len(room.Space.Rooflights) > 0 {
			return nil
		}
		return faulty(f, true, func(s *rule.DaylightSensor, x *daylight.Fault) string {
			return fmt.Sprintf("%s (open loop) sees 0 windows of room %s, at least 1: walls or corners stand between. Move it before a window.", rule.Named(s.Device.Tag), f.Room.Number)
		}, daylight.NoGlass)
	},
	Fires: func() *domaintest.Builder { return screened(domain.FullWall, 0) },
	Quiet: func() *domaintest.Builder { return screened(domain.Partition, 1.5) },
}

// screened puts a wall of 1 m between the example's sensor and the glass.
func screened(kind domain.WallKind, height units.Metres) *domaintest.Builder {
	b := drawn()
	b.R.Plan.Walls = append(b.R.Plan.Walls, domain.Wall{ID: "screen", Seq: 9, A: geom.Pt(3.5, 4.4), B: geom.Pt(4.5, 4.4), Kind: kind, Height: height, Thickness: 0.1})
	return b
}
