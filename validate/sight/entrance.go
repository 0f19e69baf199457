package sight

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// Entrance asks that a person who comes in is seen a step inside of the door.
var Entrance = rule.Rule{
	ID: "sight-entrance", Title: "Entrance that no presence sensor sees", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.StandingHeight, domain.PartitionHeight},
	Why:     "Who comes in walks into the dark until a sensor sees them, and a vacancy sensor counts the time from the last motion that it saw.",
	Source:  commonPractice,
	Example: "A door passes whose inside, half a meter in, a sensor sees; it does not where a wall of 1 m beside it stands in the line of sight.",
	Check: func(f *rule.Facts) []rule.Finding {
		room := whole(f)
		if room == nil || len(room.Entrances) == 0 {
			return nil
		}
		places := unseen(room.Entrances, func(t *coverage.Target) bool { return !t.Seen() })
		if len(places) == 0 {
			return nil
		}
		out := rule.AtMost(float64(len(places)), 0, "entrances")
		out.Subjects, out.Places, out.Fix = f.PresenceSensors(), places, arrange(f, false)
		out.Message = fmt.Sprintf("%d of %s, no presence sensor sees a person half a meter inside. Move a sensor, or add one.", len(places), rule.Many(len(room.Entrances), "entrance"))
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder {
		return stand(door(example(wide), 0.1, 0.9), geom.Pt(1.2, 0), geom.Pt(1.2, 1), 0)
	},
	Quiet: func() *domaintest.Builder {
		return stand(door(example(wide), 0.1, 0.9), geom.Pt(1.2, 0), geom.Pt(1.2, 0.5), 0)
	},
}
