package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Opening looks for windows and doors that their wall has no place for.
var Opening = rule.Rule{
	ID: "plan-opening", Title: "Window or door that does not fit its wall", Severity: rule.Warning, Scope: rule.OfStorey,
	Why:     "Daylight and sight lines go by it: one that sticks out of its wall, or has its head below its sill, is counted wrong.",
	Source:  commonPractice,
	Example: "A window of 2 m that begins 2 m along a wall of 4 m passes; in a wall of 3.9 m it does not.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Plan.Walls {
			w := &f.Plan.Walls[i]
			for j := range w.Openings {
				o := &w.Openings[j]
				wrong := misfit(w, o, f.Project.Units)
				if wrong == "" {
					continue
				}
				if len(out) == mostFindings {
					return out
				}
				out = append(out, rule.Finding{Key: string(f.Storey.ID) + "/" + string(w.ID) + "/" + string(o.ID), Subjects: []rule.Subject{rule.WallSubject(w)}, Places: []geom.Point{w.Span(o).Middle()},
					Message: fmt.Sprintf("A %s in wall %d %s %s.", o.Kind, w.Seq, onPlan(f), wrong)})
			}
		}
		return out
	},
	FiresStorey: func() *rule.StoreyFacts { return storey([]domain.Wall{wallTo(3.9, window())}) },
	QuietStorey: func() *rule.StoreyFacts { return storey([]domain.Wall{wallTo(4, window())}) },
}

// misfit says what is wrong with an opening, empty for nothing. A millimeter is
// no fault.
func misfit(w *domain.Wall, o *domain.Opening, sys units.System) string {
	length := w.Line().Length()
	switch end := float64(o.At + o.Width); {
	case o.Width <= geom.OnEdge:
		return "has no width: give it one, or remove it"
	case float64(o.At) < -geom.OnEdge || end > length+geom.OnEdge:
		return fmt.Sprintf("ends %s along a wall of %s: move it or make it narrower", units.Length(units.Metres(end), sys), units.Length(units.Metres(length), sys))
	case o.Head != 0 && o.Head <= o.Sill:
		return fmt.Sprintf("has its head at %s and its sill at %s: the head must be higher", units.Length(o.Head, sys), units.Length(o.Sill, sys))
	}
	return ""
}

func window() domain.Opening {
	return domain.Opening{ID: "o1", Seq: 1, Kind: domain.Window, At: 2, Width: 2, Sill: 0.9, Head: 2.1}
}
