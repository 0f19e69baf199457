package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// OutputLevels looks for scenes that ask two levels of one output.
var OutputLevels = rule.Rule{
	ID: "power-output-levels", Title: "Scene asks two levels of one output", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Loads on one output are one to the controller: they cannot be at two levels at a time.",
	Source:  commonPractice,
	Example: "Two loads on one output pass when every scene has the same level for both; 60 and 0 in one scene do not pass.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		outputs(f, func(d *rule.Device, output int, loads []*rule.Load) {
			for i := range f.Design.Scenes {
				if len(loads) < 2 {
					return
				}
				s := &f.Design.Scenes[i]
				a, b := unlike(s, loads)
				if b == nil {
					continue
				}
				out = append(out, rule.Finding{Key: outputKey(d, output) + "/" + string(s.ID), Subjects: append(subjects(d, loads), rule.SceneSubject(s)),
					Message: fmt.Sprintf("Scene %d %s sets %s to %s and %s to %s, and both are on %s: give them outputs of their own, or one level.",
						s.Number, s.Name, rule.Named(a.Tag), s.LevelOf(a.ID).Show(), rule.Named(b.Tag), s.LevelOf(b.ID).Show(), outputName(d, output))})
			}
		})
		return out
	},
	Fires: func() *domaintest.Builder { return together("a").Set("scenes/s1/levels/l5", "60 in 2 s") },
	Quiet: func() *domaintest.Builder { return together("a") },
}

// unlike gives two loads that a scene treats differently, nil where it does not.
func unlike(s *domain.Scene, loads []*rule.Load) (a, b *rule.Load) {
	first := s.LevelOf(loads[0].ID)
	for _, l := range loads[1:] {
		level := s.LevelOf(l.ID)
		if first == nil || level == nil { // a hole is another rule's
			continue
		}
		if level.Leave != first.Leave || level.Level != first.Level {
			return loads[0], l
		}
	}
	return nil, nil
}

// together gives a classroom with a fifth load on the output of the second.
func together(luminaire domain.ID) *domaintest.Builder {
	b := domaintest.Classroom().Load("l5", luminaire, 2).Carry("l5", "lc", 2)
	down := "DN"
	if luminaire == "s" {
		down = "-"
	}
	for n, cell := range []string{"SC1", "SC2", down, "0"} {
		b.Link("st", n+1, domain.Press, "l5", cell)
	}
	b.Link("ps", 0, "", "l5", "ACT").Link("ds", 0, "", "l5", "-").Set("scenes/s1/levels/l5", "100 in 2 s", "scenes/s2/levels/l5", "60 in 2 s")
	if luminaire == "s" {
		b.Set("scenes/s2/levels/l2", "100", "scenes/s2/levels/l5", "100")
	}
	return b
}
