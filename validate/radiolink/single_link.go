package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// SingleLink looks for links to the gateway without which routers lose their only
// way (bridges of the mesh). A link farther out hangs on a single router, too,
// which the rule on those tells of. With one router beside the gateway there can
// be no other link.
var SingleLink = rule.Rule{
	ID: "radiolink-single-link", Title: "Routers hang on a single link", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  withNeeded(),
	Why:     "A door that is shut or a shelf that is filled takes the link, and with it all that hangs on it.",
	Source:  "two neighbors for each router, common practice, from memory; bridges by depth-first search (Tarjan, 1974)",
	Example: "With radios that carry 10 m, a router 9.5 m from the gateway and 10.5 m from the next router does not pass; it does at 9 m and 10 m.",
	Check: func(f *rule.Facts) []rule.Finding {
		net := f.Net()
		if net == nil || !net.Gateway || len(net.Parts[0]) < 3 {
			return nil
		}
		var out []rule.Finding
		for _, s := range net.Spans {
			if s.Near != net.Root {
				continue
			}
			near, far := f.Node(s.Near), f.Node(s.Far)
			one := rule.AtMost(float64(len(s.Off)), 0, "routers")
			one.Key, one.Subjects, one.Places = string(far.ID), []rule.Subject{far.Subject(), near.Subject()}, places(f, s.Far, s.Near)
			one.Message = fmt.Sprintf("Without the link from %s to the gateway %s, of %s margin, %s would be cut off (%s%s): there is no other way. Add a router that both ends hear.",
				rule.Named(far.Tag), rule.Named(near.Tag), db(s.Margin), rule.Tags(f.NodeSubjects(s.Off)), rule.Many(len(s.Off), "router"), hanging(f, s.Off))
			one.Fix = f.MoreRouters(propose.RouterWish{Ways: 2})
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return classroom(map[domain.ID]geom.Point{"rt": geom.Pt(9.5, 0)}) },
	Quiet: func() *domaintest.Builder { return classroom(map[domain.ID]geom.Point{"rt": geom.Pt(9, 0)}) },
}
