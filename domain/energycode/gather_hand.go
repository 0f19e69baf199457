package energycode

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/units"
)

// press is what one button does to the loads from full; it stands beside its handle.
type press struct {
	device, button int
	on             domain.Gesture
	to             []units.Level // by Facts.Loads; -1 leaves a load alone
	known          bool          // says a level at all
}

// pressFacts notes what people can press, and what it does to which loads.
func (g *gatherer) pressFacts(f *Facts) {
	for i := range g.d.Links {
		g.cell(f, i)
	}
	g.wallBoxes(f)
	raise, lower := make([]bool, len(f.Loads)), make([]bool, len(f.Loads))
	g.ramps(raise, lower)
	for i := range f.Loads {
		f.Loads[i].Ramps = raise[i] && lower[i]
	}
	for i := range f.Handles {
		h := &f.Handles[i]
		h.Area, h.Apart = f.areaOf(h)
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
func (g *gatherer) cell(f *Facts, i int) {
	k, at := &g.d.Links[i], int(g.ends[i].device)
	load := g.lightUnder(i)
	if at < 0 || load < 0 || !g.does[at].Buttons || k.Button < 1 || k.Button > g.types[at].Buttons {
		return
	}
	if k.Do.Verb == "" || k.Do.Verb == domain.Nothing || k.Do.Verb == domain.Acts {
		return
	}
	h, p := g.handle(f, at, k.Button, k.On)
	on, off, to, known := g.moved(k, load)
	if on {
		h.On = append(h.On, load)
	}
	if off {
		h.Off = append(h.Off, load)
	}
	if known {
		p.to[load], p.known = g.reached(g.lights[load], to), true
	}
}

// lightUnder gives the light of a cell, by its place among Facts.Loads; below 0: none.
func (g *gatherer) lightUnder(link int) int {
	if at := g.ends[link].load; at >= 0 {
		return g.lightOf[at]
	}
	return -1
}

// moved tells whether a cell can light and darken a light, as domain.Action.TurnsOn and
// TurnsOff do, and to which level it takes one that is at full.
func (g *gatherer) moved(k *domain.Link, light int) (on, off bool, to units.Level, known bool) {
	switch k.Do.Verb {
	case domain.ToLevel:
		to, known = k.Do.Level, true
	case domain.ToScene:
		if at := g.levelIn(k.Do.Scene, light); at != nil && !at.Leave {
			to, known = at.Level, true
		}
	case domain.Toggle:
		return true, true, 0, true
	case domain.Raise, domain.LastLevel:
		return true, false, 0, false
	}
	return known && to > 0, known && to == 0, to, known
}

// levelIn gives what a scene says of a light, nil where it says nothing. Levels mostly
// come in the order of the loads.
func (g *gatherer) levelIn(scene, light int) *domain.SceneLevel {
	s := g.d.SceneNumbered(scene)
	if s == nil {
		return nil
	}
	id := g.lights[light].ID
	if light < len(s.Levels) && s.Levels[light].ID == id {
		return &s.Levels[light]
	}
	return s.LevelOf(id)
}

// handle gives the handle of a button with what it does, a new one where it has none.
func (g *gatherer) handle(f *Facts, device, button int, on domain.Gesture) (*Handle, *press) {
	for i := len(g.presses) - 1; i >= 0; i-- {
		if p := &g.presses[i]; p.device == device && p.button == button && p.on == on {
			return &f.Handles[i], p
		}
	}
	if g.presses == nil {
		f.Handles, g.presses = make([]Handle, 0, 16), make([]press, 0, 16)
	}
	dev := &g.d.Devices[device]
	tag, by := tagWord(dev.Tag), ""
	if !g.brief {
		by = tag + " button " + dev.ButtonName(button)
		if on == domain.Hold {
			by += ", held"
		}
	}
	to, loads := g.handleRoom(len(f.Loads))
	for i := range to {
		to[i] = -1
	}
	n := len(to)
	f.Handles = append(f.Handles, Handle{Device: tag, By: by, On: loads[:0:n], Off: loads[n:n]})
	g.presses = append(g.presses, press{device, button, on, to, false})
	return &f.Handles[len(f.Handles)-1], &g.presses[len(g.presses)-1]
}

// handleRoom gets room for what a handle does to n loads, for several at a time.
func (g *gatherer) handleRoom(n int) (to []units.Level, loads []int) {
	const ahead = 8
	if len(g.levels) < n {
		g.levels, g.ints = make([]units.Level, ahead*n), make([]int, ahead*2*n)
	}
	to, loads = g.levels[:n:n], g.ints[:2*n:2*n]
	g.levels, g.ints = g.levels[n:], g.ints[2*n:]
	return to, loads
}

// wallBoxes gives a wall-box device that the matrix is silent about its own buttons:
// the first lights its load, the second darkens it.
func (g *gatherer) wallBoxes(f *Facts) {
	told := len(g.presses) // by the matrix
	for at := range g.d.Devices {
		if !g.does[at].OwnOnly || slices.ContainsFunc(g.presses[:told], func(p press) bool { return p.device == at }) {
			continue
		}
		for i, l := range g.lights {
			if l.Controller != g.d.Devices[at].ID {
				continue
			}
			off := min(2, max(1, g.types[at].Buttons))
			on, _ := g.handle(f, at, 1, domain.Press)
			on.On = append(on.On, i)
			dark, p := g.handle(f, at, off, domain.Press)
			dark.Off = append(dark.Off, i)
			p.to[i], p.known = 0, true
		}
	}
}

// ramps notes which loads people can raise and lower.
func (g *gatherer) ramps(raise, lower []bool) {
	for i := range g.d.Links {
		k := &g.d.Links[i]
		if k.Do.Verb != domain.Raise && k.Do.Verb != domain.Lower {
			continue
		}
		at, load := int(g.ends[i].device), g.lightUnder(i)
		if at < 0 || load < 0 || !g.does[at].Buttons {
			continue
		}
		raise[load] = raise[load] || k.Do.Verb == domain.Raise
		lower[load] = lower[load] || k.Do.Verb == domain.Lower
	}
}
