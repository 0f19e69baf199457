package propose

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/radio"
	"scopewright/domain/units"
)

// RouterPlan is where more routers would go so that a room's radio does.
type RouterPlan struct {
	Type   *equipment.Type
	At     []geom.Point
	Sites  int     // that were looked at: a grid inside the room
	Bound  int     // no answer at these sites has fewer
	Proved bool    // At is the fewest
	Margin float64 // dB, that each link to a new router has at least

	// Parents assigns the battery devices, old and new routers alike; new ones
	// have the IDs that were asked for.
	Parents map[domain.ID]domain.ID
}

// RouterWish is what a room's radio is to do.
type RouterWish struct {
	Ways  int // that each router is to have to the gateway, sharing none: 1 or 2
	Hears int // routers that each battery device is to hear; 0: one
}

// mostSites bounds the grid of sites: its links are worked out in about a
// millisecond.
const mostSites = 64

// siteChecks bounds the search: rules ask for a plan at an edit.
const siteChecks = 4000

// mostRouters is how many routers are proposed at once; where more are wanted the
// devices stand wrong, or the room is several.
const mostRouters = 8

// closestSites is the least distance of sites, m: nearer ones hear the same.
const closestSites = 1.0

// MoreRouters proposes the fewest routers to add to a room so that all routers
// hear the gateway, directly or through others, and each battery device a router
// with room left. Sites are a grid inside the outline, or the box of the devices,
// at the height where the book's first type that only relays is mounted. Links to
// new routers must have the margin that is warned of, or where that cannot be the
// one that is needed. ok is false where no such routers do, where none are wanted
// and where nothing stands on the plan. ids gives the IDs of the new devices.
func MoreRouters(p *domain.Project, r *domain.Resolved, wish RouterWish, ids func(i int) domain.ID) (plan RouterPlan, ok bool) {
	t := relayType(p)
	if t == nil {
		return plan, false
	}
	sites := sitesIn(r, p.Units)
	if len(sites) == 0 {
		return plan, false
	}
	tried := withRouters(r, t, sites, func(i int) domain.ID { return domain.ID(fmt.Sprint("site ", i)) })
	room := radio.NewRoom(p, tried)
	if room == nil {
		return plan, false
	}
	x := newExtension(p, r, room, len(sites))
	for _, margin := range []float64{math.Max(room.Needed(), room.Settings.Advice), room.Needed()} {
		found := x.problem(wish, margin).Solve()
		if !found.Found || len(found.Chosen) == 0 {
			continue
		}
		plan = RouterPlan{Type: t, Sites: len(sites), Bound: found.Bound, Proved: found.Proved, Margin: margin}
		for _, i := range found.Chosen {
			plan.At = append(plan.At, x.place(i))
		}
		after := withRouters(r, t, plan.At, ids)
		plan.Parents = ParentsBy(p, &after.Design, radio.NewRoom(p, after)).Parent
		return plan, true
	}
	return plan, false
}

// relayType gives the book's first type that only relays.
func relayType(p *domain.Project) *equipment.Type {
	for i := range p.Book {
		if t := &p.Book[i]; t.Kind == equipment.Router && t.Routes {
			return t
		}
	}
	return nil
}

// withRouters gives the room with routers added at places.
func withRouters(r *domain.Resolved, t *equipment.Type, places []geom.Point, ids func(i int) domain.ID) *domain.Resolved {
	out := *r
	out.Design.Devices = slices.Clone(r.Design.Devices)
	for i := range places {
		out.Design.Devices = append(out.Design.Devices, domain.Device{ID: ids(i), Type: t.ID, At: &places[i]})
	}
	return &out
}

// sitesIn lays a grid over the room, clear of its edges by about half a step, at
// distances from its corner that can be measured off: whole feet, or tenths of a
// meter.
func sitesIn(r *domain.Resolved, sys units.System) []geom.Point {
	measure := 0.1
	if sys == units.US {
		measure = 0.3048
	}
	box, drawn := r.Extent()
	if !drawn {
		return nil
	}
	for step := math.Max(closestSites, math.Sqrt(box.Width()*box.Height()/mostSites)); ; step *= 1.1 {
		columns, rows := max(1, int(box.Width()/step)), max(1, int(box.Height()/step))
		if columns*rows > mostSites {
			continue
		}
		var out []geom.Point
		for row := range rows {
			for column := range columns {
				off := geom.Pt(box.Width()*(float64(column)+0.5)/float64(columns), box.Height()*(float64(row)+0.5)/float64(rows))
				at := box.Min.Add(geom.Pt(math.Round(off.X/measure)*measure, math.Round(off.Y/measure)*measure))
				if r.Outline.Empty() || r.Outline.Contains(at) {
					out = append(out, at)
				}
			}
		}
		return out
	}
}

