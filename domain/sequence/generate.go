package sequence

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Generate gives a set of scenarios to start from: one for each button that goes
// to a scene or a level, and one for each intent. What they expect is worked out
// from the design's own numbers and not by running it, so that running them is a
// check. Where a story cannot be told, as under a condition on daylight, none is.
func Generate(p *domain.Project, d *domain.Design) []domain.Scenario {
	g := &storyteller{p: Compile(p, d)}
	for i := range d.Devices {
		for button := range g.p.devices[i].press {
			g.button(i, button)
		}
	}
	for i := range g.p.intents {
		g.intent(&g.p.intents[i])
	}
	return g.out
}

type storyteller struct {
	p   *Program
	out []domain.Scenario
	now *domain.Scenario
	at  Time
}

// tell starts a story.
func (g *storyteller) tell(id, name string) {
	g.now = &domain.Scenario{ID: domain.ID("auto-" + id), Seq: len(g.out) + 1, Name: name}
	g.at = 0
}

// keep files the story that was told, if it expects something.
func (g *storyteller) keep() {
	for i := range g.now.Steps {
		if g.now.Steps[i].Happen == domain.Expect {
			g.out = append(g.out, *g.now)
			return
		}
	}
}

func (g *storyteller) add(st domain.ScenarioStep) {
	n := len(g.now.Steps) + 1
	st.ID, st.Seq, st.At = domain.ID(fmt.Sprintf("s%d", n)), n, units.Seconds(float64(g.at)/1000)
	g.now.Steps = append(g.now.Steps, st)
}

func (g *storyteller) happens(h domain.Happening, device int) {
	st := domain.ScenarioStep{Happen: h}
	if device >= 0 {
		st.Device = g.p.Design.Devices[device].ID
	}
	g.add(st)
}

func (g *storyteller) presses(device, button int) {
	g.add(domain.ScenarioStep{Happen: domain.Pressed, Device: g.p.Design.Devices[device].ID, Button: button})
}

func (g *storyteller) expects(l int, level float64) {
	g.add(domain.ScenarioStep{Happen: domain.Expect, Load: g.p.Design.Loads[l].ID, Level: units.Level(level)})
}

// counts tells whether a cell counts at a story's start, with the partition
// closed.
func (c *cell) counts() bool { return c.when != domain.PartitionOpen }

// button tells what a press does where it goes to levels.
func (g *storyteller) button(device, button int) {
	cells := g.p.devices[device].press[button]
	dev := &g.p.Design.Devices[device]
	g.tell(fmt.Sprintf("%s-%d", dev.ID, button), fmt.Sprintf("%s button %s", dev.Tag, dev.ButtonName(button)))
	var fade Time
	for i := range cells {
		if c := &cells[i]; c.verb == domain.ToLevel && c.counts() && g.plainHand(c.load) {
			fade = max(fade, c.fade)
		}
	}
	lit := false
	for i := range cells {
		c := &cells[i]
		if c.verb != domain.ToLevel || !c.counts() || !g.plainHand(c.load) {
			continue
		}
		if d, b, _, ok := g.lighter(c.load); ok && c.level == 0 && !lit { // a press to dark shows nothing in the dark
			g.presses(d, b)
			g.at += 30 * Second
			lit = true
		}
	}
	g.presses(device, button)
	g.at += fade + 30*Second
	for i := range cells {
		if c := &cells[i]; c.verb == domain.ToLevel && c.counts() && g.plainHand(c.load) {
			g.expects(c.load, g.p.loads[c.load].bounded(c.level))
		}
	}
	g.keep()
}

// plainHand tells that presses act on a load whatever else holds.
func (g *storyteller) plainHand(l int) bool {
	h := g.p.loads[l].hand
	return h < 0 || !g.p.intents[h].cond.stated
}

// lighter finds a button that lights a load, and the level that it brings.
func (g *storyteller) lighter(l int) (device, button int, level float64, ok bool) {
	if !g.plainHand(l) {
		return 0, 0, 0, false
	}
	for d := range g.p.devices {
		for b, cells := range g.p.devices[d].press {
			for i := range cells {
				if c := &cells[i]; c.load == l && c.verb == domain.ToLevel && c.level > 0 && c.counts() {
					return d, b, g.p.loads[l].bounded(c.level), true
				}
			}
		}
	}
	return 0, 0, 0, false
}

// group gives a group of an intent that counts with the partition closed, and a
// sensor of it; of the occupancy kind where one is.
func (g *storyteller) group(in *intent) (gr *group, sensor int, ok bool) {
	for i := range g.p.groups {
		gr = &g.p.groups[i]
		if gr.intent != in.index {
			continue
		}
		sensor = -1
		for _, k := range gr.sensors {
			if k.when == domain.PartitionOpen {
				continue
			}
			if sensor < 0 || g.p.devices[sensor].presence == domain.Vacancy {
				sensor = k.device
			}
		}
		if sensor >= 0 {
			return gr, sensor, true
		}
	}
	return nil, 0, false
}

