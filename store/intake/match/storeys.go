package match

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/roomlist"
)

// mainBuilding is the building of a project that has none yet.
const mainBuilding = "Main building"

// placeStoreys says for each storey of the file where it goes.
func (f *fitter) placeStoreys() {
	taken := map[domain.ID]string{}
	for i := range f.model.Storeys {
		from := &f.model.Storeys[i]
		s := Storey{Index: i, Name: from.Name, Level: from.Level, Derived: from.Derived}
		choice := Guess
		if i < len(f.choices.Storeys) {
			choice = f.choices.Storeys[i]
		}
		f.placeStorey(&s, from, choice, taken)
		if s.Into != "" {
			if other := taken[s.Into]; other != "" {
				f.fit.Conflict = fmt.Sprintf("Two storeys of the file, %s and %s, go to %s: choose another place for one of them.", other, s.Name, s.IntoName)
			}
			taken[s.Into] = s.Name
		}
		f.fit.Storeys = append(f.fit.Storeys, s)
	}
}

func (f *fitter) placeStorey(s *Storey, from *building.Storey, choice string, taken map[domain.ID]string) {
	if _, known := f.here.Project.FindStorey(domain.ID(choice)); known != nil {
		s.Into, s.IntoName, s.Why = known.ID, known.Name, "chosen"
		return
	}
	switch {
	case choice == Leave:
		s.Why = "left out, as chosen"
	case choice == Fresh:
		f.newStorey(s, "new, as chosen")
	case len(from.Spaces)+len(from.Walls) == 0:
		s.Why = "left out: the file draws nothing on it"
	default:
		if known, why := f.guess(from, taken); known != nil {
			s.Into, s.IntoName, s.Why = known.ID, known.Name, why
			return
		}
		f.newStorey(s, "new: the project has no storey like it")
	}
}

// guess finds the storey that has most of the file's rooms, by number, or else
// the same name; a lone storey goes to a lone storey.
func (f *fitter) guess(from *building.Storey, taken map[domain.ID]string) (*domain.Storey, string) {
	wanted := map[string]bool{}
	for i := range from.Spaces {
		if n := from.Spaces[i].Number; n != "" {
			wanted[roomlist.NumberKey(n)] = true
		}
	}
	var best, named, lone *domain.Storey
	most, all := 0, 0
	for b := range f.here.Project.Buildings {
		storeys := f.here.Project.Buildings[b].Storeys
		for i := range storeys {
			st := &storeys[i]
			all++
			lone = st
			if taken[st.ID] != "" {
				continue
			}
			shared := 0
			for _, r := range f.onStorey[st.ID] {
				if wanted[roomlist.NumberKey(r.Number)] {
					shared++
				}
			}
			if shared > most {
				best, most = st, shared
			}
			if named == nil && roomlist.StoreyKey(st.Name) == roomlist.StoreyKey(from.Name) {
				named = st
			}
		}
	}
	switch {
	case best != nil && 2*most >= len(wanted):
		return best, fmt.Sprintf("it has %d of the file's room numbers", most)
	case named != nil:
		return named, "the same name"
	case all == 1 && len(f.model.Storeys) == 1 && from.Derived:
		return lone, "the only storey"
	}
	return nil, ""
}

func (f *fitter) newStorey(s *Storey, why string) {
	in, last := f.building()
	for i := range f.fit.Storeys {
		if made := f.fit.Storeys[i].Made; made != nil {
			last = max(last, made.Seq)
		}
	}
	name, err := domain.CleanLine(s.Name, domain.MaxName)
	if err != nil || name == "" {
		name = fmt.Sprintf("Storey %d", s.Index+1)
	}
	s.Made, s.Building = &domain.Storey{ID: f.newID(), Seq: last + 1, Name: name}, in
	s.Into, s.IntoName, s.Why = s.Made.ID, name, why
}

// building gives the building that new storeys go to, and the last place in it.
func (f *fitter) building() (domain.ID, int) {
	if len(f.here.Project.Buildings) > 0 {
		b := &f.here.Project.Buildings[0]
		last := 0
		for _, st := range b.Storeys {
			last = max(last, st.Seq)
		}
		return b.ID, last
	}
	if f.fit.NewBuilding == nil {
		f.fit.NewBuilding = &domain.Building{ID: f.newID(), Seq: 1, Name: mainBuilding}
	}
	return f.fit.NewBuilding.ID, 0
}

// Buildings gives the project's buildings with the new ones in.
func (f *Fit) Buildings(p *domain.Project) []domain.Building {
	out := append([]domain.Building(nil), p.Buildings...)
	if f.NewBuilding != nil {
		out = append(out, *f.NewBuilding)
	}
	for i := range out {
		out[i].Storeys = append([]domain.Storey(nil), out[i].Storeys...)
		for _, s := range f.Storeys {
			if s.Made != nil && s.Building == out[i].ID {
				out[i].Storeys = append(out[i].Storeys, *s.Made)
			}
		}
	}
	return out
}

// Height says the level of a storey of the file in words.
func (s *Storey) Height(sys units.System) string {
	if s.Level == 0 && sys == units.US {
		return "0 ft"
	}
	if s.Level < 0 {
		return "-" + units.Length(-s.Level, sys)
	}
	return units.Length(s.Level, sys)
}
