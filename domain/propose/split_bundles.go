package propose

import (
	"cmp"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/radio"
)

// bundle is what stays together: devices and loads that a wire ties.
type bundle struct {
	devices, loads []int // of the design
	tally          tally
	at             geom.Point // one of its things' places, in the room's own frame
	placed         bool
	follows        int // how many bundles without a place go with it
}

// thing is a device or a luminaire at its place, in the room's own frame.
type thing struct {
	bundle int
	at     geom.Point
}

// tie is how many links lead to another bundle.
type tie struct{ to, links int }

// split is a room with what decides how it can be divided.
type split struct {
	p     *domain.Project
	room  *domain.Resolved
	d     *domain.Design
	caps  *caps
	radio *radio.Room

	types   []*equipment.Type // of each device; nil where the book does not have it
	heard   []set             // by device: the routers that a battery device hears; nil where it says itself what it hears
	routers set               // devices that relay

	bundles    []bundle
	ofDevice   []int // bundle of each device
	ofLoad     []int
	ties       [][]tie
	things     []thing
	placed     int     // bundles that have a place
	angle      float64 // of the room's own frame against the plan's
	about      geom.Point
	shape      geom.Polygon // the outline in the room's own frame
	tried      int          // the most areas that were tried
	work       int          // that is left
	effort     effort
	known      map[string]*answer
	ranOut     bool
	deviceAt   map[domain.ID]int
	loadAt     map[domain.ID]int
	fixturesOf [][]geom.Point // by load
}

func newSplit(p *domain.Project, r *domain.Resolved, c *caps) *split {
	s := &split{p: p, room: r, d: &r.Design, caps: c, angle: mainDirection(r.Outline), about: r.Outline.Bounds().Center()}
	s.shape = r.Outline.Oriented().Map(s.own)
	s.deviceAt, s.loadAt = map[domain.ID]int{}, map[domain.ID]int{}
	for i := range s.d.Devices {
		s.deviceAt[s.d.Devices[i].ID] = i
	}
	for i := range s.d.Loads {
		s.loadAt[s.d.Loads[i].ID] = i
	}
	s.fixturesOf = make([][]geom.Point, len(s.d.Loads))
	for i := range r.Fixtures {
		if l, ok := s.loadAt[r.Fixtures[i].Load]; ok {
			s.fixturesOf[l] = append(s.fixturesOf[l], s.own(r.Fixtures[i].At))
		}
	}
	s.listen()
	s.bundle()
	s.tie()
	s.locate()
	s.follow()
	s.spread()
	return s
}

// along gives a point's coordinate on an axis: 0 is x, 1 is y.
func along(p geom.Point, axis int) float64 {
	if axis == 0 {
		return p.X
	}
	return p.Y
}

// own brings a point of the plan into the room's own frame, whose axes run along
// and across the room; plan brings it back.
func (s *split) own(p geom.Point) geom.Point  { return p.Rotate(s.about, -s.angle) }
func (s *split) plan(p geom.Point) geom.Point { return p.Rotate(s.about, s.angle) }

// listen finds out which routers battery devices hear, as Parents has it.
func (s *split) listen() {
	s.radio = radio.NewRoom(s.p, s.room)
	n := len(s.d.Devices)
	s.routers, s.heard = newSet(n), make([]set, n)
	for i := range s.d.Devices {
		t := s.p.Book.Find(s.d.Devices[i].Type)
		if s.types = append(s.types, t); t != nil && t.Routes {
			s.routers.add(i)
		}
	}
	for i, t := range s.types {
		dev := &s.d.Devices[i]
		if t == nil || t.Supply != equipment.Battery || len(dev.Hears) > 0 {
			continue
		}
		s.heard[i] = newSet(n)
		s.routers.each(func(r int) {
			if s.radio == nil || hears(s.radio, dev.ID, s.d.Devices[r].ID) {
				s.heard[i].add(r)
			}
		})
	}
}

// hears tells that a device hears a router, or that nothing is known of it.
func hears(room *radio.Room, child, router domain.ID) bool {
	a, b := room.Find(child), room.Find(router)
	return a < 0 || b < 0 || room.Hears(a, b)
}

// allHeard tells that each battery device of a piece hears all of its routers, so
// that counting them is enough.
func (s *split) allHeard(p *piece) bool {
	all, here := true, newSet(len(s.d.Devices))
	p.has.each(func(b int) {
		for _, i := range s.bundles[b].devices {
			if s.routers.has(i) {
				here.add(i)
			}
		}
	})
	p.has.each(func(b int) {
		for _, i := range s.bundles[b].devices {
			if t := s.types[i]; all && t != nil && t.Supply == equipment.Battery {
				all = s.heard[i] != nil && here.but(s.heard[i]).count() == 0
			}
		}
	})
	return all
}

