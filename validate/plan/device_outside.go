package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// DeviceOutside looks for devices that stand outside of their room. One within
// the depth of a wall is in the room: outlines run along walls' faces or
// middles.
var DeviceOutside = rule.Rule{
	ID: "plan-device-outside", Title: "Device outside of its room", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.OutsideOutline},
	Why:     "The installer mounts it where the plan shows it: in another room it hears, sees and switches the wrong things.",
	Source:  commonPractice,
	Example: "A station 8 in outside of the outline, in the wall, passes; one 1 ft outside does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		if !f.Drawn() {
			return nil
		}
		var out []rule.Finding
		limit := f.Limit(domain.OutsideOutline)
		for i := range f.Devices {
			d := &f.Devices[i]
			at := d.Device.At // not its place in the list
			if at == nil || f.Room.Outline.Contains(*at) {
				continue
			}
			_, beyond := f.Room.Outline.NearestOnBoundary(*at)
			if units.AtMost(beyond, limit) {
				continue
			}
			one := rule.AtMost(beyond, limit, "m")
			one.Key, one.Subjects, one.Places = string(d.ID), []rule.Subject{d.Subject()}, []geom.Point{*at}
			one.Message = fmt.Sprintf("%s stands %s outside of room %s, limit %s: move it into the room, or give it to the room that it stands in.",
				rule.Named(d.Tag), units.Length(units.Metres(beyond), f.Project.Units), f.Room.Number, units.Length(units.Metres(limit), f.Project.Units))
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return withStationAt(geom.Pt(-0.3048, 2)) },
	Quiet: func() *domaintest.Builder { return withStationAt(geom.Pt(-0.2032, 2)) },
}

func withStationAt(at geom.Point) *domaintest.Builder {
	b := drawn()
	b.R.Design.Device("st").At = &at
	return settled(b)
}
