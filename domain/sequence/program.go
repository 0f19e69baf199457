package sequence

import (
	"math"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
)

// Time is milliseconds since the run's start.
type Time int64

// Units of Time, and the time that never comes.
const (
	Second Time = 1000
	Minute      = 60 * Second
	Hour        = 60 * Minute
	Never  Time = math.MaxInt64
)

func seconds[T ~float64](s T) Time { return Time(math.Round(float64(s) * 1000)) }

// Fault is something in a design that cannot run; the rest does.
type Fault struct {
	Intent domain.ID
	Text   string
}

// class is a domain.Class by its rank in the project, 0 the highest.
type class uint8

// Program is a room's design made ready to run: names are indices.
type Program struct {
	Project *domain.Project
	Design  *domain.Design
	Faults  []Fault

	loads   []load
	devices []device
	groups  []group
	intents []intent
	scheds  []sched
	rank    ranks
	cal     calendar
	gateway bool
	slots   int // timers
	// remembers tells that a toggle, a last level or a way back may ask for levels
	// of before.
	remembers bool
	order     []class // of timers
}

type ranks struct{ manual, schedule, occupancy, daylight class }

type load struct {
	lowest   float64
	switched bool
	lighting bool
	egress   bool
	bypass   bool
	hand     int     // intent, -1 none
	day      int     // intent, -1 none
	groups   []int   // whose presence acts on it
	scheds   []int   // schedules with an off for it
	highest  float64 // of raising
	floor    float64 // of lowering
	rate     float64 // % a second
}

type device struct {
	presence  domain.PresenceKind
	senses    bool
	daylight  bool
	groups    []int    // of a presence sensor
	trims     []int    // loads of a daylight sensor
	press     [][]cell // by button, from 1
	hold      [][]cell
	contacts  []contactCell // nil: all inputs act on all that the intents say
	messages  int           // broadcasts a press or report makes
	watchdog  Time
	buttonsOf int
}

type cell struct {
	load  int
	verb  domain.Verb
	level float64
	fade  Time
	scene int
	when  domain.PartitionState
}

// contactCell is a load that an input of a contact device acts on.
type contactCell struct {
	input, load int
	when        domain.PartitionState
}

// group is what one presence or receptacle intent does to loads that the same
// sensors act on.
type group struct {
	intent  int
	loads   []int
	sensors []sensorLink
	delay   Time
}

type sensorLink struct {
	device int
	when   domain.PartitionState
}

type intent struct {
	*domain.Intent
	index   int
	targets []int
	levels  []target // what going to its scene or level means, by target
	cond    condition
	class   class
}

type target struct {
	load  int
	level float64
	fade  Time
}

// Compile makes a design ready to run.
func Compile(p *domain.Project, d *domain.Design) *Program {
	c := &Program{Project: p, Design: d}
	c.rank = rankOf(p.Order())
	c.cal = newCalendar(p)
	for i := range d.Loads {
		c.loads = append(c.loads, compileLoad(p, &d.Loads[i]))
	}
	for i := range d.Devices {
		c.devices = append(c.devices, c.compileDevice(&d.Devices[i]))
	}
	for i := range d.Intents {
		c.compileIntent(i)
	}
	c.compileCells()
	c.compileGroups()
	c.compileSchedules()
	c.slots = len(c.groups) + slotsPerLoad*len(c.loads) + slotsPerSched*len(c.scheds) + len(c.devices) + len(c.cal.lines) + 1
	c.orderTimers()
	for i := range d.Links {
		c.remembers = c.remembers || d.Links[i].Do.Verb == domain.Toggle || d.Links[i].Do.Verb == domain.LastLevel
	}
	for i := range d.Intents {
		c.remembers = c.remembers || d.Intents[i].Do == domain.GoBack || d.Intents[i].Do == domain.ToggleLoads
	}
	return c
}

// orderTimers says which of the timers that end together goes first: the one of
// the higher class, then the one that stands first in the design.
func (c *Program) orderTimers() {
	c.order = make([]class, 0, c.slots)
	for range c.groups {
		c.order = append(c.order, c.rank.occupancy)
	}
	for range c.loads {
		c.order = append(c.order, c.rank.manual, c.rank.schedule, c.rank.manual, c.rank.manual)
	}
	for len(c.order) < c.slots {
		c.order = append(c.order, c.rank.schedule)
	}
}

