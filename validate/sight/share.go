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

// Share holds the part of the floor on which a person who walks is seen to the
// share that is asked for.
var Share = rule.Rule{
	ID: "sight-share", Title: "Floor that no presence sensor sees", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.CoveredShare, domain.StandingHeight, domain.SightCell, domain.PartitionHeight},
	Why:     "On floor that no sensor sees people stand in the dark, or the lights go off while somebody is there.",
	Source:  "95 %: " + commonPractice + "; the floor is counted in cells, at 0.25 m about 1 % of a room off",
	Example: "One sensor of 3.845 m in the middle of 9 by 7.5 m sees 68 % of it and does not pass at a limit of 95 %; one of 6 m sees all of it and passes.",
	Check: func(f *rule.Facts) []rule.Finding {
		room := whole(f)
		if room == nil {
			return nil
		}
		share, limit := 100*room.Share(coverage.Major), f.Limit(domain.CoveredShare)
		if units.AtMost(limit, share) {
			return nil
		}
		out := rule.AtLeast(share, limit, "%")
		out.Subjects, out.Fix = f.PresenceSensors(), arrange(f, false)
		missed := room.Area(room.Floor) - room.Area(room.Seen(coverage.Major))
		out.Message = fmt.Sprintf("%s %s %s %% of the floor, limit %s %%: nobody who walks on the other %s is seen (cells of %s). Move a sensor, add one, or take a type that sees farther.",
			rule.Tags(out.Subjects), sees(len(out.Subjects)), rule.Number(share), rule.Number(limit), area(f, missed), length(f, room.Grid.Step))
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return largeRoom(3.845) },
	Quiet: func() *domaintest.Builder { return largeRoom(6) },
}

// largeRoom gives the example room at 9 by 7.5 m with a sensor of a radius in its
// middle and seats around it.
func largeRoom(radius float64) *domaintest.Builder {
	t := wide
	t.MajorRadius = metres(radius)
	b := example(t)
	b.R.Outline, b.R.Room.Area = geom.Rectangle(0, 0, 9, 7.5), 67.5
	for i, a := range b.R.Outline.Outer {
		b.R.Plan.Walls[i].A, b.R.Plan.Walls[i].B = a, b.R.Outline.Outer[(i+1)%4]
	}
	return move(b, "ps", geom.Pt(4.5, 3.75), 0)
}

func metres(v float64) units.Metres { return units.Metres(v) }
