package energycode

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/units"
)

// move is what one button does to the loads from full: -1 leaves a load alone.
type move struct {
	by    string
	to    []units.Level // by Facts.Loads
	off   []int
	known bool // says a level at all
}

// press is a handle in the making.
type press struct {
	device, button int
	on             domain.Gesture
	handle         Handle
	move           move
}

// pressFacts notes what people can press, and what it does to which loads.
func (g *gatherer) pressFacts(f *Facts) {
	var all []press
	for i := range g.d.Links {
		g.cell(f, &all, &g.d.Links[i])
	}
	g.wallBoxes(f, &all)
	raise, lower := make([]bool, len(f.Loads)), make([]bool, len(f.Loads))
	g.ramps(f, raise, lower)
	for i := range f.Loads {
		f.Loads[i].Ramps = raise[i] && lower[i]
	}
	for i := range all {
		h := all[i].handle
		h.Area, h.Apart = f.areaOf(&h)
		f.Handles = append(f.Handles, h)
		g.moves = append(g.moves, all[i].move)
	}
}

// areaOf sums what a handle acts on; apart tells that none of it is general lighting.
func (f *Facts) areaOf(h *Handle) (sum units.SquareMetres, apart bool) {
	apart, unknown := true, false
	for i := range f.Loads {
		l := &f.Loads[i]
		if !l.General() || !slices.Contains(h.On, i) && !slices.Contains(h.Off, i) {
			continue
		}
		apart, unknown = false, unknown || l.Area <= 0
		sum += l.Area
	}
	if unknown {
		return 0, apart
	}
	return sum, apart
}

// cell adds a cell of the matrix to the handle of its button.
func (g *gatherer) cell(f *Facts, all *[]press, k *domain.Link) {
	at := g.device(k.Device)
	load := slices.IndexFunc(f.Loads, func(l Load) bool { return l.ID == k.Load })
	if at < 0 || load < 0 || !g.traits(at).Buttons || k.Button < 1 || k.Button > g.types[at].Buttons {
		return
	}
	if k.Do.Verb == "" || k.Do.Verb == domain.Nothing || k.Do.Verb == domain.Acts {
		return
	}
	h := g.handle(f, all, at, k.Button, k.On)
	on, off := k.Do.TurnsOn(g.d, k.Load), k.Do.TurnsOff(g.d, k.Load)
	if on {
		h.handle.On = append(h.handle.On, load)
	}
	if off {
		h.handle.Off = append(h.handle.Off, load)
		h.move.off = append(h.move.off, load)
	}
	if to, ok := g.moved(k, f.Loads[load].ID); ok {
		h.move.to[load], h.move.known = to, true
	}
}

// moved gives the level to which a cell takes a load that is at full.
func (g *gatherer) moved(k *domain.Link, load domain.ID) (units.Level, bool) {
	l := g.d.Load(load)
	switch k.Do.Verb {
	case domain.ToLevel:
		return g.reached(l, k.Do.Level), true
	case domain.Toggle:
		return 0, true
	case domain.ToScene:
		if s := g.d.SceneNumbered(k.Do.Scene); s != nil {
			if at := s.LevelOf(load); at != nil && !at.Leave {
				return g.reached(l, at.Level), true
			}
		}
	}
	return 0, false
}

func (g *gatherer) handle(f *Facts, all *[]press, device, button int, on domain.Gesture) *press {
	for i := range *all {
		if h := &(*all)[i]; h.device == device && h.button == button && h.on == on {
			return h
		}
	}
	dev := &g.d.Devices[device]
	by := fmt.Sprintf("%s button %s", tagWords([]string{dev.Tag}), dev.ButtonName(button))
	if on == domain.Hold {
		by += ", held"
	}
	to := make([]units.Level, len(f.Loads))
	for i := range to {
		to[i] = -1
	}
	*all = append(*all, press{device, button, on, Handle{Device: tagWords([]string{dev.Tag}), By: by}, move{by: by, to: to}})
	return &(*all)[len(*all)-1]
}

// wallBoxes gives a wall-box device that the matrix is silent about its own buttons:
// the first lights its load, the second darkens it.
func (g *gatherer) wallBoxes(f *Facts, all *[]press) {
	for at := range g.d.Devices {
		if !g.traits(at).OwnOnly || slices.ContainsFunc(*all, func(p press) bool { return p.device == at }) {
			continue
		}
		for i, l := range g.lights {
			if l.Controller != g.d.Devices[at].ID {
				continue
			}
			on, off := g.handle(f, all, at, 1, domain.Press), 1
			on.handle.On = append(on.handle.On, i)
			if g.types[at].Buttons > 1 {
				off = 2
			}
			dark := g.handle(f, all, at, off, domain.Press)
			dark.handle.Off = append(dark.handle.Off, i)
			dark.move.to[i], dark.move.known, dark.move.off = 0, true, append(dark.move.off, i)
		}
	}
}

// ramps notes which loads people can raise and lower.
func (g *gatherer) ramps(f *Facts, raise, lower []bool) {
	for i := range g.d.Links {
		k := &g.d.Links[i]
		if k.Do.Verb != domain.Raise && k.Do.Verb != domain.Lower {
			continue
		}
		at := g.device(k.Device)
		load := slices.IndexFunc(f.Loads, func(l Load) bool { return l.ID == k.Load })
		if at < 0 || load < 0 || !g.traits(at).Buttons {
			continue
		}
		raise[load] = raise[load] || k.Do.Verb == domain.Raise
		lower[load] = lower[load] || k.Do.Verb == domain.Lower
	}
}
