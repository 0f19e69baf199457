package capacity

import (
	"scopewright/domain"
	"scopewright/validate/rule"
)

// GatewaysBackbone holds the gateways on one backbone network to their limit.
var GatewaysBackbone = rule.Rule{
	ID: "capacity-gateways-backbone", Title: "Too many gateways on one backbone", Severity: rule.Error, Scope: rule.OfProject,
	Limits:  []domain.LimitID{domain.GatewaysPerBackbone},
	Why:     "Gateways announce themselves to each other; on a crowded backbone the announcements crowd out commands.",
	Source:  commonPractice,
	Example: "50 gateways pass at a limit of 50; with 51 the backbone is 1 over.",
	CheckProject: func(f *rule.ProjectFacts) []rule.Finding {
		return overJoined(f, domain.GatewaysPerBackbone, "backbone", "gateway", "Name a second backbone network for some storeys.",
			func(s *domain.Storey) string { return s.Backbone }, func(r *rule.RoomCounts) int { return r.Gateways })
	},
	FiresProject: func() *rule.ProjectFacts { return joined(60, 51) },
	QuietProject: func() *rule.ProjectFacts { return joined(60, 50) },
}
