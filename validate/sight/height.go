package sight

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Height holds each presence sensor to the mounting heights that its type is
// for; a type that states none is not expected to work at any height.
var Height = rule.Rule{
	ID: "sight-height", Title: "Presence sensor mounted at a height that it is not made for", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.SensorHigh, domain.CeilingHeight, domain.WallHeight},
	Why:     "From higher up a sensor covers more floor and feels less: people stand under it in the dark. Lower than it is made for, it covers less than its data say.",
	Source:  "The type's data; where it states no height, 12 ft (3.66 m): " + commonPractice,
	Example: "A type for 7 to 12 ft (2.134 to 3.658 m) passes at 12 ft, not at 12.1 ft; one that states no height passes at 12 ft and is warned of above.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			if d := &f.Devices[i]; d.Traits.Presence {
				if one, beyond := height(f, d); beyond {
					one.Key, one.Subjects = string(d.ID), []rule.Subject{d.Subject()}
					out = append(out, one)
				}
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("facts/ceiling_m", "12.1 ft") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("facts/ceiling_m", "12 ft") },
}

func height(f *rule.Facts, d *rule.Device) (out rule.Finding, beyond bool) {
	if d.Height == 0 && f.Room.Ceiling == 0 {
		return out, false // nobody has said how high it hangs
	}
	m, _ := f.Project.HeightOf(f.Room.Room, d.Device)
	h, low, high, usual := float64(m), float64(d.Type.Lowest), float64(d.Type.Highest), f.Limit(domain.SensorHigh)
	said := func(limit float64, than, do string) string {
		return fmt.Sprintf("%s hangs at %s, %s than %s: %s", rule.Named(d.Tag), length(f, h), than, length(f, limit), do)
	}
	switch {
	case low > 0 && !units.AtMost(low, h):
		out = rule.AtLeast(h, low, "m")
		out.Message = said(low, "lower", "its type is not made for that, and what it sees is not reckoned. Choose a type for this height.")
	case high > 0 && !units.AtMost(h, high):
		out = rule.AtMost(h, high, "m")
		out.Message = said(high, "higher", "its type is not made for that, and what it sees is not reckoned. Hang it lower, or choose a type for high ceilings.")
	case high == 0 && !units.AtMost(h, usual):
		out = rule.AtMost(h, usual, "m")
		out.Severity = rule.Warning
		out.Message = said(usual, "higher", "its type states no height that it is made for. Hang it lower, choose a type for high ceilings, or enter the type's heights in the equipment book.")
	}
	return out, out.Numbers
}
