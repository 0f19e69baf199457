package radiolink

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/radio"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// WeakWay looks for routers that reach the gateway only over a link that is warned
// of, however their messages go. Those that hang together by good links are told of
// once.
var WeakWay = rule.Rule{
	ID: "radiolink-weak-way", Title: "Router with a weak way to the gateway", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  withNeeded(domain.LinkMarginAdvice),
	Why:     "Each message to and from the router goes over that link, and it fails with the first shelf put in its way.",
	Source:  model + "; margins: " + commonPractice,
	Example: "With radios that carry 10 m in the open and links warned of under 16 dB, a router 5 m from the next passes; 5.1 m from all others it has 15.8 dB and does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		net := f.Net()
		if net == nil || !net.Gateway {
			return nil
		}
		var out []rule.Finding
		for _, group := range weakly(f, net) {
			one := rule.AtLeast(net.Bottleneck[group[0]], f.Radio().Settings.Advice, "dB")
			one.Key, one.Subjects, one.Places = string(f.Node(group[0]).ID), f.NodeSubjects(group), places(f, group...)
			one.Message = fmt.Sprintf("The best way of %s to the gateway %s has a link with a margin of %s, limit %s. Add a router between, or move them. Measure on site.",
				rule.Tags(one.Subjects), rule.Named(f.Node(net.Root).Tag), db(one.Measured), db(one.Limit))
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return strong(5.1) },
	Quiet: func() *domaintest.Builder { return strong(5) },
}

// strong gives a room whose links are warned of under 16 dB, with a router so far
// from the gateway.
func strong(from float64) *domaintest.Builder {
	b := classroom(map[domain.ID]geom.Point{"rt": geom.Pt(from, 0)})
	setLimit(b.P, domain.LinkMarginAdvice, 16)
	return b
}

// weakly groups the routers that good links do not join to the root's.
func weakly(f *rule.Facts, net *radio.Net) [][]int {
	r, seen := f.Radio(), make([]bool, len(f.Radio().Nodes))
	spread := func(from int) []int {
		seen[from] = true
		group := []int{from}
		for k := 0; k < len(group); k++ {
			for _, j := range net.Parts[0] {
				if !seen[j] && units.AtMost(r.Settings.Advice, r.Margin(group[k], j)) {
					seen[j] = true
					group = append(group, j)
				}
			}
		}
		slices.Sort(group)
		return group
	}
	spread(net.Root)
	var out [][]int
	for _, i := range net.Parts[0] {
		if !seen[i] {
			out = append(out, spread(i))
		}
	}
	return out
}
