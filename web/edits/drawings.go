package edits

import (
	"context"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate/rule"
)

// Drawings reads what is drawn on the storeys of a project, each storey once:
// its rooms are also looked at from the storeys above and below.
type Drawings struct {
	Store   *store.Store
	Project *domain.Project

	held map[domain.ID]drawn
}

type drawn struct {
	plan    *domain.Plan
	designs []*domain.Resolved
}

func (d *Drawings) read(ctx context.Context, storey domain.ID) (drawn, error) {
	if known, ok := d.held[storey]; ok {
		return known, nil
	}
	plan, _, err := d.Store.Plan(ctx, d.Project.ID, storey)
	if err != nil {
		return drawn{}, err
	}
	rooms, err := d.Store.StoreyRooms(ctx, d.Project.ID, storey)
	if err != nil {
		return drawn{}, err
	}
	out := drawn{plan: plan}
	for _, r := range rooms {
		out.designs = append(out.designs, r.Resolved)
	}
	if d.held == nil {
		d.held = map[domain.ID]drawn{}
	}
	d.held[storey] = out
	return out, nil
}

// Facts is what the rules of a storey look at.
func (d *Drawings) Facts(ctx context.Context, storey *domain.Storey) (*rule.StoreyFacts, error) {
	own, err := d.read(ctx, storey.ID)
	if err != nil {
		return nil, err
	}
	out := &rule.StoreyFacts{Project: d.Project, Storey: storey, Plan: own.plan, Designs: own.designs}
	for _, r := range own.designs {
		out.Rooms = append(out.Rooms, r.Room)
	}
	out.Neighbours, err = d.Neighbours(ctx, storey)
	return out, err
}

// Neighbours gives the storeys right above and below, none in a project whose
// gateways have cables of their own.
func (d *Drawings) Neighbours(ctx context.Context, storey *domain.Storey) ([]rule.StoreyNeighbour, error) {
	if d.Project.Limits.Value(domain.HopsToServer) == 0 {
		return nil, nil
	}
	list := rule.NeighboursOf(d.Project, storey.ID)
	for i := range list {
		there, err := d.read(ctx, list[i].Storey.ID)
		if err != nil {
			return nil, err
		}
		list[i].Plan, list[i].Designs = there.plan, there.designs
	}
	return list, nil
}
