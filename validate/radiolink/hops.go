package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// Hops holds the number of links from each device to the room's gateway to the
// limit. Battery devices count the one to their parent.
var Hops = rule.Rule{
	ID: "radiolink-hops", Title: "Too many hops to the gateway", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  withNeeded(domain.HopsInRoom),
	Why:     "Each hop adds delay and a chance of loss: five hops of 99 % each pass 95 of 100 messages.",
	Source:  "2 to 3 hops in a room, common practice, from memory",
	Example: "Routers in pairs every 9 m from the gateway, with radios that carry 10 m: three pairs pass with 3 hops, a fourth does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		net := f.Net()
		if net == nil || !net.Gateway {
			return nil
		}
		limit, far := f.Radio().Settings.Hops, 0
		var over []int
		for i, h := range net.Hops {
			if far = max(far, h); h > limit {
				over = append(over, i)
			}
		}
		if len(over) == 0 {
			return nil
		}
		out := rule.AtMost(float64(far), float64(limit), "hops")
		out.Subjects, out.Places = f.NodeSubjects(over), places(f, over...)
		out.Message = fmt.Sprintf("%s, limit %d, from the gateway %s to the farthest of %s. Move the gateway to the middle, or split the room.",
			rule.Many(far, "hop"), limit, rule.Named(f.Node(net.Root).Tag), rule.Tags(out.Subjects))
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return chain(4) },
	Quiet: func() *domaintest.Builder { return chain(3) },
}

// chain gives a room with so many pairs of routers in a row from the gateway.
func chain(pairs int) *domaintest.Builder {
	spots := map[domain.ID]geom.Point{}
	for i := range pairs {
		x := 9 * float64(i+1)
		spots[domain.ID(fmt.Sprint("rt-a", i))], spots[domain.ID(fmt.Sprint("rt-b", i))] = geom.Pt(x, 0), geom.Pt(x, 1)
	}
	return classroom(spots)
}
