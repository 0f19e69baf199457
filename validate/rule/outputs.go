package rule

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/propose"
)

// spreadOf gives how the room's loads are best spread over outputs, worked out
// once. A load whose luminaires are on the plan is not divided: which of them go
// with which part is for a person to say.
func (f *Facts) spreadOf() *propose.Spread {
	if f.spread == nil {
		s := propose.OutputProblem{Project: f.Project, Design: f.Design,
			Leave: func(l *domain.Load) bool {
				own := f.Load(l.ID)
				return own != nil && f.AlwaysOn(own.At)
			},
			Whole: func(l *domain.Load) bool {
				return slices.ContainsFunc(f.Room.Fixtures, func(x domain.Fixture) bool { return x.Load == l.ID })
			},
		}.Solve()
		f.spread = &s
	}
	return f.spread
}

// SpreadFix gives the fix that spreads the room's loads over its outputs, with
// controllers added where those are too few; nil where it would not help all of
// the loads that a finding is about.
func (f *Facts) SpreadFix(loads []*Load) *Fix {
	s := f.spreadOf()
	helps := false
	for _, l := range loads {
		if slices.Contains(s.Short, l.ID) {
			return nil
		}
		helps = helps || s.Touches(l.ID) || slices.ContainsFunc(s.Divided, func(d propose.Divided) bool { return d.Load == l.ID })
	}
	if !helps {
		return nil
	}
	return &Fix{Title: s.Title(f.Project, f.Design), Edits: s.Edits(f.Design, f.FreshID)}
}
