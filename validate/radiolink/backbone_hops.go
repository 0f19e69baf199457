package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// BackboneHops holds the number of links between gateways, from the best place for
// the network's head, to the limit.
var BackboneHops = rule.Rule{
	ID: "radiolink-backbone-hops", Title: "Too many hops between gateways", Severity: rule.Warning, Scope: rule.OfStorey,
	Limits:  withNeeded(domain.HopsToServer, domain.SlabLoss, domain.StoreyHeight),
	Why:     "Schedules and reports of the farthest rooms come late or not at all.",
	Source:  "4 to 5 hops to the network's head, common practice, from memory",
	Example: "At 2 hops, pairs of gateways every 9 m with radios that carry 10 m pass up to five pairs, with the head in the middle one; six pairs do not, with 3 hops.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		b := backbone(f)
		if b == nil || b.Head < 0 || b.Farthest() <= b.Settings.Backbone {
			return nil
		}
		var over []int
		for i, h := range b.Hops {
			if h > b.Settings.Backbone && b.Own(i) {
				over = append(over, i)
			}
		}
		if len(over) == 0 {
			return nil
		}
		one := rule.AtMost(float64(b.Farthest()), float64(b.Settings.Backbone), "hops")
		one.Key = string(f.Storey.ID)
		ofGates(&one, b, over)
		one.Message = fmt.Sprintf("On %s the farthest gateways are %s, limit %d, from the best place for the network's head, %s: %s. Add a gateway with a cable to the network. %s",
			f.Storey.Name, rule.Many(b.Farthest(), "hop"), b.Settings.Backbone, gateName(b, b.Head), gateNames(b, over), cabled)
		return []rule.Finding{one}
	},
	FiresStorey: func() *rule.StoreyFacts { return gatesInPairs(6) },
	QuietStorey: func() *rule.StoreyFacts { return gatesInPairs(5) },
}

// gatesInPairs gives a storey with a row of pairs of gateways and a limit of 2 hops.
func gatesInPairs(pairs int) *rule.StoreyFacts {
	var at []geom.Point
	for i := range pairs {
		x := 9 * float64(i)
		at = append(at, geom.Pt(x, 0), geom.Pt(x, 1))
	}
	f := gates(at...)
	setLimit(f.Project, domain.HopsToServer, 2)
	return f
}
