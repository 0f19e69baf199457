package design

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
)

// windowZones sets the window zone of loads that state none, as a new load does, where
// the plan shows that most of their luminaires hang in one. A load that states another
// zone keeps it: somebody said so.
func (d *draft) windowZones() {
	room := d.daylit()
	if room == nil {
		return
	}
	rules := d.zoneRules()
	zones, err := rules.Measured(room.Space)
	if err != nil {
		return // lights said so where it met it; the rules of outlines say what is wrong
	}
	d.group(ofZones, "Window zones", "A new load states none until somebody says where it hangs. Daylight sensors, sheets and the energy code go by the zone: leave this out where none is meant.", []topic{ofLoads}, func() {
		for _, h := range rules.Hang(&zones, room.Space.Luminaires) {
			l := d.r.Design.Load(h.Load)
			if l == nil || l.Zone != "" && l.Zone != domain.ZoneNone || l.Layer != "" && l.Layer != domain.General || h.In(h.Most()) <= h.In(domain.ZoneNone) {
				continue
			}
			d.set("loads/"+string(l.ID), "zone", string(h.Most()))
			d.adds("%s: %s", strings.TrimSpace(l.Tag+" "+l.Name), h.Most())
		}
	})
}

// zoneRules are those that tell the rows at the windows apart.
func (d *draft) zoneRules() *daylight.ZoneRules {
	if d.o.Zones != nil {
		return d.o.Zones
	}
	return &daylight.ZoneCodes()[0].Rules
}
