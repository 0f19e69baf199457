package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// NoWindow looks for daylight sensors where no daylight comes in.
var NoWindow = rule.Rule{
	ID: "daylighting-no-window", Title: "Daylight sensor in a room without windows", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "The sensor sees only the room's own light and drives it up and down, or does nothing at all.",
	Source:  commonPractice,
	Example: "A daylight sensor passes in a room with windows or with loads under a rooflight, and does not pass in a room with neither.",
	Check: func(f *rule.Facts) []rule.Finding {
		if f.Room.Windows || f.Count(func(d *rule.Device) bool { return d.Traits.Daylight }) == 0 {
			return nil
		}
		for i := range f.Loads {
			if f.Loads[i].Zone == domain.ZoneRoof {
				return nil
			}
		}
		var out []rule.Finding
		for i := range f.Devices {
			if d := &f.Devices[i]; d.Traits.Daylight {
				out = append(out, rule.Finding{Key: string(d.ID), Subjects: []rule.Subject{d.Subject(), {Part: "facts", ID: "windows", Tag: "Windows"}},
					Message: fmt.Sprintf("The daylight sensor %s hangs in a room without windows or rooflights: say that the room has windows, or remove the sensor.", rule.Named(d.Tag))})
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("facts/windows", "no") },
	Quiet: func() *domaintest.Builder {
		return domaintest.Classroom().Set("facts/windows", "no", "loads/l3/zone", string(domain.ZoneRoof))
	},
}
