// Package propose lets the program place, split and assign what a designer
// would otherwise try by hand.
package propose

import (
	"scopewright/domain"
	"scopewright/domain/equipment"
)

// Parenting is an assignment of battery devices to routers.
type Parenting struct {
	Routers  int
	Children int // battery devices
	Capacity int // of all routers together
	Parent   map[domain.ID]domain.ID
	Short    []domain.ID // battery devices that find no router with room
	Near     []domain.ID // the full routers that those could have used
}

// Parents assigns as many battery devices as possible to routers, each to one
// that it hears (all of the room where nothing else is said) and none beyond a
// router's capacity: the maximum flow from devices over reach to routers,
// found by augmenting paths (Ford and Fulkerson, 1956), which for n devices
// and m routers takes n searches of at most n m steps. Parents that the
// designer chose are kept where they fit; the rest go to the emptiest router.
// Geometry is not in it: reach is what Device.Hears says.
func Parents(p *domain.Project, d *domain.Design) Parenting {
	g := newReach(p, d)
	for c := range g.children {
		g.keepChosen(c)
	}
	for c := range g.children {
		if g.router[c] < 0 {
			g.place(c)
		}
	}
	return g.result()
}

type reach struct {
	children, routers []*domain.Device
	hears             [][]int // by child: routers
	capacity, used    []int
	router            []int // by child: its router, -1 none
	seen              []bool
}

func newReach(p *domain.Project, d *domain.Design) *reach {
	g := &reach{}
	at := map[domain.ID]int{}
	each := int(p.Limits.Value(domain.ChildrenPerRouter))
	for i := range d.Devices {
		dev := &d.Devices[i]
		t := p.Book.Find(dev.Type)
		switch {
		case t == nil:
		case t.Routes:
			at[dev.ID] = len(g.routers)
			g.routers = append(g.routers, dev)
			if t.Children > 0 {
				g.capacity = append(g.capacity, t.Children)
			} else {
				g.capacity = append(g.capacity, each)
			}
		case t.Supply == equipment.Battery:
			g.children = append(g.children, dev)
		}
	}
	g.used, g.seen = make([]int, len(g.routers)), make([]bool, len(g.routers))
	all := make([]int, len(g.routers))
	for i := range all {
		all[i] = i
	}
	for _, c := range g.children {
		g.router = append(g.router, -1)
		if len(c.Hears) == 0 {
			g.hears = append(g.hears, all)
			continue
		}
		var some []int
		for _, id := range c.Hears {
			if r, ok := at[id]; ok {
				some = append(some, r)
			}
		}
		g.hears = append(g.hears, some)
	}
	return g
}

func (g *reach) keepChosen(c int) {
	for _, r := range g.hears[c] {
		if g.routers[r].ID == g.children[c].Parent && g.used[r] < g.capacity[r] {
			g.router[c], g.used[r] = r, g.used[r]+1
			return
		}
	}
}

// place finds a router for child c, moving others where that helps.
func (g *reach) place(c int) {
	best := -1
	for _, r := range g.hears[c] {
		if g.used[r] < g.capacity[r] && (best < 0 || g.capacity[r]-g.used[r] > g.capacity[best]-g.used[best]) {
			best = r
		}
	}
	if best >= 0 {
		g.router[c], g.used[best] = best, g.used[best]+1
		return
	}
	clear(g.seen)
	g.augment(c)
}

func (g *reach) augment(c int) bool {
	for _, r := range g.hears[c] {
		if g.seen[r] {
			continue
		}
		g.seen[r] = true
		if g.used[r] < g.capacity[r] {
			g.router[c], g.used[r] = r, g.used[r]+1
			return true
		}
		for other := range g.children {
			if g.router[other] != r {
				continue
			}
			g.router[other] = -1
			if g.augment(other) {
				g.router[c] = r
				return true
			}
			g.router[other] = r
		}
	}
	return false
}

func (g *reach) result() Parenting {
	out := Parenting{Routers: len(g.routers), Children: len(g.children), Parent: make(map[domain.ID]domain.ID, len(g.children))}
	for _, c := range g.capacity {
		out.Capacity += c
	}
	near := map[int]bool{}
	for c, r := range g.router {
		if r >= 0 {
			out.Parent[g.children[c].ID] = g.routers[r].ID
			continue
		}
		out.Short = append(out.Short, g.children[c].ID)
		for _, r := range g.hears[c] {
			near[r] = true
		}
	}
	for r := range g.routers {
		if near[r] {
			out.Near = append(out.Near, g.routers[r].ID)
		}
	}
	return out
}