func rankOf(order []domain.Class) ranks {
	at := func(cl domain.Class) class { return class(slices.Index(order, cl)) }
	return ranks{at(domain.ClassManual), at(domain.ClassSchedule), at(domain.ClassOccupancy), at(domain.ClassDaylight)}
}

func compileLoad(p *domain.Project, l *domain.Load) load {
	out := load{lowest: 1, hand: -1, day: -1, highest: 100, rate: domain.DefaultRate, lighting: l.Kind == domain.Lighting, egress: l.Egress, bypass: l.Bypass != ""}
	out.switched = l.Dimming == "" || l.Dimming == equipment.Switched || l.Kind == domain.Receptacle
	if lum := p.Luminaire(l.Luminaire); lum != nil && lum.DimsTo > 0 {
		out.lowest = float64(lum.DimsTo)
	}
	out.floor = out.lowest
	return out
}

func (c *Program) compileDevice(d *domain.Device) device {
	out := device{presence: d.Presence}
	t := c.Project.Book.Find(d.Type)
	if t == nil {
		return out
	}
	tr := t.Kind.Traits()
	out.senses, out.daylight = tr.Presence, tr.Daylight
	c.gateway = c.gateway || t.Kind == equipment.Gateway
	if tr.Buttons {
		out.buttonsOf = t.Buttons
		out.press, out.hold = make([][]cell, t.Buttons+1), make([][]cell, t.Buttons+1)
	}
	out.messages = 1
	if d.Sending == domain.ToLoads || d.Sending == domain.ToGroup && c.Project.Limits.Value(domain.GroupIsBroadcast) == 0 {
		out.messages = 0
	}
	return out
}

func (c *Program) compileIntent(i int) {
	in := &c.Design.Intents[i]
	out := intent{Intent: in, index: i, class: class(slices.Index(c.Project.Order(), in.Class()))}
	for l := range c.Design.Loads {
		ld := &c.Design.Loads[l]
		if !in.ActsOn(ld) {
			continue
		}
		out.targets = append(out.targets, l)
		switch {
		case in.Kind == domain.ByHand && c.loads[l].hand < 0:
			c.handles(l, i)
		case in.Kind == domain.ByDaylight && c.loads[l].day < 0:
			c.loads[l].day = i
		}
	}
	out.levels = c.goal(&out)
	var err error
	if out.cond, err = newCondition(in); err != nil {
		c.Faults = append(c.Faults, Fault{in.ID, err.Error()})
	}
	c.intents = append(c.intents, out)
}

func (c *Program) handles(l, i int) {
	in, ld := &c.Design.Intents[i], &c.loads[l]
	ld.hand, ld.rate = i, in.RampRate()
	ld.floor = math.Max(ld.lowest, float64(in.Lowest))
	if in.Highest > 0 {
		ld.highest = float64(in.Highest)
	}
}

// goal says what going to an intent's scene or level does to each target.
func (c *Program) goal(in *intent) []target {
	out := make([]target, 0, len(in.targets))
	var scene *domain.Scene
	if in.Scene > 0 {
		if scene = c.Design.SceneNumbered(in.Scene); scene == nil {
			c.Faults = append(c.Faults, Fault{in.ID, "it recalls a scene that is not there"})
			return nil
		}
	}
	for _, l := range in.targets {
		t := target{load: l, level: float64(in.Level), fade: seconds(in.Fade)}
		if in.Kind == domain.ForReceptacles {
			t.level = 100
		}
		if scene != nil {
			level := scene.LevelOf(c.Design.Loads[l].ID)
			if level == nil || level.Leave {
				continue
			}
			t.level = float64(level.Level)
			if level.Fade > 0 {
				t.fade = seconds(level.Fade)
			}
		}
		out = append(out, t)
	}
	return out
}

func (c *Program) compileCells() {
	for i := range c.Design.Links {
		k := &c.Design.Links[i]
		from, to := c.Design.DeviceIndex(k.Device), c.Design.LoadIndex(k.Load)
		if from < 0 || to < 0 || k.Do.Verb == domain.Nothing || k.Do.Verb == "" {
			continue
		}
		d := &c.devices[from]
		switch {
		case k.Do.Verb == domain.Acts:
			if d.daylight {
				d.trims = append(d.trims, to)
			} else if !d.senses {
				d.contacts = append(d.contacts, contactCell{max(1, k.Button), to, k.Do.If})
			}
		case k.Button >= 1 && k.Button <= d.buttonsOf:
			if cl, ok := c.cellOf(k, to); ok {
				list := d.press
				if k.On == domain.Hold {
					list = d.hold
				}
				list[k.Button] = append(list[k.Button], cl)
			}
		}
	}
	c.wallBoxes()
}

