package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// OutOfReach looks for devices that hear no router of their room. It waits until
// all routers stand on the plan; a room without any is short of parents by count.
var OutOfReach = rule.Rule{
	ID: "radiolink-out-of-reach", Title: "Device out of reach of every router", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  withNeeded(),
	Why:     "It joins on the bench and drops out where it is mounted: no router of the room hears it.",
	Source:  model + "; margin: " + commonPractice,
	Example: "With radios that carry 10 m in the open, a sensor 10 m from the nearest router passes with a margin of 10 dB; one at 10.1 m does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		r := f.Radio()
		if r == nil {
			return nil
		}
		var out []rule.Finding
		for i := range r.Nodes {
			if !outOfReach(f, i) {
				continue
			}
			d := f.Node(i)
			_, near := r.Heard(i)
			one := rule.AtLeast(r.Margin(i, near), r.Needed(), "dB")
			one.Key, one.Subjects, one.Places = string(d.ID), []rule.Subject{d.Subject()}, places(f, i)
			one.Message = fmt.Sprintf("%s hears no router: the best of them, %s, gives a margin of %s of the %s that a link needs (%s). Move it, or add a router between. Measure on site.",
				rule.Named(d.Tag), rule.Named(f.Node(near).Tag), db(one.Measured), db(r.Needed()), through(f, i, near))
			one.Fix = f.MoreRouters(propose.RouterWish{})
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return classroom(map[domain.ID]geom.Point{"ds": geom.Pt(10.1, 0)}) },
	Quiet: func() *domaintest.Builder { return classroom(map[domain.ID]geom.Point{"ds": geom.Pt(10, 0)}) },
}
