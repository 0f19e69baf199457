package radiolink

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/radio"
	"scopewright/validate/rule"
)

// BackboneApart looks for gateways of a storey that hear none of the others of
// their backbone, on the storey itself or right above or below.
var BackboneApart = rule.Rule{
	ID: "radiolink-backbone-apart", Title: "Gateway apart from the other gateways", Severity: rule.Warning, Scope: rule.OfStorey,
	Limits:  withNeeded(domain.SlabLoss, domain.StoreyHeight, domain.HopsToServer),
	Why:     "Its room works by itself and never gets a schedule, and nobody sees when it fails.",
	Source:  model + "; floor: between ITU-R P.2040 and measurements",
	Example: "With radios that carry 10 m in the open, gateways 10 m apart pass; at 10.1 m they do not. A gateway 4 m above through a floor of 20 dB does not help, one that is as far with a floor of 0 dB does.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		b := backbone(f)
		if b == nil {
			return nil
		}
		var out []rule.Finding
		for _, part := range b.Parts[1:] {
			mine := own(b, part)
			if len(mine) == 0 {
				continue
			}
			from, to, margin := bestBetween(b, part)
			one := rule.AtLeast(margin, b.Needed(), "dB")
			one.Key = string(f.Storey.ID + "/" + b.Gates[mine[0]].Device.ID)
			ofGates(&one, b, mine)
			one.Message = fmt.Sprintf("On %s %s has no link to the other gateways: the best, from %s to %s, has a margin of %s of the %s needed. Add a gateway or a router between, or connect it by cable. %s",
				f.Storey.Name, gateNames(b, mine), gateName(b, from), gateName(b, to), db(margin), db(b.Needed()), cabled)
			out = append(out, one)
		}
		return out
	},
	FiresStorey: func() *rule.StoreyFacts { return gates(geom.Pt(0, 0), geom.Pt(10.1, 0)) },
	QuietStorey: func() *rule.StoreyFacts { return gates(geom.Pt(0, 0), geom.Pt(10, 0)) },
}

// bestBetween gives the best link from a part of a backbone to the rest.
func bestBetween(b *radio.Backbone, part []int) (from, to int, margin float64) {
	in := map[int]bool{}
	for _, g := range part {
		in[g] = true
	}
	margin = math.Inf(-1)
	for _, g := range part {
		for o := range b.Gates {
			if m, ok := b.Margin(g, o); ok && !in[o] && m > margin {
				from, to, margin = g, o, m
			}
		}
	}
	return from, to, margin
}
