// Package propose lets the program place, split and assign what a designer
// would otherwise try by hand.
package propose

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/radio"
	"scopewright/domain/units"
)

// Parenting is an assignment of battery devices to routers.
type Parenting struct {
	Routers  int
	Children int // battery devices
	Capacity int // of all routers together
	Parent   map[domain.ID]domain.ID
	Short    []domain.ID // battery devices that find no router with room
	Near     []domain.ID // the full routers that those could have used
	ByRadio  int         // battery devices whose reach was reckoned from the plan
}

// Parents assigns as many battery devices as possible to routers, each to one
// that it hears (all of the room where nothing else is said) and none beyond a
// router's capacity: the maximum flow from devices over reach to routers (Ford
// and Fulkerson, 1956). Of all such assignments it gives one that keeps most of
// the parents that the designer chose, and then the most even one. Geometry is
// not in it: reach is what Device.Hears says; see ParentsBy.
func Parents(p *domain.Project, d *domain.Design) Parenting { return ParentsBy(p, d, nil) }

// ParentsBy is Parents with the reach of radio on the plan: where a battery
// device states nothing in Hears and stands on the plan, it hears the routers
// whose links have the margin that is needed, and those that have no place yet.
// Links under the margin that is warned of are avoided before all else, and of
// even assignments it gives the one with the least sum of losses, then with the
// better worst link; further ties go by the order of the devices. A nil room
// tells nothing.
func ParentsBy(p *domain.Project, d *domain.Design, room *radio.Room) Parenting {
	g := newReach(p, d, room)
	return g.result(g.pairing.evenly())
}

// Short tells how many battery devices find no parent within the radio's reach,
// without working out who goes where best.
func Short(p *domain.Project, d *domain.Design, room *radio.Room) int {
	g := newReach(p, d, room)
	f := filling{room: g.pairing.capacity, by: make([][]int, len(g.routers)), seen: make([]bool, len(g.routers)), hears: make([][]int, len(g.children))}
	for c, list := range g.pairing.choices {
		for _, k := range list {
			f.hears[c] = append(f.hears[c], k.router)
		}
	}
	return f.short()
}

// reach is who hears whom in a room, and how many each router takes.
type reach struct {
	children, routers []*domain.Device
	pairing           pairing
	byRadio           int
}

func newReach(p *domain.Project, d *domain.Design, room *radio.Room) *reach {
	g := &reach{}
	each := int(p.Limits.Value(domain.ChildrenPerRouter))
	for i := range d.Devices {
		dev := &d.Devices[i]
		t := p.Book.Find(dev.Type)
		switch {
		case t == nil:
		case t.Routes:
			g.routers = append(g.routers, dev)
			if t.Children > 0 {
				g.pairing.capacity = append(g.pairing.capacity, t.Children)
			} else {
				g.pairing.capacity = append(g.pairing.capacity, each)
			}
		case t.Supply == equipment.Battery:
			g.children = append(g.children, dev)
		}
	}
	at := make([]int, len(g.routers)) // nodes of the radio, -1 none
	for r, dev := range g.routers {
		if at[r] = -1; room != nil {
			at[r] = room.Find(dev.ID)
		}
	}
	for _, c := range g.children {
		g.pairing.choices = append(g.pairing.choices, g.heard(c, room, at))
	}
	return g
}

// heard lists the routers that a battery device hears.
func (g *reach) heard(c *domain.Device, room *radio.Room, at []int) []choice {
	node := -1
	if room != nil {
		node = room.Find(c.ID)
	}
	if node >= 0 && len(c.Hears) == 0 {
		g.byRadio++
	}
	var out []choice
	for r, dev := range g.routers {
		k := choice{router: r, kept: dev.ID == c.Parent}
		if linked := node >= 0 && at[r] >= 0; linked {
			if len(c.Hears) == 0 && !room.Hears(node, at[r]) {
				continue
			}
			k.loss = room.Loss(node, at[r])
			k.weak = !units.AtMost(room.Settings.Advice, room.Margin(node, at[r]))
		}
		if len(c.Hears) == 0 || slices.Contains(c.Hears, dev.ID) {
			out = append(out, k)
		}
	}
	return out
}

func (g *reach) result(router []int) Parenting {
	out := Parenting{Routers: len(g.routers), Children: len(g.children), ByRadio: g.byRadio, Parent: make(map[domain.ID]domain.ID, len(g.children))}
	for _, c := range g.pairing.capacity {
		out.Capacity += c
	}
	near := map[int]bool{}
	for c, r := range router {
		if r >= 0 {
			out.Parent[g.children[c].ID] = g.routers[r].ID
			continue
		}
		out.Short = append(out.Short, g.children[c].ID)
		for _, k := range g.pairing.choices[c] {
			near[k.router] = true
		}
	}
	for r := range g.routers {
		if near[r] {
			out.Near = append(out.Near, g.routers[r].ID)
		}
	}
	return out
}
