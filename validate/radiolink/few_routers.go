package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// FewRouters looks for devices that hear fewer routers than they should, so that
// the loss of one leaves them alone. Where the room has fewer routers all told, it
// asks for those.
var FewRouters = rule.Rule{
	ID: "radiolink-few-routers", Title: "Device with too few routers in reach", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  withNeeded(domain.RoutersInReach),
	Why:     "When its one router is switched off for work, a battery device has no other to turn to.",
	Source:  "common practice, from memory: two for each battery device; " + model,
	Example: "Of radios that carry 10 m, a sensor 9.5 m from one router and 10.5 m from the others does not pass; it does with a second one at 10 m. A room with one router passes.",
	Check: func(f *rule.Facts) []rule.Finding {
		r := f.Radio()
		if r == nil || !r.Whole() {
			return nil
		}
		all := 0
		for i := range r.Nodes {
			if r.Nodes[i].Routes {
				all++
			}
		}
		limit := min(all, r.Settings.Routers)
		var out []rule.Finding
		for i := range r.Nodes {
			n := &r.Nodes[i]
			if n.Routes || stated(n) {
				continue
			}
			if heard, _ := r.Heard(i); heard == 0 || heard >= limit {
				continue
			}
			d := f.Node(i)
			reached, _ := r.Reached(i)
			one := rule.AtLeast(float64(len(reached)), float64(limit), "routers")
			one.Key, one.Subjects, one.Places = string(d.ID), []rule.Subject{d.Subject()}, places(f, i)
			one.Message = fmt.Sprintf("%s hears %s (%s), wanted %d: if that is off, nothing hears it. Move it, or add a router near it.",
				rule.Named(d.Tag), rule.Many(len(reached), "router"), rule.Tags(f.NodeSubjects(reached)), limit)
			one.Fix = f.MoreRouters(propose.RouterWish{Hears: r.Settings.Routers})
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return classroom(map[domain.ID]geom.Point{"ds": geom.Pt(9.5, 0)}).Set("devices/ds/parent", "GW-1")
	},
	Quiet: func() *domaintest.Builder {
		return classroom(map[domain.ID]geom.Point{"ds": geom.Pt(9.5, 0), "rt": geom.Pt(-0.5, 0)}).Set("devices/ds/parent", "GW-1")
	},
}
