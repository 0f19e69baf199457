package radiolink

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// Parenting asks that each battery device can have a router within its reach on
// the plan with room left. What is short by count alone, or by what the designer
// says of reach, is told by capacity-parenting, and a device that hears no router
// by radiolink-out-of-reach; this rule tells only of what else is short.
var Parenting = rule.Rule{
	ID: "radiolink-parenting", Title: "Routers in reach have no room", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  withNeeded(domain.ChildrenPerRouter, domain.DevicesPerRoom),
	Why:     "The routers near it are full and those with room do not hear it: the last battery device to join stays out.",
	Source:  commonPractice + "; the assignment is a maximum flow over links that have their margin (Ford and Fulkerson, 1956); " + model,
	Example: "At one battery device per router, three sensors that hear only two of six routers are 1 short, though five battery devices on six routers fit by count; two such sensors pass.",
	Check: func(f *rule.Facts) []rule.Finding {
		r := f.Radio()
		if r == nil || !r.Whole() || parented(f) {
			return nil
		}
		var over []int
		p := f.ParentingByRadio()
		for _, id := range p.Short {
			n := r.Find(id)
			if n < 0 || stated(&r.Nodes[n]) {
				continue
			}
			if !outOfReach(f, n) {
				over = append(over, n)
			}
		}
		if len(over) == 0 || len(f.Parenting().Short) > 0 {
			return nil
		}
		out := rule.AtMost(float64(p.Children), float64(p.Children-len(over)), "battery devices")
		out.Subjects, out.Places = f.NodeSubjects(over), places(f, over...)
		near := make([]rule.Subject, len(p.Near))
		for i, id := range p.Near {
			near[i] = f.Device(id).Subject()
		}
		out.Message = fmt.Sprintf("%s and %s with room for %d fit by count, but within reach of radio there is room for %d only: none for %s at %s. Add a router near them.",
			rule.Many(p.Children, "battery device"), rule.Many(p.Routers, "router"), p.Capacity, p.Children-len(over), rule.Tags(out.Subjects), rule.Tags(near))
		out.Fix = f.MoreRouters(propose.RouterWish{})
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return crowded(3) },
	Quiet: func() *domaintest.Builder { return crowded(2) },
}

// parented tells that each battery device has a parent in reach with room, so that
// nothing need be searched for.
func parented(f *rule.Facts) bool {
	r := f.Radio()
	for i := range f.Devices {
		if d := &f.Devices[i]; d.Battery() && !inReach(f, r.Find(d.ID), d) {
			return false
		}
	}
	return !overfull(f)
}

func inReach(f *rule.Facts, node int, d *rule.Device) bool {
	up := f.Device(d.Parent)
	if up == nil || !up.Routes() || len(d.Hears) > 0 && !slices.Contains(d.Hears, up.ID) {
		return false
	}
	parent := f.Radio().Find(up.ID)
	return node < 0 || parent < 0 || len(d.Hears) > 0 || f.Radio().Hears(node, parent)
}

// overfull tells that some router has more children than it takes.
func overfull(f *rule.Facts) bool {
	each := int(f.Limit(domain.ChildrenPerRouter))
	for i := range f.Devices {
		up := &f.Devices[i]
		if !up.Routes() {
			continue
		}
		most := each
		if up.Type.Children > 0 {
			most = up.Type.Children
		}
		if f.Count(func(d *rule.Device) bool { return d.Battery() && d.Parent == up.ID }) > most {
			return true
		}
	}
	return false
}

// crowded gives a room of one battery device per router, with so many sensors that
// hear the two routers in the middle and no others.
func crowded(sensors int) *domaintest.Builder {
	b := classroom(map[domain.ID]geom.Point{"rt1": geom.Pt(8, 0), "rt2": geom.Pt(8, 1)})
	setLimit(b.P, domain.ChildrenPerRouter, 1)
	b.Set("devices/ps/parent", "LC-1", "devices/ds/parent", "RC-1")
	parents := []string{"RT-1", "RT-2", "GW-1"}
	for i := range sensors {
		id := domain.ID(fmt.Sprint("far", i))
		b.Device(id, "ds-open").Set("devices/"+string(id)+"/parent", parents[i], "devices/"+string(id)+"/loop", string(domain.ClosedLoop))
		for _, l := range []domain.ID{"l1", "l2", "l3", "l4", "r1"} {
			cell := "-"
			if l == "l3" {
				cell = "ACT"
			}
			b.Link(id, 0, "", l, cell)
		}
		place(b, map[domain.ID]geom.Point{id: geom.Pt(16, float64(i))})
	}
	return b
}
