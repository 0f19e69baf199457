package sight

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// Seat asks that at each seat some sensor notices a person who sits still but
// for the hands. Where none would notice even one who walks, it is an error.
var Seat = rule.Rule{
	ID: "sight-seat", Title: "Seat that no presence sensor sees", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.SeatedHeight, domain.StandingHeight, domain.PartitionHeight},
	Why:     "People who sit and work move little: where no sensor notices that, the lights go off over their heads.",
	Source:  commonPractice + "; small motion is that of the arm of NEMA WD 7 (from memory)",
	Example: "A sensor at 2.7 m sees a seated head at 1.1 m from 1 m behind a partition of 1.5 m that stands 3 m from it: a seat 1.01 m behind it passes, one 0.99 m behind it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		room := whole(f)
		if room == nil || len(room.Seats) == 0 {
			return nil
		}
		var out []rule.Finding
		n := rule.Many(len(room.Seats), "seat")
		if places := unseen(room.Seats, func(t *coverage.Target) bool { return !t.Seen() && len(t.Walk) == 0 }); len(places) > 0 {
			one := seats(f, places, "none")
			one.Severity = rule.Error
			one.Message = fmt.Sprintf("%d of %s: no presence sensor sees them, not even a person who walks there. Move a sensor, or add one.", len(places), n)
			out = append(out, one)
		}
		if places := unseen(room.Seats, func(t *coverage.Target) bool { return !t.Seen() && len(t.Walk) > 0 }); len(places) > 0 {
			one := seats(f, places, "small motion")
			one.Message = fmt.Sprintf("%d of %s: people who sit and work there are not seen (at %s above the floor), only those who walk. Move a sensor nearer, add one, or take a type that notices small motion farther away.",
				len(places), n, length(f, room.Seated))
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return behindPartition(0.99) },
	Quiet: func() *domaintest.Builder { return behindPartition(1.01) },
}

func seats(f *rule.Facts, places []geom.Point, key string) rule.Finding {
	out := rule.AtMost(float64(len(places)), 0, "seats")
	out.Key, out.Subjects, out.Places, out.Fix = key, f.PresenceSensors(), places, arrange(f, false)
	return out
}

// behindPartition gives the example room with a partition of 1.5 m that stands
// 3 m from its sensor, and a seat some meters behind it.
func behindPartition(meters float64) *domaintest.Builder {
	b := stand(example(wide), geom.Pt(6.8, 2.3), geom.Pt(6.8, 2.7), 1.5)
	b.R.Sitting = []domain.Seat{{ID: "seat1", At: geom.Pt(6.8+meters, 2.5)}}
	return move(b, "ps", geom.Pt(3.8, 2.5), 0)
}
