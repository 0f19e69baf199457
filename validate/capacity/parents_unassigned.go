package capacity

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// ParentsUnassigned asks for the parents of battery devices to be written down
// where a full assignment exists.
var ParentsUnassigned = rule.Rule{
	ID: "capacity-parents-unassigned", Title: "Parents of battery devices not assigned", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.ChildrenPerRouter},
	Why:     "Left to chance, battery devices crowd on the first router that answers and the last ones find none.",
	Source:  commonPractice,
	Example: "A battery sensor with no parent, with one out of its reach, or as the seventh on a router of 6, counts; with all parents assigned nothing does.",
	Check: func(f *rule.Facts) []rule.Finding {
		if settled(f) {
			return nil
		}
		open := unassigned(f)
		if len(open) == 0 || len(f.Parenting().Short) > 0 {
			return nil
		}
		out := rule.AtMost(float64(len(open)), 0, "devices")
		out.Subjects = open
		out.Message = fmt.Sprintf("%s without a parent that it hears and that has room: %s. A full assignment exists: assign parents.",
			rule.Many(len(open), "battery device"), rule.Tags(open))
		parents := f.Parenting().Parent
		if byRadio := f.ParentingByRadio(); len(byRadio.Short) == 0 {
			parents = byRadio.Parent // within reach on the plan
		}
		out.Fix = &rule.Fix{Title: "Assign parents", Edits: []edit.Edit{edit.SetParents{Parents: parents}}}
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("devices/ps/parent", "") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

// settled tells that each battery device has a parent that does, so that
// nothing need be searched for.
func settled(f *rule.Facts) bool {
	each := f.Limit(domain.ChildrenPerRouter)
	for i := range f.Devices {
		if f.Devices[i].Battery() && !parented(f, i, each) {
			return false
		}
	}
	return true
}

// parented tells that the battery device at an index has a parent that routes,
// that it hears, and that has room for it and the children ahead of it.
func parented(f *rule.Facts, at int, each float64) bool {
	d := &f.Devices[at]
	r := f.Device(d.Parent)
	return r != nil && r.Routes() && (len(d.Hears) == 0 || slices.Contains(d.Hears, r.ID)) && childrenBefore(f, at) < capacityOf(r, each)
}

// unassigned gives the battery devices whose parent does not do. A parent that
// is gone is another rule's.
func unassigned(f *rule.Facts) []rule.Subject {
	var open []rule.Subject
	each := f.Limit(domain.ChildrenPerRouter)
	for i := range f.Devices {
		d := &f.Devices[i]
		if lost := d.Parent != "" && f.Device(d.Parent) == nil; d.Battery() && !lost && !parented(f, i, each) {
			open = append(open, d.Subject())
		}
	}
	return open
}

func capacityOf(r *rule.Device, each float64) float64 {
	if r.Type.Children > 0 {
		return float64(r.Type.Children)
	}
	return each
}

// childrenBefore counts the battery devices ahead of one with the same parent.
func childrenBefore(f *rule.Facts, at int) float64 {
	n := 0
	for i := range f.Devices[:at] {
		if d := &f.Devices[i]; d.Battery() && d.Parent == f.Devices[at].Parent {
			n++
		}
	}
	return float64(n)
}
