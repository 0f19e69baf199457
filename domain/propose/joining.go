package propose

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/radio"
)

// Join is one step of bringing a room's radio up: a device, and the one through
// which it joins, which has joined before it.
type Join struct {
	Device  domain.ID
	Through domain.ID // empty: it starts the network, or nothing is known
	Hops    int       // to the first device; -1: none or unknown
	Margin  float64   // dB, of the link to Through; NaN where a place is missing
	Why     JoinNote
}

// JoinNote says what is special about a step.
type JoinNote string

// The notes. Most steps have none.
const (
	StartsNetwork JoinNote = "starts the network"
	OutOfReach    JoinNote = "no joined device in reach"
	PlaceUnknown  JoinNote = "not on the plan: reach not checked"
	NotItsParent  JoinNote = "its parent is not in reach"
)

// Joining gives the order in which a technician brings the devices of a room into
// its network: the gateway first, then the routers by hops from it, each through
// the joined router that it hears best, those with the better link first; then the
// battery devices, by the order of their parents. What does not reach a joined
// device comes last of its kind. room may be nil: nothing stands on the plan.
func Joining(p *domain.Project, d *domain.Design, room *radio.Room) []Join {
	j := &joining{p: p, d: d, room: room, at: map[domain.ID]int{}}
	if room != nil {
		j.net = room.Net()
	}
	j.routers()
	j.children()
	return j.list
}

type joining struct {
	p    *domain.Project
	d    *domain.Design
	room *radio.Room
	net  *radio.Net
	list []Join
	at   map[domain.ID]int // of those that have joined
}

func (j *joining) add(s Join) {
	j.at[s.Device] = len(j.list)
	j.list = append(j.list, s)
}

// kind gives a device's type if it has a radio.
func (j *joining) kind(dev *domain.Device) *equipment.Type {
	if t := j.p.Book.Find(dev.Type); t != nil && t.Supply != equipment.Wired {
		return t
	}
	return nil
}

func (j *joining) node(id domain.ID) int {
	if j.room == nil {
		return -1
	}
	return j.room.Find(id)
}

// routers joins the devices that relay.
func (j *joining) routers() {
	var rest []Join // without a place, or cut off
	var placed []int
	for i := range j.d.Devices {
		dev := &j.d.Devices[i]
		t := j.kind(dev)
		if t == nil || !t.Routes {
			continue
		}
		switch n := j.node(dev.ID); {
		case n < 0 && t.Kind == equipment.Gateway && (j.net == nil || !j.net.Gateway) && !j.started():
			j.add(Join{dev.ID, "", 0, math.NaN(), StartsNetwork})
		case n < 0:
			rest = append(rest, Join{dev.ID, "", -1, math.NaN(), PlaceUnknown})
		case j.net.Hops[n] < 0:
			_, best := j.room.Reached(n)
			rest = append(rest, Join{dev.ID, "", -1, best, OutOfReach})
		default:
			placed = append(placed, n)
		}
	}
	if len(placed) > 0 {
		j.byHops(placed)
	}
	if !j.started() && len(rest) > 0 {
		rest[0].Why, rest[0].Hops = StartsNetwork, 0
	}
	for _, s := range rest {
		j.add(s)
	}
}

func (j *joining) started() bool { return len(j.list) > 0 }

// byHops joins routers that reach the root, each through one of a hop less.
func (j *joining) byHops(nodes []int) {
	steps := make([]Join, 0, len(nodes))
	for _, n := range nodes {
		s := Join{Device: j.room.Nodes[n].Device.ID, Hops: j.net.Hops[n], Margin: math.Inf(-1)}
		if n == j.net.Root {
			s.Margin, s.Why = math.NaN(), StartsNetwork
			if j.started() { // a gateway without a place has started it
				s.Why = PlaceUnknown
			}
		}
		for _, o := range nodes {
			if m := j.room.Margin(n, o); j.net.Hops[o] == s.Hops-1 && j.room.Hears(n, o) && m > s.Margin {
				s.Through, s.Margin = j.room.Nodes[o].Device.ID, m
			}
		}
		steps = append(steps, s)
	}
	slices.SortStableFunc(steps, func(a, b Join) int {
		return cmp.Or(cmp.Compare(a.Hops, b.Hops), -cmp.Compare(a.Margin, b.Margin))
	})
	for _, s := range steps {
		j.add(s)
	}
}

// children joins the battery devices through their parents, and what else does
// not relay through the best router.
func (j *joining) children() {
	var steps []Join
	for i := range j.d.Devices {
		if dev := &j.d.Devices[i]; j.kind(dev) != nil && !j.kind(dev).Routes {
			steps = append(steps, j.child(dev))
		}
	}
	place := func(s Join) int {
		if at, ok := j.at[s.Through]; ok {
			return at
		}
		return math.MaxInt
	}
	slices.SortStableFunc(steps, func(a, b Join) int { return cmp.Compare(place(a), place(b)) })
	for _, s := range steps {
		j.add(s)
	}
}

func (j *joining) child(dev *domain.Device) Join {
	s := Join{Device: dev.ID, Hops: -1, Margin: math.NaN()}
	parent, joined := j.at[dev.Parent]
	if joined {
		s.Through = dev.Parent
	}
	n := j.node(dev.ID)
	if n < 0 {
		s.Why = PlaceUnknown
		if joined && j.list[parent].Hops >= 0 {
			s.Hops = j.list[parent].Hops + 1
		}
		return s
	}
	if up := j.node(dev.Parent); joined && up >= 0 && j.room.Hears(n, up) {
		s.Margin = j.room.Margin(n, up)
	} else if joined && up < 0 {
		s.Why = PlaceUnknown
	} else {
		reached, best := j.room.Reached(n)
		s.Through, s.Margin, s.Why = "", best, OutOfReach
		if len(reached) > 0 {
			s.Through, s.Why = j.room.Nodes[reached[0]].Device.ID, ""
			if dev.Parent != "" {
				s.Why = NotItsParent
			}
		}
	}
	if at, ok := j.at[s.Through]; ok && j.list[at].Hops >= 0 {
		s.Hops = j.list[at].Hops + 1
	}
	return s
}
