package energycode

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// Given is what a room's design does not say by itself.
type Given struct {
	Zones   *Zones // daylight areas by the rules of the code; nil: taken from the loads' window zones
	Outlets int    // receptacles of the room in all; 0: as the room states
	Claims  []Claim
	Brief   bool // for SomeMendable alone: what is only said in words is left out
}

// FactsOf reads what the checks look at out of a room as it is designed: its loads,
// devices, links, scenes and intents. An intent that counts only under a condition
// is told as a doubt, since a code asks for what always holds.
func FactsOf(p *domain.Project, r *domain.Resolved, given Given) Facts {
	g := newGatherer(p, r)
	g.brief = given.Brief
	f := Facts{Room: r.Label(), Units: p.Units, Area: r.Area, Windows: r.Windows, Claims: given.Claims}
	if f.Area <= 0 {
		f.Area = r.Measured()
	}
	f.Loads = make([]Load, len(g.lights))
	g.makeRoom()
	for i, at := range g.lightAt {
		g.loadOf(&f.Loads[i], g.lights[i], at)
	}
	shareArea(&f)
	g.pressFacts(&f)
	f.Levels = reachedLevels(&f, g.presses, g.brief)
	if f.Zones = given.Zones; f.Zones == nil {
		f.Zones = statedZones(g.lights, f.Loads)
	}
	if given.Outlets == 0 {
		given.Outlets = r.Outlets
	}
	f.Receptacles = g.outlets(given.Outlets)
	return f
}

// gatherer holds a room with its devices' types and the ends of its cells found once.
type gatherer struct {
	p       *domain.Project
	d       *domain.Design
	types   []*equipment.Type // by device
	does    []equipment.Traits
	ends    []end // by cell
	senses  []int // cells by which presence sensors act
	reads   []int // the same of daylight sensors
	lights  []*domain.Load
	lightAt []int // their places in the design
	lightOf []int // by load, its place among the lights; below 0: a receptacle
	said    []said
	presses []press // by Facts.Handles
	clock   modeClock
	outrank bool // schedules rank over presence
	brief   bool // no words

	vacancies              []Vacancy
	levels                 []units.Level
	ints                   []int
	tags, lit              []string // room to write in
	lastTags, lastOccupied []string
}

func newGatherer(p *domain.Project, r *domain.Resolved) *gatherer {
	g := &gatherer{p: p, d: &r.Design}
	g.findDevices()
	g.joinLinks()
	g.said = make([]said, len(g.d.Intents))
	g.lights, g.lightAt = make([]*domain.Load, 0, len(g.d.Loads)), make([]int, 0, len(g.d.Loads))
	g.lightOf = make([]int, len(g.d.Loads))
	for i := range g.d.Loads {
		g.lightOf[i] = -1
		if l := &g.d.Loads[i]; l.Kind != domain.Receptacle {
			g.lightOf[i] = len(g.lights)
			g.lights, g.lightAt = append(g.lights, l), append(g.lightAt, i)
		}
	}
	order := p.Order()
	g.outrank = slices.Index(order, domain.ClassSchedule) < slices.Index(order, domain.ClassOccupancy)
	g.clock = newModeClock(p, g.d)
	return g
}

// makeRoom gets the room for what intents do to loads in few pieces.
func (g *gatherer) makeRoom() {
	n := 0
	for i := range g.d.Intents {
		if g.d.Intents[i].Kind == domain.ByPresence {
			n++
		}
	}
	g.vacancies = make([]Vacancy, 0, n*len(g.lights))
}

func (g *gatherer) loadOf(out *Load, l *domain.Load, at int) {
	*out = Load{ID: l.ID, Tag: l.Tag, Layer: l.Layer, Egress: l.Egress, Bypass: l.Bypass}
	out.Dims = l.Dimming != "" && l.Dimming != equipment.Switched
	out.Watts, out.WattsKnown = g.watts(l)
	if lum := g.p.Luminaire(l.Luminaire); lum != nil {
		out.Lowest = lum.DimsTo
	}
	sensed := g.sensors(at)
	for i := range g.d.Intents {
		in := &g.d.Intents[i]
		if !in.ActsOn(l) {
			continue
		}
		g.rises(out, i, l, &sensed)
		g.empties(out, i, l, &sensed)
		g.clocks(out, i, l)
		g.answers(out, i, at)
	}
	g.holds(out, l)
}

// unworded stands for a doubt where no words are made.
const unworded = "?"

// watts gives a load's watts; a load of none is not known.
func (g *gatherer) watts(l *domain.Load) (units.Watts, bool) {
	w := l.Watts
	if lum := g.p.Luminaire(l.Luminaire); lum != nil {
		w = lum.Watts * units.Watts(l.Count)
	}
	return w, w > 0
}

// doubt says under which condition alone an intent counts; nothing where it always does.
func (g *gatherer) doubt(i int) string {
	in := &g.d.Intents[i]
	switch {
	case !in.Conditional():
		return ""
	case g.brief:
		return unworded
	}
	return fmt.Sprintf("%s counts %s: say what holds otherwise", g.name(i), in.When(domain.Env{Project: g.p, Design: g.d}))
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
