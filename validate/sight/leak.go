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

// Leak holds what each sensor sees through doors that stand open to the limit.
// Corridors and lobbies are not asked: who moves in a room beside them is about
// to come out, and keeping their light on does no harm.
var Leak = rule.Rule{
	ID: "sight-leak", Title: "Presence sensor looks out of its room", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.LeakArea},
	Why:     "Whoever passes outside turns the room's lights on, or keeps them on all day.",
	Source:  "No sensor should see through a door or gap: " + commonPractice + "; the area is a value to choose",
	Example: "In 6 by 4 m a sensor at (3, 2) of 3.845 m sees 1.289 m2 of the corridor through a door of 0.9 m and does not pass at 0.5 m2; one of 2.5 m sees 0.05 m2 and passes. A corridor or lobby is not asked what it sees of the rooms beside it.",
	Check: func(f *rule.Facts) []rule.Finding {
		room := f.Sight()
		if room == nil || f.Room.Use == "corridor" || f.Room.Use == "lobby" {
			return nil
		}
		var out []rule.Finding
		limit, leaks := f.Limit(domain.LeakArea), room.Leaks()
		for i := range room.Sensors {
			s := &room.Sensors[i]
			sum, places, doors := leaksOf(leaks, i)
			if units.AtMost(sum, limit) {
				continue
			}
			one := rule.AtMost(sum, limit, "m2")
			one.Key, one.Places, one.Subjects, one.Fix = string(s.ID), places, []rule.Subject{f.Device(s.ID).Subject()}, arrange(f, true)
			one.Message = fmt.Sprintf("%s sees %s of floor outside of room %s through %s, limit %s. Move it away from the door or behind a corner, mask its lens on that side, or take a type that sees less far.",
				rule.Named(s.Tag), area(f, sum), f.Room.Number, doors, area(f, limit))
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return smallRoom(3.845) },
	Quiet: func() *domaintest.Builder { return smallRoom(2.5) },
}

// leaksOf sums up what one sensor sees outside, and names the ways.
func leaksOf(leaks []coverage.Leak, sensor int) (sum float64, places []geom.Point, ways string) {
	doors, gaps := 0, 0
	for i := range leaks {
		l := &leaks[i]
		if l.Sensor != sensor {
			continue
		}
		sum += l.Area
		places = append(places, l.At)
		if l.Door {
			doors++
		} else {
			gaps++
		}
	}
	switch {
	case gaps == 0:
		ways = rule.Many(doors, "open door")
	case doors == 0:
		ways = rule.Many(gaps, "gap")
	default:
		ways = rule.Many(doors, "open door") + " and " + rule.Many(gaps, "gap")
	}
	return sum, places, ways
}

// smallRoom gives the example room at 6 by 4 m with a door of 0.9 m and a
// corridor of 2 m behind it.
func smallRoom(radius float64) *domaintest.Builder {
	t := wide
	t.MajorRadius = metres(radius)
	b := example(t)
	b.R.Outline, b.R.Room.Area = geom.Rectangle(0, 0, 6, 4), 24
	for i := range b.P.Limits {
		if b.P.Limits[i].ID == domain.CoveredShare {
			b.P.Limits[i].Value = 70
		}
	}
	for i, a := range b.R.Outline.Outer {
		b.R.Plan.Walls[i].A, b.R.Plan.Walls[i].B = a, b.R.Outline.Outer[(i+1)%4]
	}
	for i := range b.R.Sitting {
		b.R.Sitting[i].At = geom.Pt(2+float64(i%3), 1.5+float64(i/3))
	}
	for i := range b.R.Fixtures {
		b.R.Fixtures[i].At.Y *= 0.75
	}
	b = stand(door(b, 4, 0.9), geom.Pt(0, -2), geom.Pt(6, -2), 0)
	at := geom.Pt(5.5, 1)
	b.R.Design.Devices[len(b.R.Design.Devices)-1].At = &at
	return move(b, "ps", geom.Pt(3, 2), 0)
}
