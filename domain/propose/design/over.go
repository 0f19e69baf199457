package design

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/equipment"
)

// over tells that the design would go beyond what one room may have. It then
// proposes nothing, since a part of it would serve nobody, and says into how
// many areas the room is to be divided at least: the largest of what each limit
// asks for.
func (d *draft) over() bool {
	devices, sensors, batteries := len(d.r.Design.Devices), 0, 0
	for i := range d.r.Design.Devices {
		t := d.typeOf(&d.r.Design.Devices[i])
		if t == nil {
			continue
		}
		tr := t.Kind.Traits()
		if tr.Presence {
			sensors++
		}
		if tr.Buttons && !tr.OwnOnly && t.Supply == equipment.Battery {
			batteries++
		}
	}
	areas, words := 1, ""
	ask := func(n int, one string, limit domain.LimitID) {
		most := d.limit(limit)
		if float64(n) <= most || most < 1 {
			return
		}
		if k := int(math.Ceil(float64(n) / most)); k > areas {
			areas, words = k, fmt.Sprintf("it takes %s, limit %d", many(n, one), int(most))
		}
	}
	ask(devices, "device", domain.DevicesPerRoom)
	ask(max(sensors, d.sensorsNeeded), "presence sensor", domain.PresencePerRoom)
	ask(batteries, "battery wall station", domain.BatteryStations)
	if n := len(d.parenting().Short); n > 0 && areas == 1 {
		areas, words = 2, fmt.Sprintf("%s find no router with room", many(n, "battery device"))
	}
	if areas == 1 {
		return false
	}
	d.out.Changes, d.out.Assumed = nil, nil
	d.short("Divide the room first: %s, so at least %d areas. On its storey's plan the program proposes how", words, areas)
	return true
}
