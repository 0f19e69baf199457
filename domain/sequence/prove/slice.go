package prove

import (
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/sequence"
)

// slice is a part of a room that can be explored by itself: loads that neither a
// toggle nor people entering bind to others, the inputs that act on them and the intents that speak of
// them. It is a design of its own that the same interpreter runs; a room's other
// loads change nothing in it, but for the moment between the delay and the end of
// the warning of loads that share sensors.
type slice struct {
	design  domain.Design
	loads   []int // of the room, by the slice's own index
	devices []int
	intents []int
	modes   bool // something hangs on the room's mode
	parts   bool // and on its partition
}

// slicesOf cuts a room up.
func slicesOf(p *sequence.Program) []slice {
	c := &cutter{p: p, d: p.Design}
	c.read()
	var out []slice
	for _, part := range c.parts() {
		out = append(out, c.slice(part))
	}
	return out
}

type cutter struct {
	p *sequence.Program
	d *domain.Design

	root    []int         // of each load, of those bound to it
	links   []domain.Link // that do something, of loads and devices that are there
	devices map[domain.ID]int
	loads   map[domain.ID]int
	busy    []bool // devices with a cell that does something
	inputs  []bool // contact devices whose cells say on which loads they act
}

func (c *cutter) read() {
	c.devices, c.loads = map[domain.ID]int{}, map[domain.ID]int{}
	for i := range c.d.Devices {
		c.devices[c.d.Devices[i].ID] = i
	}
	for i := range c.d.Loads {
		c.loads[c.d.Loads[i].ID] = i
		c.root = append(c.root, i)
	}
	c.busy, c.inputs = make([]bool, len(c.d.Devices)), make([]bool, len(c.d.Devices))
	first := map[domain.Input]int{}
	for i := range c.d.Links {
		k := &c.d.Links[i]
		dev, there := c.devices[k.Device]
		l, known := c.loads[k.Load]
		if !there || !known || k.Do.Verb == "" || k.Do.Verb == domain.Nothing {
			continue
		}
		c.links = append(c.links, *k)
		c.busy[dev] = true
		c.inputs[dev] = c.inputs[dev] || k.Do.Verb == domain.Acts
		if k.Do.Verb == domain.Toggle {
			of := domain.Input{Device: k.Device, Button: k.Button, On: k.On}
			if with, some := first[of]; some {
				c.bind(with, l)
			} else {
				first[of] = l
			}
		}
	}
	for i := range c.d.Intents {
		in := &c.d.Intents[i]
		if in.Do == domain.ToggleLoads {
			c.bindTargets(in)
		}
		if in.Kind == domain.ByPresence && in.Enters {
			c.bindEntered(in)
		}
	}
}

// bindEntered binds the loads that people entering light by the same sensors: a
// press that lights one of them says that people are in, and the sensors then
// light none of the others.
func (c *cutter) bindEntered(in *domain.Intent) {
	first := map[string]int{}
	for l := range c.d.Loads {
		sensors := c.sensorsOf(l)
		if sensors == "" || !in.ActsOn(&c.d.Loads[l]) {
			continue
		}
		if with, some := first[sensors]; some {
			c.bind(with, l)
		} else {
			first[sensors] = l
		}
	}
}

// sensorsOf names the presence sensors that act on a load.
func (c *cutter) sensorsOf(l int) string {
	var names []string
	for i := range c.links {
		k := &c.links[i]
		if c.loads[k.Load] != l || k.Do.Verb != domain.Acts {
			continue
		}
		if t := c.p.Project.Book.Find(c.d.Devices[c.devices[k.Device]].Type); t != nil && t.Kind.Traits().Presence {
			names = append(names, string(k.Device)+"@"+string(k.Do.If))
		}
	}
	slices.Sort(names)
	return strings.Join(names, " ")
}

func (c *cutter) bindTargets(in *domain.Intent) {
	first := -1
	for l := range c.d.Loads {
		if !in.ActsOn(&c.d.Loads[l]) {
			continue
		}
		if first >= 0 {
			c.bind(first, l)
		} else {
			first = l
		}
	}
}

func (c *cutter) find(l int) int {
	for c.root[l] != l {
		l = c.root[l]
	}
	return l
}

func (c *cutter) bind(a, b int) { c.root[max(c.find(a), c.find(b))] = min(c.find(a), c.find(b)) }

