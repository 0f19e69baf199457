package match

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// mostRooflights of a storey that are taken; a plan has no more.
const mostRooflights = domain.MaxRooflights

// fitRooflights puts the file's rooflights into the plan and tells whether that
// changes it. One that lies where the plan has one keeps its ID and, where the
// file says nothing of glass, its glass.
func (f *fitter) fitRooflights(s *Storey, plan, was *domain.Plan, from *building.Storey) (changed bool) {
	plan.Rooflights = nil
	used, seq := map[domain.ID]bool{}, 0
	for i := range was.Rooflights {
		seq = max(seq, was.Rooflights[i].Seq)
	}
	drawn := from.Rooflights
	if len(drawn) > mostRooflights {
		s.Walls.TooMany, drawn = s.Walls.TooMany+len(drawn)-mostRooflights, drawn[:mostRooflights]
	}
	s.Walls.Rooflights = len(drawn)
	for i := range drawn {
		l := litFrom(&drawn[i])
		if old := rooflightAt(was, &l); old != nil && !used[old.ID] {
			used[old.ID] = true
			l.ID, l.Seq = old.ID, old.Seq
			if l.Glass == 0 {
				l.Glass = old.Glass
			}
			changed = changed || l != *old
		} else {
			seq++
			l.ID, l.Seq, changed = f.newID(), seq, true
		}
		plan.Rooflights = append(plan.Rooflights, l)
	}
	for i := range was.Rooflights {
		switch l := was.Rooflights[i]; {
		case used[l.ID]:
		case f.choices.DropWalls && len(drawn) > 0 || len(plan.Rooflights) >= mostRooflights:
			s.Walls.LightsGone++
			changed = true
		default:
			plan.Rooflights = append(plan.Rooflights, l)
		}
	}
	slices.SortStableFunc(plan.Rooflights, func(a, b domain.Rooflight) int { return cmp.Compare(a.Seq, b.Seq) })
	return changed
}

func litFrom(l *building.Rooflight) domain.Rooflight {
	return domain.Rooflight{At: geom.Pt(tenth(l.At.X), tenth(l.At.Y)), Width: units.Metres(tenth(float64(l.Width))), Length: units.Metres(tenth(float64(l.Length))), Turn: l.Turn, Glass: l.Glass}
}

// samePlaceLight is how far in meters a rooflight may have moved and still be
// known again.
const samePlaceLight = 0.05

func rooflightAt(p *domain.Plan, l *domain.Rooflight) *domain.Rooflight {
	for i := range p.Rooflights {
		old := &p.Rooflights[i]
		if old.At.Near(l.At, samePlaceLight) && math.Abs(float64(old.Width*old.Length-l.Width*l.Length)) < 0.1*float64(l.Width*l.Length) {
			return old
		}
	}
	return nil
}

// markIndoors marks windows between two rooms of the storey as it will be, where
// the file does not say what its walls stand between, as drawings do not.
func (f *fitter) markIndoors(s *Storey, from *building.Storey, walls []domain.Wall) {
	told := map[string]bool{}
	for i := range from.Walls {
		w := asDrawn(&from.Walls[i])
		told[lineKey(w.A, w.B)] = from.Walls[i].Kind != building.UnknownWall
	}
	var rooms []domain.Footprint
	for i := range s.Steps {
		if r := s.Steps[i].Room; r != nil {
			rooms = append(rooms, r.Footprint())
		}
	}
	for _, r := range s.Missing {
		rooms = append(rooms, r.Footprint())
	}
	ground, beyond := domain.GroundOf(rooms...), units.Metres(f.here.Project.Limits.Value(domain.RoomBesideWindow))
	for i := range walls {
		w := &walls[i]
		if told[lineKey(w.A, w.B)] {
			continue
		}
		for j := range w.Openings {
			o := &w.Openings[j]
			if o.Kind == domain.Window && !o.Indoors && w.Stands(o, beyond, ground) == domain.BetweenRooms {
				o.Indoors = true
			}
		}
	}
}
