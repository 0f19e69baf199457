package energycode

import (
	"scopewright/domain"
	"scopewright/domain/daylight"
)

// Found is a room as a code judges it, with where its kind of space comes from.
type Found struct {
	Room
	Kind      Proposal // by which it is judged
	Confirmed bool     // by the designer; else proposed from use and area
	Suggested Proposal // what use and area suggest, whatever was confirmed
	Doubt     string   // why its daylight areas could not be drawn on the plan; empty: they were, or there is nothing to draw
}

// RoomOf reads a room of a project as a pack judges it: its daylight areas by the
// pack's rules on the storey's plan, its receptacles, its kind of space and the
// exceptions that people claim. Where the daylight areas cannot be drawn, the window
// zones that its loads state are taken, and Doubt says why.
func RoomOf(k *Pack, p *domain.Project, r *domain.Resolved, claims []Claim) Found {
	given := Given{Outlets: r.Outlets, Claims: claims}
	var out Found
	var err error
	if given.Zones, err = ZonesOf(k, p, r, daylight.AssumedOf(p)); err != nil {
		out.Doubt = err.Error()
	}
	out.ID, out.Facts = r.ID, FactsOf(p, r, given)
	out.Kind, out.Confirmed = k.SpaceOf(r, out.Facts.Area)
	out.Suggested = k.Propose(r.Use, out.Facts.Area)
	out.Space = out.Kind.Space
	return out
}

// JudgeAll judges rooms that RoomOf read, in their order.
func JudgeAll(k *Pack, p *domain.Project, found []Found) Report {
	rooms := make([]Room, len(found))
	for i := range found {
		rooms[i] = found[i].Room
	}
	return JudgeBuilding(k, rooms, p.Units)
}

// KindsOf gives the pack by whose kinds of space a project's rooms are told apart: the
// one chosen, else the first, since all share one list.
func KindsOf(p *domain.Project) *Pack {
	if k := PackOf(p); k != nil {
		return k
	}
	return embedded().packs[0]
}

// KindWords names a room's kind of space: "classroom (proposed)", "not chosen".
func (p *Pack) KindWords(kind Proposal, confirmed bool) string {
	s := p.Space(kind.Space)
	switch {
	case s == nil:
		return "not chosen"
	case !confirmed:
		return s.Name + " (proposed)"
	}
	return s.Name
}