// bundle joins what wires tie.
func (s *split) bundle() {
	n := len(s.d.Devices)
	root := make([]int, n+len(s.d.Loads))
	for i := range root {
		root[i] = i
	}
	var find func(int) int
	find = func(i int) int {
		if root[i] != i {
			root[i] = find(root[i])
		}
		return root[i]
	}
	join := func(a, b int) { a, b = find(a), find(b); root[max(a, b)] = min(a, b) }
	for i := range s.d.Devices {
		if from, ok := s.deviceAt[s.d.Devices[i].FedBy]; ok {
			join(i, from)
		}
	}
	for i := range s.d.Loads {
		if by, ok := s.deviceAt[s.d.Loads[i].Controller]; ok {
			join(n+i, by)
		}
	}
	at := map[int]int{}
	of := func(i int) int {
		r := find(i)
		if _, ok := at[r]; !ok {
			at[r] = len(s.bundles)
			s.bundles = append(s.bundles, bundle{})
		}
		return at[r]
	}
	s.ofDevice, s.ofLoad = make([]int, n), make([]int, len(s.d.Loads))
	for i := range s.d.Devices {
		b := of(i)
		s.ofDevice[i] = b
		s.bundles[b].devices = append(s.bundles[b].devices, i)
		s.bundles[b].tally = s.bundles[b].tally.plus(s.caps.count(s.types[i], &s.d.Devices[i]))
	}
	for i := range s.d.Loads {
		b := of(n + i)
		s.ofLoad[i] = b
		s.bundles[b].loads = append(s.bundles[b].loads, i)
	}
}

// ends gives the bundles at the two ends of a link that does something.
func (s *split) ends(k *domain.Link) (from, to int, ok bool) {
	dev, some := s.deviceAt[k.Device]
	load, there := s.loadAt[k.Load]
	if !some || !there || k.Do.Verb == domain.Nothing || k.Do.Verb == "" {
		return 0, 0, false
	}
	return s.ofDevice[dev], s.ofLoad[load], true
}

func (s *split) tie() {
	weights := map[[2]int]int{}
	for i := range s.d.Links {
		if a, b, ok := s.ends(&s.d.Links[i]); ok && a != b {
			weights[[2]int{min(a, b), max(a, b)}]++
		}
	}
	s.ties = make([][]tie, len(s.bundles))
	for pair, n := range weights {
		s.ties[pair[0]] = append(s.ties[pair[0]], tie{pair[1], n})
		s.ties[pair[1]] = append(s.ties[pair[1]], tie{pair[0], n})
	}
	for _, list := range s.ties {
		slices.SortFunc(list, func(a, b tie) int { return cmp.Compare(a.to, b.to) })
	}
}

// locate gives each bundle the place of that thing of its own which lies nearest
// to the middle of them all.
func (s *split) locate() {
	for i := range s.bundles {
		b := &s.bundles[i]
		var places []geom.Point
		for _, d := range b.devices {
			if at := s.d.Devices[d].At; at != nil {
				places = append(places, s.own(*at))
			}
		}
		for _, l := range b.loads {
			places = append(places, s.fixturesOf[l]...)
		}
		if len(places) == 0 {
			continue
		}
		var sum geom.Point
		for _, p := range places {
			sum = sum.Add(p)
			s.things = append(s.things, thing{i, p})
		}
		middle, least := sum.Times(1/float64(len(places))), math.Inf(1)
		for _, p := range places {
			if far := p.Distance(middle); far < least-geom.Coincident {
				b.at, least = p, far
			}
		}
		b.placed = true
		s.placed++
	}
}

// follow puts bundles without a place beside the one that they have most links
// to, or, of several, the one that has the fewest followers.
func (s *split) follow() {
	for again := s.placed > 0; again; {
		again = false
		for i := range s.bundles {
			b := &s.bundles[i]
			if b.placed {
				continue
			}
			best := tie{to: -1}
			for _, t := range s.ties[i] {
				o := &s.bundles[t.to]
				if o.placed && (t.links > best.links || t.links == best.links && o.follows < s.bundles[best.to].follows) {
					best = t
				}
			}
			if best.to >= 0 {
				b.at, b.placed, again = s.bundles[best.to].at, true, true
				s.bundles[best.to].follows++
			}
		}
	}
}

// spread puts what has neither a place nor a link, such as routers, evenly beside
// the others along the room.
func (s *split) spread() {
	var open, there []int
	for i := range s.bundles {
		if s.bundles[i].placed {
			there = append(there, i)
		} else {
			open = append(open, i)
		}
	}
	if len(there) == 0 {
		return
	}
	axis := 0
	if box := s.shape.Bounds(); box.Height() > box.Width() {
		axis = 1
	}
	slices.SortStableFunc(there, func(a, b int) int {
		return cmp.Compare(along(s.bundles[a].at, axis), along(s.bundles[b].at, axis))
	})
	for n, i := range open {
		beside := there[(2*n+1)*len(there)/(2*len(open))]
		s.bundles[i].at, s.bundles[i].placed = s.bundles[beside].at, true
	}
}

// unplaced gives the devices without a place on the plan.
func (s *split) unplaced() []domain.ID {
	var out []domain.ID
	for i := range s.d.Devices {
		if s.d.Devices[i].At == nil {
			out = append(out, s.d.Devices[i].ID)
		}
	}
	return out
}
