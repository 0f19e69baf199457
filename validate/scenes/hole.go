// Package scenes judges scenes and their levels. It is one of the families of
// rules under validate.
package scenes

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// Hole asks each scene what it does to each lighting load.
var Hole = rule.Rule{
	ID: "scenes-hole", Title: "Scene without a level for a load", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The load stays as it happened to be, and the same button gives another picture each time.",
	Source:  commonPractice,
	Example: "A scene with a level, or leave, for each of four lighting loads passes; with three of them 1 load is left open. Receptacles need none.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Design.Scenes {
			s := &f.Design.Scenes[i]
			var open []rule.Subject
			for j := range f.Loads {
				if l := &f.Loads[j]; l.Kind == domain.Lighting && s.LevelOf(l.ID) == nil {
					open = append(open, l.Subject())
				}
			}
			if len(open) > 0 {
				out = append(out, hole(s, open))
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("scenes/s2/levels/l3", "") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("scenes/s2/levels/l3", "leave") },
}

func hole(s *domain.Scene, open []rule.Subject) rule.Finding {
	out := rule.AtMost(float64(len(open)), 0, "loads")
	out.Key, out.Subjects = string(s.ID), append([]rule.Subject{rule.SceneSubject(s)}, open...)
	out.Message = fmt.Sprintf("Scene %d %s says nothing of %s: write a level, or leave where it stays as it is.", s.Number, s.Name, rule.Tags(open))
	var pairs []string
	for _, l := range open {
		pairs = append(pairs, "scenes/"+string(s.ID)+"/levels/"+string(l.ID), "leave")
	}
	out.Fix = rule.SetFields("Leave them as they are", pairs...)
	return out
}
