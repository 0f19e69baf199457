package power

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// WiredUnfed asks for the device that feeds each wired one.
var WiredUnfed = rule.Rule{
	ID: "power-wired-unfed", Title: "Wired device without a supply", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A wired sensor takes its power from another device; without one it is dead.",
	Source:  commonPractice,
	Example: "A wired sensor fed by a contact input passes; one fed by nothing, or by a wall station, does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if !wired(d) {
				continue
			}
			by := f.Device(d.FedBy)
			if by == nil && d.FedBy != "" || by != nil && supply(f, by) > 0 { // one that is gone is another rule's
				continue
			}
			found := rule.Finding{Key: string(d.ID), Subjects: []rule.Subject{d.Subject()}}
			found.Message = fmt.Sprintf("The wired device %s is fed by nothing: choose a contact input with an auxiliary supply.", rule.Named(d.Tag))
			if by != nil {
				found.Message = fmt.Sprintf("The wired device %s is fed by %s, which has no auxiliary supply: choose a contact input.", rule.Named(d.Tag), rule.Named(by.Tag))
			}
			if feed := roomyFeed(f, d); feed != nil {
				found.Fix = rule.SetFields("Feed it from "+rule.Named(feed.Tag), "devices/"+string(d.ID)+"/fed_by", string(feed.ID))
			}
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return fedSensors(1, 0.9).Set("devices/w2/fed_by", "") },
	Quiet: func() *domaintest.Builder { return fedSensors(1, 0.9) },
}

func wired(d *rule.Device) bool { return d.Type != nil && d.Type.Supply == equipment.Wired }

// roomyFeed gives a device whose stated supply can take one more, nil where
// there is none.
func roomyFeed(f *rule.Facts, d *rule.Device) *rule.Device {
	for i := range f.Devices {
		feed := &f.Devices[i]
		if feed.Type == nil || feed.Type.Aux == 0 {
			continue
		}
		watts := float64(d.Type.Draw)
		for j := range f.Devices {
			if s := &f.Devices[j]; s.FedBy == feed.ID && wired(s) {
				watts += float64(s.Type.Draw)
			}
		}
		if units.AtMost(watts, float64(feed.Type.Aux)) {
			return feed
		}
	}
	return nil
}
