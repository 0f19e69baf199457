package presence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Area holds the floor area to what the room's presence sensors cover. It does
// not look at where they hang or at what stands between: where the plan says
// that of all of them, package sight judges the room instead.
var Area = rule.Rule{
	ID: "presence-area", Title: "Room too large for its presence sensors", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.AreaPerPresenceSensor},
	Why:     "Where no sensor sees them, people who sit still are left in the dark.",
	Source:  "500 sq ft (46.45 m2) for each sensor, " + commonPractice,
	Example: "500 sq ft with one small ceiling sensor pass, 501 sq ft do not; two sensors are good for 1000 sq ft. A type that states its own coverage counts with that.",
	Check: func(f *rule.Facts) []rule.Finding {
		n, covered, each := 0, 0.0, f.Limit(domain.AreaPerPresenceSensor)
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Traits.Presence {
				continue
			}
			n++
			if d.Type.Coverage > 0 {
				covered += float64(d.Type.Coverage)
			} else {
				covered += each
			}
		}
		area := float64(f.Room.Area)
		if n == 0 || area == 0 || units.AtMost(area, covered) {
			return nil
		}
		if seen := f.Sight(); seen != nil && seen.Whole() {
			return nil
		}
		out := rule.AtMost(area/float64(n), covered/float64(n), "m2")
		out.Subjects = f.PresenceSensors()
		have, most := areas(out.Measured, out.Limit, f.Project.Units)
		out.Message = fmt.Sprintf("%s for %s, limit %s: %s in all. Add a sensor, or use a type that covers more.", have, sensorCount(n), most, over(area-covered, f.Project.Units))
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("facts/area_m2", "501 ft2") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("facts/area_m2", "500 ft2") },
}

func sensorCount(n int) string {
	if n == 1 {
		return "the one presence sensor"
	}
	return fmt.Sprintf("each of %d presence sensors", n)
}

// areas prints two areas with decimals where whole units would hide the
// difference between them.
func areas(a, b float64, sys units.System) (string, string) {
	x, y := units.Area(units.SquareMetres(a), sys), units.Area(units.SquareMetres(b), sys)
	if x != y {
		return x, y
	}
	return units.AreaTo(units.SquareMetres(a), 3, sys), units.AreaTo(units.SquareMetres(b), 3, sys)
}

func over(a float64, sys units.System) string {
	text, _ := areas(a, 0, sys)
	return text + " over"
}
