package design

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/propose"
	"scopewright/domain/radio"
)

// gateway proposes the room's link to the building network.
func (d *draft) gateway() {
	isGateway := func(dev *domain.Device) bool { t := d.typeOf(dev); return t != nil && t.Kind == equipment.Gateway }
	for i := range d.r.Design.Devices {
		if isGateway(&d.r.Design.Devices[i]) {
			return
		}
	}
	types := d.ofKind(equipment.Gateway, func(*equipment.Type) bool { return true })
	if !d.use.network || len(types) == 0 || d.limit(domain.GatewaysPerRoom) < 1 || len(d.r.Design.Devices) == 0 {
		return
	}
	d.group(ofGateway, "Gateway", "Schedules, demand response and what the operator sees come over the building network; the room has one link to it.", nil, func() {
		id := d.device(types[0], d.above())
		d.stand(id, d.overDoor(), 0)
		d.adds("%s (%s)", d.tag(id), types[0].Name)
	})
}

// parenting gives the best parents of battery devices, by the reach of radio
// where they stand on the plan.
func (d *draft) parenting() propose.Parenting {
	return propose.ParentsBy(d.p, &d.r.Design, radio.NewRoom(d.p, d.r))
}

// routers proposes mains devices that relay radio where battery devices find
// none with room.
func (d *draft) routers() {
	short := d.parenting().Short
	if len(short) == 0 {
		return
	}
	types := d.ofKind(equipment.Router, func(t *equipment.Type) bool { return t.Routes })
	if len(types) == 0 {
		d.short("Parents: %s find no router with room, and the equipment book has no router", many(len(short), "battery device"))
		return
	}
	each := d.limit(domain.ChildrenPerRouter)
	if types[0].Children > 0 {
		each = float64(types[0].Children)
	}
	n := int(math.Ceil(float64(len(short)) / math.Max(1, each)))
	d.group(ofRouters, "Routers", fmt.Sprintf("Battery devices sleep and need a mains neighbor that keeps their messages; %s find none with room.", many(len(short), "of them")), []topic{ofPower, ofStations, ofPresence, ofDaylight, ofGateway}, func() {
		for range n {
			id := d.device(types[0], d.above())
			d.stand(id, d.overDoor(), 0)
			d.adds("%s (%s)", d.tag(id), types[0].Name)
		}
	})
}

// parents proposes a router for each battery device that has none.
func (d *draft) parents() {
	best := d.parenting()
	open := map[domain.ID]domain.ID{}
	var said []string
	for i := range d.r.Design.Devices {
		dev := &d.r.Design.Devices[i]
		if to, ok := best.Parent[dev.ID]; ok && dev.Parent != to {
			open[dev.ID] = to
			said = append(said, fmt.Sprintf("%s joins through %s", dev.Tag, d.tag(to)))
		}
	}
	if len(open) == 0 {
		return
	}
	d.group(ofParents, "Parents of battery devices", "Left to chance they crowd on the first router that answers, and the last ones find none.",
		[]topic{ofLoads, ofPower, ofStations, ofPresence, ofDaylight, ofGateway, ofRouters}, func() {
			d.do(edit.SetParents{Parents: open})
			d.now.Adds = said
		})
}
