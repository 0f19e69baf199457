// Package presence judges presence sensors and what the intents make of them.
// It is one of the families of rules under validate.
package presence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// KindsMixed keeps occupancy and vacancy sensors out of one room.
var KindsMixed = rule.Rule{
	ID: "presence-kinds-mixed", Title: "Occupancy and vacancy sensors in one room", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "One sensor turns on what the other must leave to a person; what the room does then depends on which one saw you first.",
	Source:  commonPractice,
	Example: "Two vacancy sensors pass, as do two occupancy sensors; one of each does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		occupancy := f.Count(func(d *rule.Device) bool { return d.Traits.Presence && d.Presence == domain.Occupancy })
		vacancy := f.Count(func(d *rule.Device) bool { return d.Traits.Presence && d.Presence == domain.Vacancy })
		if occupancy == 0 || vacancy == 0 {
			return nil
		}
		// The greater number stays; a tie goes to vacancy, which lights nothing by itself.
		keep := domain.Vacancy
		if occupancy > vacancy {
			keep = domain.Occupancy
		}
		out := rule.Finding{Message: fmt.Sprintf("%d occupancy and %d vacancy sensors in one room, and only one kind is allowed: make all of them %s sensors, or split the room.", occupancy, vacancy, keep)}
		var pairs []string
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Traits.Presence || d.Presence == "" {
				continue
			}
			out.Subjects = append(out.Subjects, d.Subject())
			if d.Presence != keep {
				pairs = append(pairs, "devices/"+string(d.ID)+"/presence", string(keep))
			}
		}
		out.Fix = rule.SetFields(fmt.Sprintf("Make all %s sensors", keep), pairs...)
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Working(1, "ps-ceiling").Set("devices/w1/presence", "occupancy")
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Working(1, "ps-ceiling") },
}
