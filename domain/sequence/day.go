package sequence

import (
	"slices"
	"time"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Read is a daylight reading at a time, with where it comes from in a few words.
type Read struct {
	At     time.Time
	Device domain.ID
	Lux    units.Lux
	Source string
}

// DaylightStory tells a day by its readings, in order of time: people come in and light
// what the sensors trim, as far as presses or their coming do that, and then the sensors
// report. The story starts with the first reading.
func DaylightStory(p *domain.Project, d *domain.Design, name string, readings []Read) domain.Scenario {
	g := &storyteller{p: Compile(p, d)}
	g.tell("daylight", name)
	if len(readings) == 0 {
		return *g.now
	}
	start := readings[0].At
	g.now.Day, g.now.Start = start.Format("2006-01-02"), start.Format("15:04")
	for i := range g.p.devices {
		if !slices.ContainsFunc(readings, func(r Read) bool { return r.Device == d.Devices[i].ID }) {
			continue
		}
		for _, l := range g.p.devices[i].trims {
			g.light(l)
		}
	}
	g.once()
	for _, r := range readings {
		g.at = Time(r.At.Sub(start) / time.Millisecond)
		g.add(domain.ScenarioStep{Happen: domain.DaylightRead, Device: r.Device, Lux: r.Lux, Text: r.Source})
	}
	return *g.now
}

// once leaves of steps that say the same the first.
func (g *storyteller) once() {
	steps := g.now.Steps
	g.now.Steps = nil
	for _, st := range steps {
		if !slices.ContainsFunc(g.now.Steps, func(o domain.ScenarioStep) bool {
			return o.Happen == st.Happen && o.Device == st.Device && o.Button == st.Button
		}) {
			g.add(st)
		}
	}
}
