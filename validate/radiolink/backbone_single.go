package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// BackboneSingle looks for gateways of a storey without which others lose the rest
// of the backbone.
var BackboneSingle = rule.Rule{
	ID: "radiolink-backbone-single", Title: "Gateways hang on a single gateway", Severity: rule.Warning, Scope: rule.OfStorey,
	Limits:  withNeeded(domain.SlabLoss, domain.StoreyHeight, domain.HopsToServer),
	Why:     "When that one gateway is off, all rooms behind it are off the network.",
	Source:  "two ways for each, common practice, from memory; articulation points by depth-first search (Hopcroft and Tarjan, 1973)",
	Example: "Three gateways in a row, 9 m apart, with radios that carry 10 m, do not pass: the middle one holds the others together. With a fourth beside it they do.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		b := backbone(f)
		if b == nil {
			return nil
		}
		var out []rule.Finding
		for _, cut := range b.Cuts {
			if !b.Own(cut.Node) {
				continue // told on its own storey
			}
			one := rule.AtMost(float64(len(cut.Off)), 0, "gateways")
			one.Key = string(f.Storey.ID + "/" + b.Gates[cut.Node].Device.ID)
			ofGates(&one, b, append([]int{cut.Node}, own(b, cut.Off)...))
			one.Places = one.Places[:1]
			one.Message = fmt.Sprintf("On %s, without %s, %s would lose the other gateways (%s). Add a gateway or a router that gives a second way. %s",
				f.Storey.Name, gateName(b, cut.Node), gateNames(b, cut.Off), rule.Many(len(cut.Off), "gateway"), cabled)
			out = append(out, one)
		}
		return out
	},
	FiresStorey: func() *rule.StoreyFacts { return gates(geom.Pt(0, 0), geom.Pt(9, 0), geom.Pt(18, 0)) },
	QuietStorey: func() *rule.StoreyFacts {
		return gates(geom.Pt(0, 0), geom.Pt(9, 0), geom.Pt(9, 1), geom.Pt(18, 0))
	},
}
