package edits

import (
	"context"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate/rule"
)

// StoreyFacts is what the rules of a storey look at, out of a state that is at
// hand. Neighbors are read where their gateways may matter.
func StoreyFacts(ctx context.Context, s *store.Store, p *domain.Project, storey *domain.Storey, plan *domain.Plan, rooms []*store.RoomState) (*rule.StoreyFacts, error) {
	out := &rule.StoreyFacts{Project: p, Storey: storey, Plan: plan}
	for _, r := range rooms {
		out.Rooms, out.Designs = append(out.Rooms, r.Resolved.Room), append(out.Designs, r.Resolved)
	}
	var err error
	out.Neighbours, err = Neighbours(ctx, s, p, storey)
	return out, err
}

// Neighbours reads the storeys right above and below, none in a project whose
// gateways have cables of their own.
func Neighbours(ctx context.Context, s *store.Store, p *domain.Project, storey *domain.Storey) ([]rule.StoreyNeighbour, error) {
	if p.Limits.Value(domain.HopsToServer) == 0 {
		return nil, nil
	}
	list := rule.NeighboursOf(p, storey.ID)
	for i := range list {
		n := &list[i]
		plan, _, err := s.Plan(ctx, p.ID, n.Storey.ID)
		if err != nil {
			return nil, err
		}
		rooms, err := s.StoreyRooms(ctx, p.ID, n.Storey.ID)
		if err != nil {
			return nil, err
		}
		n.Plan = plan
		for _, r := range rooms {
			n.Designs = append(n.Designs, r.Resolved)
		}
	}
	return list, nil
}
