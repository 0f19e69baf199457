package edits

import (
	"context"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate/rule"
)

// ProjectFacts reads what the rules of a whole project look at: a line of every
// room and the circuits.
func ProjectFacts(ctx context.Context, s *store.Store, p *domain.Project) (*rule.ProjectFacts, error) {
	lines, _, err := s.RoomLines(ctx, p.ID, store.Filter{Sort: store.ByNumber})
	if err != nil {
		return nil, err
	}
	out := &rule.ProjectFacts{Project: p, Rooms: make([]rule.RoomCounts, len(lines))}
	for i := range lines {
		l := &lines[i]
		out.Rooms[i] = rule.RoomCounts{ID: l.ID, Storey: l.StoreyID, Number: l.Number, Controlled: l.Controlled, Devices: l.Devices, Gateways: l.Gateways}
	}
	out.Circuits, err = s.CircuitShares(ctx, p.ID)
	return out, err
}
