package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// BetterParent looks for battery devices whose link to their parent is one that is
// warned of, while another router with room gives one that is not.
var BetterParent = rule.Rule{
	ID: "radiolink-better-parent", Title: "A better parent is at hand", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  withNeeded(domain.LinkMarginAdvice, domain.ChildrenPerRouter),
	Why:     "A battery device on a weak link repeats itself and drains, though a router beside it has room.",
	Source:  model + "; margins: " + commonPractice + "; parents by an assignment of least cost (Ford, 1956; Bellman, 1958)",
	Example: "With radios that carry 10 m in the open, a sensor 8 m from its parent has 11.9 dB, under the 16 dB that are warned of; a router 4 m away gives 18 dB: it is to be the parent. At 5 m from its parent the sensor passes.",
	Check: func(f *rule.Facts) []rule.Finding {
		r := f.Radio()
		if r == nil {
			return nil
		}
		var out []rule.Finding
		for i := range r.Nodes {
			up := parent(r, &r.Nodes[i])
			if up < 0 || !r.Hears(i, up) || units.AtMost(r.Settings.Advice, r.Margin(i, up)) {
				continue
			}
			better := betterParent(f, i, up)
			if better < 0 {
				continue
			}
			d := f.Node(i)
			one := rule.AtLeast(r.Margin(i, up), r.Settings.Advice, "dB")
			one.Key, one.Subjects, one.Places = string(d.ID), []rule.Subject{d.Subject(), f.Node(up).Subject()}, places(f, i, up)
			one.Message = fmt.Sprintf("The link of %s to its parent %s has a margin of %s, limit %s; %s has room and gives %s. Make that its parent.",
				rule.Named(d.Tag), rule.Named(f.Node(up).Tag), db(one.Measured), db(one.Limit), rule.Named(f.Node(better).Tag), db(r.Margin(i, better)))
			one.Fix = reassign(f)
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return advised(4, 8) },
	Quiet: func() *domaintest.Builder { return advised(4, 5) },
}

// advised gives a room whose links are warned of under 16 dB, with a sensor so far
// from the gateway and from its parent.
func advised(gateway, from float64) *domaintest.Builder {
	b := classroom(map[domain.ID]geom.Point{"ps": geom.Pt(gateway, 0), "lc": geom.Pt(gateway-from, 0), "ds": geom.Pt(gateway-from, 1)})
	setLimit(b.P, domain.LinkMarginAdvice, 16)
	return b
}
