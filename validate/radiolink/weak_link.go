package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/radio"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// WeakLink judges the links of battery devices to their parents: below what a link
// needs is an error, below what is warned of a warning where no better parent is
// at hand. A device that hears no router at all is another rule's, and so is one
// for which no router in reach has room.
var WeakLink = rule.Rule{
	ID: "radiolink-weak-link", Title: "Weak link to a parent", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  withNeeded(domain.LinkMarginAdvice),
	Why:     "A link without margin works on a quiet day: people, doors and furniture take 10 dB, and then presses are lost and batteries drain on repeats.",
	Source:  model + "; margins: " + commonPractice,
	Example: "With radios that carry 10 m in the open, a sensor 10 m from its parent passes with a margin of 10 dB; at 10.1 m it does not. Under 16 dB, from 5.01 m on, a link is warned of where no better parent has room.",
	Check: func(f *rule.Facts) []rule.Finding {
		r := f.Radio()
		if r == nil {
			return nil
		}
		var out []rule.Finding
		for i := range r.Nodes {
			up := parent(r, &r.Nodes[i])
			if up < 0 || units.AtMost(r.Settings.Advice, r.Margin(i, up)) && r.Hears(i, up) {
				continue
			}
			if outOfReach(f, i) {
				continue
			}
			if one, some := weakLink(f, i, up); some {
				out = append(out, one)
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return classroom(map[domain.ID]geom.Point{"ps": geom.Pt(-11.1, 0), "rt1": geom.Pt(-9, 0), "rt2": geom.Pt(-9, 1)})
	},
	Quiet: func() *domaintest.Builder {
		return classroom(map[domain.ID]geom.Point{"ps": geom.Pt(-11, 0), "rt1": geom.Pt(-9, 0), "rt2": geom.Pt(-9, 1)})
	},
}

func weakLink(f *rule.Facts, child, up int) (one rule.Finding, some bool) {
	r, d := f.Radio(), f.Node(child)
	margin, hears := r.Margin(child, up), r.Hears(child, up)
	better := betterParent(f, child, up)
	if !hears && better < 0 && short(f, d.ID) || hears && better >= 0 {
		return one, false // told by the rules on parenting and on better parents
	}
	limit, advice := r.Needed(), "Move it, or add a router between."
	if hears {
		limit = r.Settings.Advice
	}
	one = rule.AtLeast(margin, limit, "dB")
	one.Key, one.Subjects, one.Places = string(d.ID), []rule.Subject{d.Subject(), f.Node(up).Subject()}, places(f, child, up)
	if hears {
		one.Severity, one.Key = rule.Warning, string(d.ID)+"/advice"
	}
	if better >= 0 {
		advice = fmt.Sprintf("%s is a better parent, with %s.", rule.Named(f.Node(better).Tag), db(r.Margin(child, better)))
		one.Fix = reassign(f)
	}
	one.Message = fmt.Sprintf("The link of %s to its parent %s has a margin of %s, limit %s (%s): up %s of the time. %s Measure on site.",
		rule.Named(d.Tag), rule.Named(f.Node(up).Tag), db(margin), db(limit), through(f, child, up), percent(radio.Up(margin, r.Settings.Sigma)), advice)
	return one, true
}

func percent(share float64) string { return units.Trim(share*100, 1) + " %" }

// betterParent gives the parent that the best assignment has for a child, if its
// link is one that is not warned of or the present one does not hold; -1 where the
// child is best off as it is.
func betterParent(f *rule.Facts, child, up int) int {
	r := f.Radio()
	id, some := f.ParentingByRadio().Parent[r.Nodes[child].Device.ID]
	other := r.Find(id)
	if !some || other < 0 || other == up || !r.Hears(child, other) {
		return -1
	}
	if r.Hears(child, up) && !units.AtMost(r.Settings.Advice, r.Margin(child, other)) {
		return -1
	}
	return other
}

// short tells that no router in reach has room for a battery device.
func short(f *rule.Facts, id domain.ID) bool {
	_, placed := f.ParentingByRadio().Parent[id]
	return !placed
}

// reassign gives all battery devices the parents of the best assignment.
func reassign(f *rule.Facts) *rule.Fix {
	return &rule.Fix{Title: "Assign parents by the links on the plan", Edits: []edit.Edit{edit.SetParents{Parents: f.ParentingByRadio().Parent}}}
}
