package sight

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// Load asks that a load which presence sensors act on hangs over floor that
// some of them see.
var Load = rule.Rule{
	ID: "sight-load", Title: "Load under which its presence sensors see nobody", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.StandingHeight},
	Why:     "Sensors that look elsewhere switch the light over people whom they do not see.",
	Source:  commonPractice,
	Example: "A load of three luminaires passes where one of them hangs over floor that a sensor which acts on it sees; it does not where none does.",
	Check: func(f *rule.Facts) []rule.Finding {
		room := f.Sight()
		if room == nil || len(f.Room.Fixtures) == 0 {
			return nil
		}
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			acting, known := actingOn(f, room, l)
			if len(acting) == 0 || !known {
				continue
			}
			places, seen := under(f, room, l, acting)
			if len(places) == 0 || seen {
				continue
			}
			one := rule.Finding{Key: string(l.ID), Subjects: []rule.Subject{l.Subject()}, Places: places}
			for _, s := range acting {
				one.Subjects = append(one.Subjects, f.Device(room.Sensors[s].ID).Subject())
			}
			one.Message = fmt.Sprintf("%s is switched by %s, which %s nobody under any of its %s on the plan: move the sensor, or let one that sees them act on the load.",
				rule.Named(l.Tag), rule.Tags(one.Subjects[1:]), sees(len(acting)), rule.Many(len(places), "luminaire"))
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return apart(3) },
	Quiet: func() *domaintest.Builder { return apart(2) },
}

func sees(n int) string {
	if n == 1 {
		return "sees"
	}
	return "see"
}

// actingOn gives the indices of the sensors that act on a load; known is false
// where one of them is not placed or what it sees is not reckoned.
func actingOn(f *rule.Facts, room *coverage.Room, l *rule.Load) (acting []int, known bool) {
	for i := range f.Links {
		k := &f.Links[i]
		if k.To != l || !k.Senses() {
			continue
		}
		at := -1
		for j := range room.Sensors {
			if room.Sensors[j].ID == k.From.ID && room.Sensors[j].Refused == nil {
				at = j
			}
		}
		if at < 0 {
			return nil, false
		}
		acting = append(acting, at)
	}
	return acting, true
}

// under gives the places of a load's luminaires in the room, and whether one of
// the sensors sees a person under any of them.
func under(f *rule.Facts, room *coverage.Room, l *rule.Load, acting []int) (places []geom.Point, seen bool) {
	for i := range f.Room.Fixtures {
		x := &f.Room.Fixtures[i]
		if x.Load != l.ID || !f.Room.Outline.Contains(x.At) {
			continue
		}
		places = append(places, x.At)
		for _, s := range acting {
			if room.Sees(s, coverage.Major, x.At) {
				return places, true
			}
		}
	}
	return places, false
}

// apart gives the example room with a second sensor that sees 1.5 m about the
// far corner and alone acts on L4, n of whose three luminaires hang elsewhere.
func apart(n int) *domaintest.Builder {
	near := wide
	near.ID, near.MajorRadius = "ps-near", 1.5
	b := example(wide)
	b.P.Book = append(b.P.Book, near)
	b = move(b.Working(1, near.ID), "w1", geom.Pt(7, 4), 0).Set("loads/l4/count", "3")
	for _, l := range []domain.ID{"l1", "l2", "l3", "r1"} {
		b.Link("w1", 0, "", l, "-")
	}
	b.Link("ps", 0, "", "l4", "-")
	b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: "l4-2", Load: "l4"})
	left := n
	for i := range b.R.Fixtures {
		x := &b.R.Fixtures[i]
		if x.Load != "l4" {
			continue
		}
		if x.At = geom.Pt(7, 4.4); left > 0 {
			x.At = geom.Pt(1.5, 4)
		}
		left--
	}
	return b
}
