package rehearse

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// card is one device that a person, or the room, can do something to.
type card struct {
	Device    domain.ID
	Tag       string
	What      string // its kind, with what it is set to
	Place     string
	Buttons   []button
	Presence  bool
	Daylight  bool
	MostLight int     // at the end of its slider, in the unit of LuxPer
	LuxPer    float64 // lx in one of the unit in which people read daylight
	LightUnit string
	Contacts  []int
	Commands  []string
}

func (c *card) luxPer() string { return strconv.FormatFloat(c.LuxPer, 'f', -1, 64) }

// lightStep is how far one key moves the slider: 10 lx, or 1 fc.
func (c *card) lightStep() string { return units.Trim(max(1, math.Round(10/c.LuxPer)), 0) }

// mostTyped is the most that may be typed in, in the unit of LuxPer.
func (c *card) mostTyped() string { return units.Trim(math.Floor(mostLux/c.LuxPer), 0) }

// button is one button of a station.
type button struct {
	N     int
	Label string
	Does  string // as the matrix says
	Holds bool   // held, it does something
}

// cards lists what can be operated, in the order of the devices.
func (b *bench) cards() []card {
	var out []card
	for i := range b.design.Devices {
		d := &b.design.Devices[i]
		t := b.project.Book.Find(d.Type)
		if t == nil {
			continue
		}
		c := b.card(d, t)
		if len(c.Buttons)+len(c.Contacts)+len(c.Commands) > 0 || c.Presence || c.Daylight {
			out = append(out, c)
		}
	}
	return out
}

func (b *bench) card(d *domain.Device, t *equipment.Type) card {
	tr := t.Kind.Traits()
	c := card{Device: d.ID, Tag: d.Tag, What: tr.Name, Place: d.Place, Presence: tr.Presence, Daylight: tr.Daylight}
	if tr.Presence && d.Presence != "" {
		c.What += ", " + string(d.Presence)
	}
	if tr.Buttons {
		for n := 1; n <= t.Buttons; n++ {
			c.Buttons = append(c.Buttons, b.button(d, n))
		}
	}
	if tr.Daylight {
		c.LuxPer, c.LightUnit = 1, "lx"
		if b.project.Units == units.US {
			c.LuxPer, c.LightUnit = units.LuxPerFootcandle, "fc"
		}
		c.MostLight = int(math.Ceil(float64(b.mostLux()) / c.LuxPer))
	}
	if tr.Inputs {
		for n := 1; n <= max(1, t.Inputs); n++ {
			c.Contacts = append(c.Contacts, n)
		}
	}
	if t.Kind == equipment.AV {
		c.Commands = b.commands(d.ID)
	}
	return c
}

// button says what pressing and holding it does: "SC1 to L1, L2; held UP to L1".
func (b *bench) button(d *domain.Device, n int) button {
	out := button{N: n, Label: d.ButtonLabel(n)}
	var parts []string
	for _, g := range []domain.Gesture{domain.Press, domain.Hold} {
		if text := b.does(domain.Input{Device: d.ID, Button: n, On: g}); text != "" {
			if g == domain.Hold {
				text = "held: " + text
			}
			parts = append(parts, text)
		}
	}
	for i := range b.design.Links {
		l := &b.design.Links[i]
		ramps := l.Do.Verb == domain.Raise || l.Do.Verb == domain.Lower
		out.Holds = out.Holds || l.Device == d.ID && l.Button == n && (l.On == domain.Hold || ramps)
	}
	out.Does = strings.Join(parts, "; ")
	return out
}

// does tells the cells of one row of the matrix, loads that it treats alike
// together.
func (b *bench) does(in domain.Input) string {
	var actions []string
	loads := map[string][]string{}
	for i := range b.design.Loads {
		l := &b.design.Loads[i]
		link := b.design.Link(in, l.ID)
		if link == nil || link.Do.Verb == domain.Nothing {
			continue
		}
		a := link.Do.String()
		if !slices.Contains(actions, a) {
			actions = append(actions, a)
		}
		loads[a] = append(loads[a], l.Tag)
	}
	for i, a := range actions {
		actions[i] = a + " to " + strings.Join(loads[a], ", ")
	}
	return strings.Join(actions, "; ")
}

// mostLux is where the daylight sliders end: at twice the highest target, or
// as bright as a desk beside a window (common practice, no published source).
func (b *bench) mostLux() units.Lux {
	most := units.Lux(1000)
	for i := range b.design.Intents {
		in := &b.design.Intents[i]
		most = max(most, 2*in.Target, 2*in.DarkerThan, 2*in.BrighterThan)
	}
	return most
}

// commands lists the AV commands that an interface takes, once each.
func (b *bench) commands(av domain.ID) []string {
	var out []string
	for i := range b.design.Intents {
		in := &b.design.Intents[i]
		known := slices.ContainsFunc(out, func(c string) bool { return strings.EqualFold(c, in.Command) })
		if in.Kind == domain.ByAV && in.Command != "" && (in.Device == "" || in.Device == av) && !known {
			out = append(out, in.Command)
		}
	}
	return out
}

// contactName tells what an input is for where the intents say it.
func contactName(c card, n int) string {
	if len(c.Contacts) == 1 {
		return "Contact"
	}
	return fmt.Sprintf("Input %d", n)
}
