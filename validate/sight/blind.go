package sight

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Blind looks for sensors that see nothing of their room. One that stands in
// another room is package plan's.
var Blind = rule.Rule{
	ID: "sight-blind", Title: "Presence sensor that sees nothing of its room", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.OutsideOutline, domain.StandingHeight, domain.SeatedHeight},
	Why:     "It reports nobody, and the loads that listen to it alone never come on, or go off over people.",
	Source:  commonPractice,
	Example: "A corner sensor that faces into the room passes; turned to face the wall that it hangs on it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		room := f.Sight()
		if room == nil {
			return nil
		}
		var out []rule.Finding
		for i := range room.Sensors {
			s := &room.Sensors[i]
			if s.Refused != nil || s.Seen(coverage.Major).CountIn(room.Floor)+s.Seen(coverage.Minor).CountIn(room.Floor) > 0 || outside(f, s.Place) {
				continue
			}
			out = append(out, rule.Finding{Key: string(s.ID), Subjects: []rule.Subject{f.Device(s.ID).Subject()}, Places: []geom.Point{s.Place},
				Message: fmt.Sprintf("%s sees nothing of room %s: turn it to face the room, or move it to where it sees.", rule.Named(s.Tag), f.Room.Number)})
		}
		return out
	},
	Fires: func() *domaintest.Builder { return cornered(180) },
	Quiet: func() *domaintest.Builder { return cornered(0) },
}

func outside(f *rule.Facts, p geom.Point) bool {
	if f.Room.Outline.Contains(p) {
		return false
	}
	_, beyond := f.Room.Outline.NearestOnBoundary(p)
	return !units.AtMost(beyond, f.Limit(domain.OutsideOutline))
}

// cornered gives the example room with a second sensor on its left wall.
func cornered(turn float64) *domaintest.Builder {
	return move(example(wide).Working(1, "ps-corner"), "w1", geom.Pt(0, 2.5), turn)
}