// light brings a load up by a press, else by people coming in, and gives its level.
func (g *storyteller) light(l int) (level float64, ok bool) {
	g.hold(l)
	if d, b, level, ok := g.lighter(l); ok {
		g.presses(d, b)
		return level, true
	}
	for _, i := range g.p.loads[l].groups {
		in := &g.p.intents[g.p.groups[i].intent]
		gr, sensor, ok := g.group(in)
		if t := in.target(l); ok && in.Enters && t != nil && t.level > 0 && slices.Contains(gr.loads, l) && !in.cond.stated && g.p.devices[sensor].presence == domain.Occupancy {
			return g.p.loads[l].bounded(t.level), true
		}
	}
	return 0, false
}

// hold lets people be in the room, so that no delay runs out in the story.
func (g *storyteller) hold(l int) {
	told := map[int]bool{}
	for _, i := range g.p.loads[l].groups {
		for _, k := range g.p.groups[i].sensors {
			if k.when != domain.PartitionOpen && !told[k.device] {
				told[k.device] = true
				g.happens(domain.Occupied, k.device)
			}
		}
	}
}

// fits puts the story into the intent's condition; false where it has one that a
// story cannot promise.
func (g *storyteller) fits(in *intent) bool {
	c := &in.cond
	if !c.stated {
		return true
	}
	if c.unless || len(c.modes) == 0 || c.window || c.darker > 0 || c.brighter > 0 || c.people != "" || c.partition == domain.PartitionOpen {
		return false
	}
	g.now.Mode = c.modes[0]
	return true
}

func (g *storyteller) intent(in *intent) {
	g.tell(string(in.ID), storyNames[in.Kind])
	if !g.fits(in) {
		return
	}
	switch in.Kind {
	case domain.ByPresence, domain.ForReceptacles:
		g.presence(in)
	case domain.ByDaylight:
		g.daylight(in)
	case domain.BySchedule:
		g.schedule(in)
	case domain.OnDemandResponse:
		g.demand(in)
	case domain.OnPowerBack:
		g.power(in)
	case domain.OnEmergency:
		g.emergency(in)
	case domain.ByAV, domain.ByContact, domain.OnMode:
		g.command(in)
	}
	g.keep()
}

var storyNames = map[domain.IntentKind]string{
	domain.ByPresence: "People come and go", domain.ForReceptacles: "Receptacles follow people", domain.ByDaylight: "Daylight comes in", domain.BySchedule: "The schedule's off",
	domain.OnDemandResponse: "Demand response", domain.OnPowerBack: "Power fails and comes back", domain.OnEmergency: "The emergency signal", domain.ByAV: "AV command", domain.ByContact: "Contact", domain.OnMode: "Change of mode",
}

// presence: people come, the light is at its entry level or waits for a press;
// they go, and after delay and warning it is at the level of an empty room.
func (g *storyteller) presence(in *intent) {
	gr, sensor, ok := g.group(in)
	if !ok {
		return
	}
	l := gr.loads[0]
	level, lit := 0.0, false
	if in.Kind == domain.ForReceptacles {
		level, lit = 100, true
		g.happens(domain.Occupied, sensor)
	} else if t := in.target(l); in.Enters && t != nil && g.p.devices[sensor].presence == domain.Occupancy {
		g.happens(domain.Occupied, sensor)
		level, lit = g.p.loads[l].bounded(t.level), true
	} else {
		g.happens(domain.Occupied, sensor)
		g.at += Minute
		g.expects(l, 0)
		if d, b, at, ok := g.lighter(l); ok {
			g.presses(d, b)
			level, lit = at, true
		}
	}
	if !lit {
		return
	}
	g.at += g.longestFade(l) + Minute
	g.expects(l, level)
	g.happens(domain.Vacant, sensor)
	g.at += gr.delay - Second
	g.expects(l, level)
	g.at += Second + seconds(in.Warning) + seconds(in.Fade) + Second
	off := math.Min(level, g.p.loads[l].bounded(float64(in.OffLevel)))
	if in.Kind == domain.ForReceptacles {
		off = 0
	}
	g.expects(l, off)
}

// longestFade is a time within which whatever brought a load up has settled.
func (g *storyteller) longestFade(l int) (fade Time) {
	for d := range g.p.devices {
		for _, cells := range g.p.devices[d].press {
			for i := range cells {
				if cells[i].load == l {
					fade = max(fade, cells[i].fade)
				}
			}
		}
	}
	for i := range g.p.intents {
		if t := g.p.intents[i].target(l); t != nil {
			fade = max(fade, t.fade)
		}
	}
	return fade
}

// daylight: half of the target comes in, so half of the level is asked for.
func (g *storyteller) daylight(in *intent) {
	for d := range g.p.devices {
		for _, l := range g.p.devices[d].trims {
			if g.p.loads[l].day != in.index || in.Target <= 0 || g.p.loads[l].switched || in.Yields {
				continue
			}
			level, ok := g.light(l)
			if !ok {
				continue
			}
			g.at += g.longestFade(l) + Minute
			g.add(domain.ScenarioStep{Happen: domain.DaylightRead, Device: g.p.Design.Devices[d].ID, Lux: in.Target / 2})
			g.at += seconds(in.Fade) + Second
			want := math.Max(level/2, math.Min(level, math.Max(g.p.loads[l].lowest, float64(in.Lowest))))
			if in.MayOff && level/2 < float64(in.Lowest) {
				want = 0
			}
			g.expects(l, want)
			return
		}
	}
}

