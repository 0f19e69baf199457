package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// AuxSupply holds wired sensors to what the device that feeds them supplies.
// Start-up current and voltage drop are not in it.
var AuxSupply = rule.Rule{
	ID: "power-aux-supply", Title: "Auxiliary supply of wired sensors overloaded", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.AuxSupply},
	Why:     "An overloaded supply sags and all sensors on it drop out together, mostly when it is cold and they start at once.",
	Source:  commonPractice,
	Example: "At 6 W, 6 sensors of 0.9 W pass (5.4 W) and 7 do not (6.3 W); 6 of 1.0 W pass exactly.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			most := supply(f, d)
			if most == 0 {
				continue
			}
			watts, fed := 0.0, []rule.Subject(nil)
			for j := range f.Devices {
				if s := &f.Devices[j]; s.FedBy == d.ID && wired(s) {
					watts += float64(s.Type.Draw)
				}
			}
			if units.AtMost(watts, most) {
				continue
			}
			for j := range f.Devices {
				if s := &f.Devices[j]; s.FedBy == d.ID && wired(s) {
					fed = append(fed, s.Subject())
				}
			}
			found := rule.AtMost(watts, most, "W")
			found.Key, found.Subjects = string(d.ID), append([]rule.Subject{d.Subject()}, fed...)
			found.Message = fmt.Sprintf("%s feeds %s that take %s W, limit %s W: %s W over. Feed some from another contact input.",
				rule.Named(d.Tag), rule.Many(len(fed), "wired sensor"), rule.Number(watts), rule.Number(most), rule.Number(watts-most))
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return fedSensors(7, 0.9) },
	Quiet: func() *domaintest.Builder { return fedSensors(6, 0.9) },
}

// supply gives the watts that a device has for wired sensors, 0 where it feeds none.
func supply(f *rule.Facts, d *rule.Device) float64 {
	switch {
	case d.Type == nil:
		return 0
	case d.Type.Aux > 0:
		return float64(d.Type.Aux)
	case d.Traits.Power:
		return f.Limit(domain.AuxSupply)
	}
	return 0
}

// fedSensors gives a classroom with n wired sensors of so many watts on one
// contact input.
func fedSensors(n int, each units.Watts) *domaintest.Builder {
	b := domaintest.Classroom().Working(1, "cn-2") // w1
	for i := range b.P.Book {
		if b.P.Book[i].ID == "ps-wired" {
			b.P.Book[i].Draw = each
		}
	}
	b.Working(n, "ps-wired")
	return b.Spoil(func(d *domain.Design) {
		for i := range d.Devices {
			if d.Devices[i].Type == "ps-wired" {
				d.Devices[i].FedBy = "w1"
			}
		}
	})
}