// parts gives the loads that belong together, in order of the first of them.
func (c *cutter) parts() [][]int {
	var out [][]int
	at := map[int]int{}
	for l := range c.d.Loads {
		r := c.find(l)
		if _, some := at[r]; !some {
			at[r] = len(out)
			out = append(out, nil)
		}
		out[at[r]] = append(out[at[r]], l)
	}
	return out
}

func (c *cutter) slice(part []int) slice {
	s := slice{loads: part}
	s.design.Scenes = c.d.Scenes
	for _, l := range part {
		s.design.Loads = append(s.design.Loads, c.d.Loads[l])
	}
	heard := make([]bool, len(c.d.Devices))
	for i := range c.links {
		if k := &c.links[i]; slices.Contains(part, c.loads[k.Load]) {
			s.design.Links = append(s.design.Links, *k)
			heard[c.devices[k.Device]] = true
		}
	}
	for i := range c.d.Intents {
		if in, speaks := c.intent(&c.d.Intents[i], part, heard); speaks {
			s.design.Intents, s.intents = append(s.design.Intents, in), append(s.intents, i)
		}
	}
	s.drop()
	for i := range c.d.Devices {
		if c.belongs(i, &s, heard) {
			s.design.Devices, s.devices = append(s.design.Devices, c.d.Devices[i]), append(s.devices, i)
		}
	}
	return s
}

// drop takes out what changes the room's mode or partition where nothing of the
// part hangs on them.
func (s *slice) drop() {
	modes, parts := false, false
	for i := range s.design.Intents {
		in := &s.design.Intents[i]
		modes = modes || in.Kind == domain.OnMode || len(in.Modes) > 0
		parts = parts || in.Partition != ""
	}
	for i := range s.design.Links {
		parts = parts || s.design.Links[i].Do.If != ""
	}
	s.modes, s.parts = modes, parts
	kept, which := s.design.Intents[:0], s.intents[:0]
	for i := range s.design.Intents {
		in := &s.design.Intents[i]
		if in.Do == domain.SetMode && !modes || in.MovesPartition() && !parts {
			continue
		}
		kept, which = append(kept, *in), append(which, s.intents[i])
	}
	s.design.Intents, s.intents = kept, which
}

// intent gives what an intent says of a part's loads.
func (c *cutter) intent(in *domain.Intent, part []int, heard []bool) (domain.Intent, bool) {
	out := *in
	out.Loads = nil
	if ofRoom(in) {
		return out, true
	}
	if dev, there := c.devices[in.Device]; in.Kind == domain.ByContact && there && c.inputs[dev] && !heard[dev] {
		return out, false // its cells name other loads only
	}
	speaks := false
	for _, l := range part {
		if in.ActsOn(&c.d.Loads[l]) {
			speaks = true
			if len(in.Loads) > 0 {
				out.Loads = append(out.Loads, c.d.Loads[l].ID)
			}
		}
	}
	return out, speaks
}

// ofRoom tells that an intent changes what the whole room is in.
func ofRoom(in *domain.Intent) bool { return in.Do == domain.SetMode || in.MovesPartition() }

// belongs tells whether a device has a say in a part of the room: by its cells, by
// an intent, as the wall-box device that carries a load, as the gateway, or as a
// sensor where an intent asks for people or daylight.
func (c *cutter) belongs(i int, s *slice, heard []bool) bool {
	dev := &c.d.Devices[i]
	t := c.p.Project.Book.Find(dev.Type)
	if heard[i] || t == nil {
		return heard[i]
	}
	asks := func(want func(*domain.Intent) bool) bool {
		for k := range s.design.Intents {
			if want(&s.design.Intents[k]) {
				return true
			}
		}
		return false
	}
	tr := t.Kind.Traits()
	switch {
	case t.Kind == equipment.Gateway:
		return true
	case tr.Presence:
		return asks(func(in *domain.Intent) bool { return in.People != "" || in.Spares })
	case tr.Daylight:
		return asks(func(in *domain.Intent) bool { return in.DarkerThan > 0 || in.BrighterThan > 0 })
	case tr.OwnOnly && !c.busy[i]:
		return slices.ContainsFunc(s.design.Loads, func(l domain.Load) bool { return l.Controller == dev.ID })
	}
	return asks(func(in *domain.Intent) bool { return in.Device == dev.ID })
}
