package energycode

import (
	"scopewright/domain"
	"scopewright/domain/units"
)

// SpaceOf gives the kind of space by which a room is judged: the one that the designer
// confirmed, else the one that its use and area suggest. Why says where it comes from.
// A kind that the pack does not list is none.
func (p *Pack) SpaceOf(r *domain.Resolved, area units.SquareMetres) (proposal Proposal, confirmed bool) {
	if s := p.Space(string(r.KindOfSpace())); s != nil {
		why := "Confirmed by the designer."
		if r.Space == "" {
			why = "Confirmed by the designer for typical " + r.Typical.Name + "."
		}
		return Proposal{Space: s.ID, Why: why}, true
	}
	return p.Propose(r.Use, area), false
}

// KindOf gives the kind of space of a room by the area that it states or its outline has.
func (p *Pack) KindOf(r *domain.Resolved) (kind Proposal, confirmed bool) {
	return p.SpaceOf(r, areaOf(r))
}

func areaOf(r *domain.Resolved) units.SquareMetres {
	if r.Area > 0 {
		return r.Area
	}
	return r.Measured()
}