// schedule: light that burns at the off time goes off after its warning.
func (g *storyteller) schedule(in *intent) {
	t, err := domain.ParseTimeOfDay(in.OffAt)
	if err != nil || t.Sun != "" || in.Do == domain.SetMode || in.Spares || len(in.targets) == 0 {
		return
	}
	const before = 10
	days, _ := domain.ParseDays(in.Days)
	if t.Minutes < before || days.Week == 0 {
		return
	}
	for i := range 7 {
		if days.Week>>i&1 != 0 {
			g.now.Day = domain.Days{Week: 1 << i}.String()
			break
		}
	}
	g.now.Start = domain.TimeOfDay{Minutes: t.Minutes - before}.String()
	for _, l := range in.targets {
		hand := g.p.loads[l].hand
		level, ok := g.light(l)
		if !ok {
			g.now.Steps = nil
			continue
		}
		wait := Time(0)
		if hand >= 0 {
			wait = max(0, seconds(g.p.intents[hand].Hold)-before*Minute)
		}
		g.at = before*Minute - Second
		g.expects(l, level)
		g.at = before*Minute + wait + seconds(in.Warning) + seconds(in.Fade) + Second
		if in.Override > 0 && in.Override < units.Seconds(float64(g.at)/1000) {
			return
		}
		g.expects(l, 0)
		return
	}
}

func (g *storyteller) demand(in *intent) {
	for _, l := range in.targets {
		if g.p.loads[l].switched {
			continue
		}
		level, ok := g.light(l)
		if !ok {
			g.now.Steps = nil
			continue
		}
		g.at += g.longestFade(l) + Minute
		g.happens(domain.DemandStarted, -1)
		g.at += seconds(in.Fade) + Second
		g.expects(l, math.Max(g.p.loads[l].lowest, level*float64(in.Level)/100))
		g.happens(domain.DemandEnded, -1)
		g.at += seconds(in.Fade) + Second
		g.expects(l, level)
		return
	}
}

func (g *storyteller) power(in *intent) {
	for _, l := range in.targets {
		level, ok := g.light(l)
		if !ok {
			g.now.Steps = nil
			continue
		}
		g.at += g.longestFade(l) + Minute
		g.happens(domain.PowerLost, -1)
		g.at += Minute
		g.happens(domain.PowerRestored, -1)
		g.at += Second
		switch in.Restore {
		case domain.RestoreOff:
			level = 0
		case domain.RestoreFull:
			level = 100
		case domain.RestoreSet:
			level = float64(in.Level)
		}
		g.expects(l, g.p.loads[l].bounded(level))
		return
	}
}

func (g *storyteller) emergency(in *intent) {
	g.happens(domain.EmergencyBegan, -1)
	g.at += Second
	for _, l := range in.targets {
		g.expects(l, g.p.loads[l].bounded(float64(in.Level)))
	}
}

// command: an AV command, a contact or a mode that goes to levels or locks.
func (g *storyteller) command(in *intent) {
	if in.Do != domain.GoTo && in.Do != domain.Lock {
		return
	}
	st := domain.ScenarioStep{Device: in.Device}
	switch in.Kind {
	case domain.ByAV:
		g.now.Name += " \"" + in.Command + "\""
		st.Happen, st.Text = domain.AVCommand, in.Command
	case domain.OnMode:
		g.now.Name += " to " + string(modeOf(in))
		st = domain.ScenarioStep{Happen: domain.ModeChanged, Text: string(modeOf(in))}
		g.now.Mode = domain.NormalMode
		if modeOf(in) == domain.NormalMode {
			g.now.Mode = domain.AfterHours
		}
	default:
		g.now.Name += " " + strings.ToLower(in.Command)
		st.Happen, st.Button = domain.ContactClosed, 1
		if !sameCommand(in.Command, "closed") {
			st.Happen = domain.ContactOpened
		}
		if in.Device == "" {
			return
		}
	}
	g.add(st)
	var fade Time
	for i := range in.levels {
		fade = max(fade, in.levels[i].fade)
	}
	g.at += fade + 30*Second
	for i := range in.levels {
		if t := &in.levels[i]; in.Kind != domain.ByContact || g.named(in, t.load) {
			g.expects(t.load, g.p.loads[t.load].bounded(t.level))
		}
	}
}

// named tells whether a contact's cells leave a load to its intent.
func (g *storyteller) named(in *intent, l int) bool {
	d := g.p.Design.DeviceIndex(in.Device)
	if d < 0 || len(g.p.devices[d].contacts) == 0 {
		return d >= 0
	}
	for _, c := range g.p.devices[d].contacts {
		if c.input == 1 && c.load == l && c.when != domain.PartitionOpen {
			return true
		}
	}
	return false
}
