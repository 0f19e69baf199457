package radio

import (
	"scopewright/domain"
	"scopewright/domain/units"
)

// Settings are the numbers of a project that links are judged by.
type Settings struct {
	Margin      float64 // dB, that a link needs at least
	Advice      float64 // dB, under which a link is warned of
	Probability float64 // 0 to 1, with which a link is to be up
	Sigma       float64 // dB, shadowing
	Routers     int     // that a device is to hear
	Hops        int     // to the gateway within a room
	Backbone    int     // hops between gateways; 0: they have cables of their own
	Ceiling     float64 // dB a ceiling
	Slab        float64 // dB a floor between storeys
	Radio       Radio   // of a type that states none
	Walls       Assumed // of what the plan does not tell
}

// SettingsOf reads them from a project's limits.
func SettingsOf(p *domain.Project) Settings {
	v := p.Limits.Value
	return Settings{
		Margin: v(domain.LinkMargin), Advice: v(domain.LinkMarginAdvice), Probability: v(domain.LinkProbability) / 100, Sigma: v(domain.Shadowing),
		Routers: int(v(domain.RoutersInReach)), Hops: int(v(domain.HopsInRoom)), Backbone: int(v(domain.HopsToServer)),
		Ceiling: v(domain.CeilingLoss), Slab: v(domain.SlabLoss),
		Radio: Radio{Power: v(domain.AssumedPower), Sensitivity: v(domain.AssumedSensitivity)},
		Walls: Assumed{Wall: v(domain.AssumedWallLoss), Door: v(domain.AssumedDoorLoss), Pane: v(domain.AssumedPaneLoss)},
	}
}

// Needed gives the margin that a link must have, dB: the larger of the margin
// that is asked for and of what the probability asks for under shadowing,
// z(p) sigma; byProbability tells that it is the latter. A probability of 0 or of
// 100 % asks for nothing that a margin could give and is left out.
func (s Settings) Needed() (db float64, byProbability bool) {
	if fade := FadeMargin(s.Probability, s.Sigma); fade > s.Margin {
		return fade, true
	}
	return s.Margin, false
}

// Holds tells that a margin is one that is needed, up to rounding.
func (s Settings) Holds(margin float64) bool {
	needed, _ := s.Needed()
	return units.AtMost(needed, margin)
}