func (c *Program) cellOf(k *domain.Link, to int) (cell, bool) {
	cl := cell{load: to, verb: k.Do.Verb, level: float64(k.Do.Level), when: k.Do.If}
	if h := c.loads[to].hand; h >= 0 {
		cl.fade = seconds(c.Design.Intents[h].Fade)
	}
	if k.Do.Verb == domain.ToScene {
		scene := c.Design.SceneNumbered(k.Do.Scene)
		if scene == nil {
			return cl, false
		}
		level := scene.LevelOf(k.Load)
		if level == nil || level.Leave {
			return cl, false
		}
		cl.verb, cl.level, cl.scene = domain.ToLevel, float64(level.Level), k.Do.Scene
		if level.Fade > 0 {
			cl.fade = seconds(level.Fade)
		}
	}
	return cl, true
}

// wallBoxes gives a wall-box device that the matrix is silent about what its own
// buttons do: the first lights its load, the second darkens it.
func (c *Program) wallBoxes() {
	for i := range c.devices {
		t := c.Project.Book.Find(c.Design.Devices[i].Type)
		if t == nil || !t.Kind.Traits().OwnOnly || c.devices[i].buttonsOf < 2 {
			continue
		}
		silent := true
		for b := range c.devices[i].press {
			silent = silent && len(c.devices[i].press[b]) == 0 && len(c.devices[i].hold[b]) == 0
		}
		for l := range c.Design.Loads {
			if silent && c.Design.Loads[l].Controller == c.Design.Devices[i].ID {
				on, _ := c.cellOf(&domain.Link{Do: domain.Action{Verb: domain.ToLevel, Level: 100}}, l)
				off, _ := c.cellOf(&domain.Link{Do: domain.Action{Verb: domain.ToLevel}}, l)
				c.devices[i].press[1], c.devices[i].press[2] = append(c.devices[i].press[1], on), append(c.devices[i].press[2], off)
			}
		}
	}
}

// compileGroups puts the loads of each presence and receptacle intent together
// that the same sensors act on.
func (c *Program) compileGroups() {
	for i := range c.intents {
		in := &c.intents[i]
		if in.Kind != domain.ByPresence && in.Kind != domain.ForReceptacles {
			continue
		}
		first := len(c.groups)
		for _, l := range in.targets {
			sensors := c.sensorsOf(l)
			if len(sensors) == 0 {
				continue
			}
			c.join(first, in, l, sensors)
		}
	}
	for g := range c.groups {
		for _, l := range c.groups[g].loads {
			c.loads[l].groups = append(c.loads[l].groups, g)
		}
		for _, s := range c.groups[g].sensors {
			d := &c.devices[s.device]
			d.groups = append(d.groups, g)
			if w := seconds(c.Design.Intents[c.groups[g].intent].Watchdog); w > 0 && (d.watchdog == 0 || w < d.watchdog) {
				d.watchdog = w
			}
		}
	}
}

func (c *Program) join(first int, in *intent, l int, sensors []sensorLink) {
	for g := first; g < len(c.groups); g++ {
		if sameSensors(c.groups[g].sensors, sensors) {
			c.groups[g].loads = append(c.groups[g].loads, l)
			return
		}
	}
	delay := Time(0)
	for _, s := range sensors {
		delay = max(delay, seconds(c.Design.Devices[s.device].Delay))
	}
	if delay == 0 {
		delay = seconds(in.Delay)
	}
	c.groups = append(c.groups, group{intent: in.index, loads: []int{l}, sensors: sensors, delay: delay})
}

func sameSensors(a, b []sensorLink) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// sensorsOf gives the presence sensors that act on a load, in order of devices.
func (c *Program) sensorsOf(l int) []sensorLink {
	var out []sensorLink
	for d := range c.devices {
		if !c.devices[d].senses {
			continue
		}
		if k := c.Design.Link(domain.Input{Device: c.Design.Devices[d].ID}, c.Design.Loads[l].ID); k != nil && k.Do.Verb == domain.Acts {
			out = append(out, sensorLink{d, k.Do.If})
		}
	}
	return out
}

func sameCommand(a, b string) bool {
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}
