package plan

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Area holds a room's stated area to its outline.
var Area = rule.Rule{
	ID: "plan-area", Title: "Stated area that differs from the outline", Severity: rule.Info, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.AreaOff},
	Why:     "Coverage, power densities and counts go by the stated area; the outline says how large the room is drawn.",
	Source:  "2 %, " + commonPractice,
	Example: "An outline of 40 m2 passes with a stated area of 40.8 m2 (2 % more), and does not with 41 m2.",
	Check: func(f *rule.Facts) []rule.Finding {
		measured, stated, limit := float64(f.Room.Measured()), float64(f.Room.Area), f.Limit(domain.AreaOff)
		if !f.Drawn() || measured <= 0 || stated <= 0 {
			return nil
		}
		off := 100 * math.Abs(stated-measured) / measured
		if units.AtMost(off, limit) {
			return nil
		}
		sys := f.Project.Units
		out := rule.AtMost(off, limit, "%")
		out.Subjects = []rule.Subject{{Part: "facts", ID: "area_m2", Tag: "Area"}}
		shown := units.Area(units.SquareMetres(measured), sys)
		out.Message = fmt.Sprintf("The stated area is %s and the outline has %s: %s %% apart, limit %s %%. Take the outline's area, or redraw the room.",
			units.Area(units.SquareMetres(stated), sys), shown, units.Trim(off, 1), rule.Number(limit))
		if exact, ok := typed(measured, limit, sys); ok {
			out.Fix = rule.SetFields("Take the outline's area, "+shown, "facts/area_m2", exact)
		}
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return stating(41) },
	Quiet: func() *domaintest.Builder { return stating(40.8) },
}

// largest is the largest area that a room can be given, in square meters.
const largest = 100000

// typed gives an area as a person would type it, where that is near enough and
// the field takes it.
func typed(a, limit float64, sys units.System) (string, bool) {
	decimals := 3
	if sys == units.US {
		decimals = 2
	}
	text := units.AreaTo(units.SquareMetres(a), decimals, sys)
	back, err := units.ParseArea(text, sys)
	return text, err == nil && back > 0 && back <= largest && 100*math.Abs(float64(back)-a)/a < limit/2
}

func stating(area units.SquareMetres) *domaintest.Builder {
	b := drawn()
	b.R.Area = area
	return b
}
