package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// WallLength looks for walls that are points.
var WallLength = rule.Rule{
	ID: "plan-wall-length", Title: "Wall of no length", Severity: rule.Warning, Scope: rule.OfStorey,
	Why:     "Nobody sees it on the plan, and it still counts where walls are counted: as a corner in the way or a loss on a radio path.",
	Source:  commonPractice,
	Example: "A wall of 2 mm passes; one whose ends are at the same place does not.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Plan.Walls {
			w := &f.Plan.Walls[i]
			if !w.A.Near(w.B, geom.OnEdge) {
				continue
			}
			if len(out) == mostFindings {
				break
			}
			out = append(out, rule.Finding{Key: string(f.Storey.ID) + "/" + string(w.ID), Subjects: []rule.Subject{rule.WallSubject(w)}, Places: []geom.Point{w.A},
				Message: fmt.Sprintf("Wall %d %s has no length: remove it.", w.Seq, onPlan(f))})
		}
		return out
	},
	FiresStorey: func() *rule.StoreyFacts { return storey([]domain.Wall{wallTo(0)}) },
	QuietStorey: func() *rule.StoreyFacts { return storey([]domain.Wall{wallTo(0.002)}) },
}

// wallTo gives a wall along the x axis.
func wallTo(x float64, openings ...domain.Opening) domain.Wall {
	return domain.Wall{ID: "w1", Seq: 1, B: geom.Pt(x, 0), Kind: domain.FullWall, Thickness: 0.12, Openings: openings}
}