// extension knows a room with all sites taken: who would hear whom.
type extension struct {
	p        *domain.Project
	room     *radio.Room
	routers  []int // nodes, the root first
	sites    []int // nodes, those with the best links first
	children []int // nodes
	each     int
}

func newExtension(p *domain.Project, r *domain.Resolved, room *radio.Room, sites int) *extension {
	x := &extension{p: p, room: room, each: int(p.Limits.Value(domain.ChildrenPerRouter))}
	first := len(r.Design.Devices)
	for i := range room.Nodes {
		switch n := &room.Nodes[i]; {
		case n.Index >= first:
			x.sites = append(x.sites, i)
		case n.Routes:
			x.routers = append(x.routers, i)
		default:
			x.children = append(x.children, i)
		}
	}
	if at := slices.IndexFunc(x.routers, func(i int) bool { return room.Nodes[i].Gateway() }); at > 0 {
		x.routers[0], x.routers[at] = x.routers[at], x.routers[0]
	}
	quality := make(map[int]float64, sites)
	for _, s := range x.sites {
		quality[s] = x.quality(s)
	}
	slices.SortStableFunc(x.sites, func(a, b int) int { return -cmp.Compare(quality[a], quality[b]) })
	return x
}

// quality is the mean probability that links from a site are up: of sites that do
// as well the one with the better links is taken.
func (x *extension) quality(site int) float64 {
	sum := 0.0
	for _, list := range [][]int{x.routers, x.children} {
		for _, i := range list {
			sum += radio.Up(x.room.Margin(site, i), 2*x.room.Settings.Sigma)
		}
	}
	return sum
}

func (x *extension) place(site int) geom.Point { return x.room.Nodes[x.sites[site]].At }

// problem states what is sought, with links to sites from a margin on.
func (x *extension) problem(wish RouterWish, margin float64) RelayProblem {
	p := RelayProblem{Routers: len(x.routers), Sites: len(x.sites), Ways: wish.Ways, Most: mostRouters, Checks: siteChecks, Alike: len(x.routers) > 0 && !x.room.Nodes[x.routers[0]].Gateway()}
	nodes := append(slices.Clone(x.routers), x.sites...)
	for i, a := range nodes {
		p.Capacity = append(p.Capacity, x.capacity(a))
		for j := range i {
			if x.linked(a, nodes[j], i >= len(x.routers), margin) {
				p.Links = append(p.Links, [2]int{j, i})
			}
		}
	}
	for _, c := range x.children {
		child := RelayChild{Wants: wish.Hears, Mains: !x.room.Nodes[c].Battery}
		stated := x.room.Nodes[c].Device.Hears
		for i, r := range nodes {
			switch {
			case len(stated) > 0 && i < len(x.routers):
				if slices.Contains(stated, x.room.Nodes[r].Device.ID) {
					child.Hears = append(child.Hears, i)
				}
			case len(stated) == 0 && x.linked(c, r, i >= len(x.routers), margin):
				child.Hears = append(child.Hears, i)
			}
		}
		p.Children = append(p.Children, child)
	}
	all := make([]int, len(nodes))
	for i := range all {
		all[i] = i
	}
	for i := range x.room.Unplaced {
		if x.room.Unplaced[i].Battery { // it may come to stand anywhere, and wants room
			p.Children = append(p.Children, RelayChild{Hears: all})
		}
	}
	return p
}

func (x *extension) linked(a, b int, added bool, margin float64) bool {
	if added {
		return units.AtMost(margin, x.room.Margin(a, b))
	}
	return x.room.Hears(a, b)
}

func (x *extension) capacity(node int) int {
	if n := x.room.Nodes[node].Children; n > 0 {
		return n
	}
	return x.each
}
