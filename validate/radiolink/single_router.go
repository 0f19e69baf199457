package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// SingleRouter looks for routers without which others lose their way to the
// gateway (articulation points of the mesh). The gateway itself is by nature one.
var SingleRouter = rule.Rule{
	ID: "radiolink-single-router", Title: "Others hang on a single router", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  withNeeded(),
	Why:     "When its circuit is switched off for work, all that hangs on it is off the network too.",
	Source:  "two ways for each router, common practice, from memory; articulation points by depth-first search (Hopcroft and Tarjan, 1973)",
	Example: "Routers B and C 8.5 m beyond router A, which alone reaches the gateway 8 m away, do not pass with radios that carry 10 m: A cuts them off. They pass with a second router beside A.",
	Check: func(f *rule.Facts) []rule.Finding {
		net := f.Net()
		if net == nil {
			return nil
		}
		var out []rule.Finding
		for _, cut := range net.Cuts {
			d := f.Node(cut.Node)
			one := rule.AtMost(float64(len(cut.Off)), 0, "routers")
			one.Key, one.Subjects, one.Places = string(d.ID), []rule.Subject{d.Subject()}, places(f, cut.Node)
			off := f.NodeSubjects(cut.Off)
			one.Subjects = append(one.Subjects, off...)
			one.Message = fmt.Sprintf("Without %s, %s would be cut off (%s%s): it is the only way for them. Add a router that gives them a second way.",
				rule.Named(d.Tag), rule.Tags(off), rule.Many(len(off), "router"), hanging(f, cut.Off))
			one.Fix = f.MoreRouters(propose.RouterWish{Ways: 2})
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return classroom(map[domain.ID]geom.Point{"rt-a": geom.Pt(8, 0), "rt-b": geom.Pt(16.5, 0), "rt-c": geom.Pt(16.5, 1)})
	},
	Quiet: func() *domaintest.Builder {
		return classroom(map[domain.ID]geom.Point{"rt-a": geom.Pt(8, 0), "rt-a2": geom.Pt(8, 1), "rt-b": geom.Pt(16.5, 0), "rt-c": geom.Pt(16.5, 1)})
	},
}

// hanging counts the battery devices whose parents are among routers that are cut
// off: ", with 2 battery devices", nothing where there are none.
func hanging(f *rule.Facts, off []int) string {
	n := 0
	for _, r := range off {
		id := f.Node(r).ID
		n += f.Count(func(d *rule.Device) bool { return d.Battery() && d.Parent == id })
	}
	if n == 0 {
		return ""
	}
	return ", with " + rule.Many(n, "battery device")
}
