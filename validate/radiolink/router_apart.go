package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// RouterApart looks for routers that have no way to the gateway, or to the rest of
// the routers in a room without one. It waits until all routers stand on the plan.
var RouterApart = rule.Rule{
	ID: "radiolink-router-apart", Title: "Routers cut off from the gateway", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  withNeeded(),
	Why:     "What is pressed in one part of the room never reaches the loads in the other, and the network sees half of the room.",
	Source:  "a mesh reaches whom its links reach; " + model,
	Example: "With radios that carry 10 m in the open, a router 10 m from the gateway passes; one 10.1 m from it and farther from all others does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		net := f.Net()
		if net == nil || len(net.Parts) < 2 {
			return nil
		}
		var out []rule.Finding
		for _, part := range net.Parts[1:] {
			out = append(out, apart(f, part))
		}
		return out
	},
	Fires: func() *domaintest.Builder { return classroom(map[domain.ID]geom.Point{"rt": geom.Pt(10.1, 0)}) },
	Quiet: func() *domaintest.Builder { return classroom(map[domain.ID]geom.Point{"rt": geom.Pt(10, 0)}) },
}

// apart tells of a part of the mesh that the root's does not reach, and by how
// much the best link between the two falls short.
func apart(f *rule.Facts, part []int) rule.Finding {
	r, net := f.Radio(), f.Net()
	from, to := part[0], net.Parts[0][0]
	for _, a := range part {
		for _, b := range net.Parts[0] {
			if r.Margin(a, b) > r.Margin(from, to) {
				from, to = a, b
			}
		}
	}
	out := rule.AtLeast(r.Margin(from, to), r.Needed(), "dB")
	out.Key, out.Subjects, out.Places = string(f.Node(part[0]).ID), f.NodeSubjects(part), places(f, part...)
	whom := "the gateway " + rule.Named(f.Node(net.Root).Tag)
	if !net.Gateway {
		whom = "the other routers"
	}
	verb := "do"
	if len(part) == 1 {
		verb = "does"
	}
	out.Message = fmt.Sprintf("%s %s not reach %s: the best link, from %s to %s, has a margin of %s of the %s needed (%s). Add a router between, or move one. Measure on site.",
		rule.Tags(out.Subjects), verb, whom, rule.Named(f.Node(from).Tag), rule.Named(f.Node(to).Tag), db(out.Measured), db(out.Limit), through(f, from, to))
	out.Fix = f.MoreRouters(propose.RouterWish{})
	return out
}
