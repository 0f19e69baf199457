package energycode

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// Given is what a room's design does not say by itself.
type Given struct {
	Zones   *Zones // daylight areas by the rules of the code; nil: taken from the loads' window zones
	Outlets int    // receptacles of the room in all; 0: not known
	Claims  []Claim
}

// FactsOf reads what the checks look at out of a room as it is designed: its loads,
// devices, links, scenes and intents. An intent that counts only under a condition
// is told as a doubt, since a code asks for what always holds.
func FactsOf(p *domain.Project, r *domain.Resolved, given Given) Facts {
	g := newGatherer(p, r)
	f := Facts{Room: r.Label(), Units: p.Units, Area: r.Area, Windows: r.Windows, Claims: given.Claims}
	if f.Area <= 0 {
		f.Area = r.Measured()
	}
	for _, l := range g.lights {
		f.Loads = append(f.Loads, g.loadOf(l))
	}
	shareArea(&f)
	g.pressFacts(&f)
	f.Levels = reachedLevels(&f, g.moves)
	if f.Zones = given.Zones; f.Zones == nil {
		f.Zones = statedZones(g.lights, f.Loads)
	}
	f.Receptacles = g.outlets(given.Outlets)
	return f
}

// gatherer holds a room with its devices' types found once.
type gatherer struct {
	p       *domain.Project
	d       *domain.Design
	types   []*equipment.Type
	lights  []*domain.Load
	moves   []move
	clock   modeClock
	outrank bool // schedules rank over presence
}

func newGatherer(p *domain.Project, r *domain.Resolved) *gatherer {
	g := &gatherer{p: p, d: &r.Design, types: make([]*equipment.Type, len(r.Design.Devices))}
	for i := range g.d.Devices {
		g.types[i] = p.Book.Find(g.d.Devices[i].Type)
	}
	for i := range g.d.Loads {
		if l := &g.d.Loads[i]; l.Kind != domain.Receptacle {
			g.lights = append(g.lights, l)
		}
	}
	order := p.Order()
	g.outrank = slices.Index(order, domain.ClassSchedule) < slices.Index(order, domain.ClassOccupancy)
	g.clock = newModeClock(p, g.d)
	return g
}

// traits gives what a device's kind does; none where the book does not have it.
func (g *gatherer) traits(i int) equipment.Traits {
	if g.types[i] == nil {
		return equipment.Traits{}
	}
	return g.types[i].Kind.Traits()
}

func (g *gatherer) device(id domain.ID) int {
	return slices.IndexFunc(g.d.Devices, func(d domain.Device) bool { return d.ID == id })
}

func (g *gatherer) loadOf(l *domain.Load) Load {
	out := Load{ID: l.ID, Tag: l.Tag, Layer: l.Layer, Egress: l.Egress, Bypass: l.Bypass}
	out.Dims = l.Dimming != "" && l.Dimming != equipment.Switched
	out.Watts, out.WattsKnown = g.watts(l)
	if lum := g.p.Luminaire(l.Luminaire); lum != nil {
		out.Lowest = lum.DimsTo
	}
	sensed := g.sensors(l.ID)
	for i := range g.d.Intents {
		in := &g.d.Intents[i]
		if !in.ActsOn(l) {
			continue
		}
		g.rises(&out, i, l, &sensed)
		g.empties(&out, i, l, &sensed)
		g.clocks(&out, i, l)
		g.answers(&out, i, l)
	}
	g.holds(&out, l)
	return out
}

// watts gives a load's watts; a load of none is not known.
func (g *gatherer) watts(l *domain.Load) (units.Watts, bool) {
	w := l.Watts
	if lum := g.p.Luminaire(l.Luminaire); lum != nil {
		w = lum.Watts * units.Watts(l.Count)
	}
	return w, w > 0
}

// sensing is which presence sensors act on a load.
type sensing struct {
	tags     []string
	occupied []string // of those that may turn loads on
	only     string   // a partition's state without which none acts
}

func (g *gatherer) sensors(load domain.ID) sensing {
	var out sensing
	states := map[domain.PartitionState]bool{}
	for i := range g.d.Links {
		k := &g.d.Links[i]
		if k.Load != load || k.Do.Verb != domain.Acts {
			continue
		}
		at := g.device(k.Device)
		if at < 0 || !g.traits(at).Presence {
			continue
		}
		dev := &g.d.Devices[at]
		out.tags = append(out.tags, dev.Tag)
		states[k.Do.If] = true
		if dev.Presence != domain.Vacancy {
			out.occupied = append(out.occupied, dev.Tag)
		}
	}
	if len(states) == 1 && !states[""] {
		for s := range states {
			out.only = fmt.Sprintf("%s act only while the partition is %s", tagWords(out.tags), s)
		}
	}
	slices.SortFunc(out.tags, domain.CompareNumbers)
	return out
}

// name says which intent it is: "presence intent 2".
func (g *gatherer) name(i int) string {
	return fmt.Sprintf("%s intent %d", strings.ToLower(g.d.Intents[i].Kind.Title()), i+1)
}

// doubt says under which condition alone an intent counts; nothing where it always does.
func (g *gatherer) doubt(i int) string {
	in := &g.d.Intents[i]
	if !in.Conditional() {
		return ""
	}
	return fmt.Sprintf("%s counts %s: say what holds otherwise", g.name(i), in.When())
}

// goal gives the level to which an intent takes a load; ok is false where its scene
// leaves the load alone.
func (g *gatherer) goal(in *domain.Intent, l *domain.Load) (level units.Level, ok bool) {
	level = in.Level
	if !in.GoesToLevel() {
		s := g.d.SceneNumbered(in.Scene)
		if s == nil {
			return 0, false
		}
		at := s.LevelOf(l.ID)
		if at == nil || at.Leave {
			return 0, false
		}
		level = at.Level
	}
	return g.reached(l, level), true
}

// reached gives the level that a load has when it is told to go to one: a load that
// is only switched is off or full, and luminaires go no lower than they can.
func (g *gatherer) reached(l *domain.Load, level units.Level) units.Level {
	switch lum := g.p.Luminaire(l.Luminaire); {
	case level <= 0:
		return 0
	case l.Dimming == "" || l.Dimming == equipment.Switched:
		return 100
	case lum != nil:
		return max(level, lum.DimsTo)
	}
	return level
}

// shareArea divides the room's area between the loads of the general lighting by
// their watts, as if all of it were lit with one density.
func shareArea(f *Facts) {
	all, known := f.general()
	n := 0
	for i := range f.Loads {
		if f.Loads[i].General() {
			n++
		}
	}
	for i := range f.Loads {
		switch l := &f.Loads[i]; {
		case !l.General():
		case n == 1:
			l.Area = f.Area
		case known && all > 0:
			l.Area = f.Area * units.SquareMetres(float64(l.Watts)/all)
		}
	}
}

// statedZones takes the daylight areas from the window zones that loads state; nil
// where none states one.
func statedZones(lights []*domain.Load, loads []Load) *Zones {
	z := &Zones{From: "the window zones that the loads state"}
	some := false
	for i, l := range lights {
		if !loads[i].General() {
			continue
		}
		var at *Zone
		switch l.Zone {
		case domain.ZoneWindow:
			at = &z.Primary
		case domain.ZoneSecondary:
			at = &z.Secondary
		case domain.ZoneRoof:
			at = &z.Toplit
		default:
			continue
		}
		some = true
		at.Watts, at.Loads = at.Watts+loads[i].Watts, append(at.Loads, l.ID)
	}
	if !some {
		return nil
	}
	return z
}
