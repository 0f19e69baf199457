package capacity

import (
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// Parenting asks that every battery device can have a router of its own reach
// with room left. It is a maximum flow and not a count: see propose.Parents.
var Parenting = rule.Rule{
	ID: "capacity-parenting", Title: "Battery devices without a router", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.ChildrenPerRouter, domain.DevicesPerRoom},
	Why:     "A battery device sleeps and needs a mains-powered neighbor that keeps its messages; without one it drops out.",
	Source:  commonPractice + "; the assignment is a maximum flow (Ford and Fulkerson, 1956)",
	Example: "At 6 per router, 1 router carries 6 battery devices; a seventh is 1 short and takes 1 router more. 24 devices on 4 routers fit by count, but when 7 of them hear only one router, 1 is short near it.",
	Check: func(f *rule.Facts) []rule.Finding {
		if settled(f) {
			return nil
		}
		if p := f.Parenting(); len(p.Short) > 0 {
			return []rule.Finding{short(f, p)}
		}
		return nil
	},
	Fires: func() *domaintest.Builder { return crowded(7) },
	Quiet: func() *domaintest.Builder { return crowded(6) },
}

func short(f *rule.Facts, p *propose.Parenting) rule.Finding {
	n, router := len(p.Short), routerType(f.Project)
	out := rule.AtMost(float64(p.Children), float64(p.Children-n), "battery devices")
	for _, id := range p.Short {
		out.Subjects = append(out.Subjects, f.Device(id).Subject())
	}
	have := fmt.Sprintf("%s with room for %d", rule.Many(p.Routers, "router"), p.Capacity)
	if p.Routers == 0 {
		have = "no router at all"
	}
	out.Message = fmt.Sprintf("%s and %s: %d short (%s). ", rule.Many(p.Children, "battery device"), have, n, rule.Tags(out.Subjects))
	if p.Capacity >= p.Children {
		out.Message = fmt.Sprintf("%s and %s fit by count, but not by reach: %d short (%s)%s. ", rule.Many(p.Children, "battery device"), have, n, rule.Tags(out.Subjects), near(f, p))
	}
	each := f.Limit(domain.ChildrenPerRouter)
	if router != nil && router.Children > 0 {
		each = float64(router.Children)
	}
	if each < 1 {
		out.Message += "No router takes a battery device at a limit of 0 each: use mains devices."
		return out
	}
	extra := int(math.Ceil(float64(n) / each))
	total, most := len(f.Devices)+extra, f.Limit(domain.DevicesPerRoom)
	if float64(total) > most {
		out.Message += fmt.Sprintf("%s more at %s each would make %d devices, over the limit of %s: split the room.", rule.Many(extra, "router"), rule.Number(each), total, rule.Number(most))
		return out
	}
	out.Message += fmt.Sprintf("Add %s at %s each (%d devices in all, limit %s), or use mains devices.", rule.Many(extra, "router"), rule.Number(each), total, rule.Number(most))
	if reckoned(f, p) { // where they are on the plan
		out.Fix = f.MoreRouters(propose.RouterWish{})
	}
	if out.Fix == nil && router != nil {
		out.Fix = addRouters(f, p, router, extra, int(each))
	}
	return out
}

// reckoned tells that what each device that is short would hear of a new router is
// for the plan to say: it stands there, and states no routers itself.
func reckoned(f *rule.Facts, p *propose.Parenting) bool {
	return !slices.ContainsFunc(p.Short, func(id domain.ID) bool {
		d := f.Device(id)
		return d.Device.At == nil || len(d.Hears) > 0
	})
}

// near tells at which routers the room runs out.
func near(f *rule.Facts, p *propose.Parenting) string {
	if len(p.Near) == 0 {
		return ", which hear no router"
	}
	tags := make([]rule.Subject, len(p.Near))
	for i, id := range p.Near {
		tags[i] = f.Device(id).Subject()
	}
	return " near " + rule.Tags(tags)
}

// routerType gives the book's first type that only relays, nil where there is none.
func routerType(p *domain.Project) *equipment.Type {
	for i := range p.Book {
		if t := &p.Book[i]; t.Kind == equipment.Router && t.Routes {
			return t
		}
	}
	return nil
}

// addRouters adds routers within reach of the devices that are short, and
// assigns all parents.
func addRouters(f *rule.Facts, p *propose.Parenting, t *equipment.Type, extra, each int) *rule.Fix {
	fix := &rule.Fix{Title: fmt.Sprintf("Add %s near the devices that are short and assign parents", rule.Many(extra, "router"))}
	if extra == 1 {
		fix.Title = "Add a router near the devices that are short and assign parents"
	}
	parents := make(map[domain.ID]domain.ID, p.Children)
	for child, parent := range p.Parent {
		parents[child] = parent
	}
	ids := make([]domain.ID, extra)
	for i := range ids {
		ids[i] = f.FreshID(fmt.Sprint("router ", i))
		fix.Edits = append(fix.Edits, edit.AddDevice{ID: ids[i], Type: t.ID})
	}
	for i, child := range p.Short {
		id := ids[i/each]
		parents[child] = id
		if d := f.Device(child); len(d.Hears) > 0 {
			text := string(id)
			for _, heard := range d.Hears {
				if r := f.Device(heard); r != nil && r.Routes() {
					text += ", " + string(heard)
				}
			}
			fix.Edits = append(fix.Edits, edit.SetField{Path: "devices/" + string(child) + "/hears", Text: text})
		}
	}
	fix.Edits = append(fix.Edits, edit.SetParents{Parents: parents})
	return fix
}
