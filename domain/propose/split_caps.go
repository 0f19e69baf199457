package propose

import (
	"scopewright/domain"
	"scopewright/domain/equipment"
)

// tally counts what limits count of a room or a part of it.
type tally struct {
	devices, gateways, presence, stations, daylight, av int

	children int // battery devices
	capacity int // children that its routers take
}

func (t tally) plus(o tally) tally {
	return tally{t.devices + o.devices, t.gateways + o.gateways, t.presence + o.presence, t.stations + o.stations, t.daylight + o.daylight, t.av + o.av,
		t.children + o.children, t.capacity + o.capacity}
}

func (t tally) minus(o tally) tally {
	return tally{t.devices - o.devices, t.gateways - o.gateways, t.presence - o.presence, t.stations - o.stations, t.daylight - o.daylight, t.av - o.av,
		t.children - o.children, t.capacity - o.capacity}
}

// caps are a project's limits as a division meets them.
type caps struct {
	devices, gateways, presence, stations, daylight, av int // most an area

	all     tally           // of the whole room
	gateway *equipment.Type // that an area without one gets; nil: the room has none
	gives   int             // children that such a gateway takes
	router  *equipment.Type // that an area short of parents gets; nil: the book has none
	takes   int             // children that such a router takes
	each    int             // children per router that states none
}

func newCaps(p *domain.Project, d *domain.Design) *caps {
	limit := func(id domain.LimitID) int { return int(p.Limits.Value(id)) }
	c := &caps{devices: limit(domain.DevicesPerRoom), gateways: limit(domain.GatewaysPerRoom), presence: limit(domain.PresencePerRoom),
		stations: limit(domain.BatteryStations), daylight: limit(domain.DaylightPerRoom), av: limit(domain.AVPerRoom), each: limit(domain.ChildrenPerRouter)}
	for i := range d.Devices {
		t := p.Book.Find(d.Devices[i].Type)
		c.all = c.all.plus(c.count(t, &d.Devices[i]))
		if t != nil && t.Kind == equipment.Gateway && c.gateway == nil {
			c.gateway, c.gives = t, c.takesOf(t)
		}
	}
	for i := range p.Book {
		if t := &p.Book[i]; t.Kind == equipment.Router && t.Routes && c.router == nil {
			c.router, c.takes = t, c.takesOf(t)
		}
	}
	return c
}

// takesOf gives how many children a device of a type takes.
func (c *caps) takesOf(t *equipment.Type) int {
	switch {
	case !t.Routes:
		return 0
	case t.Children > 0:
		return t.Children
	}
	return c.each
}

// count tallies one device; its type is nil where the book does not have it.
func (c *caps) count(t *equipment.Type, d *domain.Device) tally {
	out := tally{devices: 1}
	if t == nil {
		return out
	}
	tr, battery := t.Kind.Traits(), t.Supply == equipment.Battery
	one := func(yes bool) int {
		if yes {
			return 1
		}
		return 0
	}
	out.gateways, out.av = one(t.Kind == equipment.Gateway), one(t.Kind == equipment.AV)
	out.presence, out.daylight = one(tr.Presence), one(tr.Daylight && d.Loop != domain.ClosedLoop)
	out.stations, out.children = one(tr.Buttons && !tr.OwnOnly && battery), one(battery)
	out.capacity = c.takesOf(t)
	return out
}

// needs gives how many devices k areas have in the end: with a gateway in each
// where the room has one, and with the routers that count says they are short of.
func (c *caps) needs(t tally, k int) int {
	n, gateways := t.devices, 0
	if c.gateway != nil {
		gateways = max(0, k-t.gateways)
	}
	n += gateways
	if short := t.children - t.capacity - gateways*c.gives; short > 0 && c.takes > 0 {
		n += ceil(short, c.takes)
	}
	return n
}

func ceil(n, most int) int {
	if most <= 0 {
		return n
	}
	return (n + most - 1) / most
}

// ceilings gives what each limit asks for, of the kinds that there are.
func (c *caps) ceilings(t tally) []Ceiling {
	var out []Ceiling
	add := func(id domain.LimitID, have, most int) {
		if have > 0 {
			out = append(out, Ceiling{id, have, most, max(1, ceil(have, most))})
		}
	}
	add(domain.DevicesPerRoom, t.devices, c.devices)
	add(domain.PresencePerRoom, t.presence, c.presence)
	add(domain.BatteryStations, t.stations, c.stations)
	add(domain.DaylightPerRoom, t.daylight, c.daylight)
	add(domain.GatewaysPerRoom, t.gateways, c.gateways)
	add(domain.AVPerRoom, t.av, c.av)
	if len(out) > 0 {
		out[0].Areas = c.fewest(t, 1)
	}
	return out
}

// fewest gives the fewest areas, from a number on, that hold all devices.
func (c *caps) fewest(t tally, from int) int {
	k := max(1, from)
	for k < t.devices && c.needs(t, k) > k*c.devices {
		k++
	}
	return k
}

// bound gives the fewest areas that a part can become.
func (c *caps) bound(t tally) int {
	k := max(1, ceil(t.presence, c.presence), ceil(t.stations, c.stations), ceil(t.daylight, c.daylight), ceil(t.gateways, c.gateways), ceil(t.av, c.av))
	return c.fewest(t, k)
}

// over gives the first limit that one area with this tally breaks.
func (c *caps) over(t tally) (Ceiling, bool) {
	for _, x := range c.counts(t) {
		if x.Have > x.Most {
			return x, true
		}
	}
	return Ceiling{}, false
}

// counts gives what one area has of each limited kind, what it gets included.
func (c *caps) counts(t tally) []Ceiling {
	out := c.ceilings(t)
	for i := range out {
		switch out[i].Limit {
		case domain.DevicesPerRoom:
			out[i].Have = c.needs(t, 1)
		case domain.GatewaysPerRoom:
			out[i].Have = max(t.gateways, 1)
		}
	}
	return out
}

// fits tells that one area with this tally is within all limits.
func (c *caps) fits(t tally) bool {
	if t.presence > c.presence || t.stations > c.stations || t.daylight > c.daylight || t.gateways > c.gateways || t.av > c.av || c.needs(t, 1) > c.devices {
		return false
	}
	if c.gateway != nil && t.gateways == 0 {
		if c.gateways < 1 {
			return false
		}
		t.capacity += c.gives
	}
	return t.children <= t.capacity || c.takes > 0
}
