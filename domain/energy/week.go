package energy

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"scopewright/domain"
	"scopewright/domain/sequence"
)

// Week is what happens to a room from Monday 00:00 to Sunday 24:00, in hours.
type Week struct {
	Stays    []Stay    // of people, in order, apart from each other
	Daylight []Reading // in order
}

// Stay is a stretch with people. Last is the day's last: who leaves turns the
// light off by hand where no sensor does, unless Forgets.
type Stay struct {
	From, To      float64
	Last, Forgets bool
}

// Reading is the daylight that comes to hold at a time, lx at the task.
type Reading struct{ At, Lx float64 }

const (
	weekHours    = 7 * 24
	weeksPerYear = HoursPerYear / float64(weekHours)
	workdays     = 261 // in 2025
	forgotten    = 0.10
	breaks       = 4 // absences within a day of use
)

// TypicalWeek draws a week of a profile's hours and absence: five days of use
// (seven where the hours ask for it) about 13:00, each cut by four absences of
// random place and length. On one evening in ten the light is left on by who
// leaves. The same seed gives the same week. How people come and go is
// judgment; the totals are the profile's.
func TypicalWeek(p Profile, seed uint64) Week {
	r := rand.New(rand.NewPCG(seed, 0x5c0be)) //nolint:gosec // no secret
	days, hours := 5, (p.Day+p.Night)/workdays
	if hours > 16 {
		days, hours = 7, (p.Day+p.Night)/365
	}
	hours = math.Min(24, hours)
	opens := math.Max(0, math.Min(24-hours, 13-hours/2))
	var w Week
	for day := range days {
		in, out := shares(r, breaks+1), shares(r, breaks)
		at := float64(24*day) + opens
		for i, share := range in {
			stay := Stay{From: at, To: at + share*(1-p.Absence)*hours}
			if at = stay.To; i < breaks {
				at += out[i] * p.Absence * hours
			} else {
				stay.Last, stay.Forgets = true, r.Float64() < forgotten
			}
			w.Stays = append(w.Stays, stay)
		}
	}
	return w
}

// shares gives n shares of 1 of random size, none very small.
func shares(r *rand.Rand, n int) []float64 {
	out, sum := make([]float64, n), 0.0
	for i := range out {
		out[i] = 0.25 + r.Float64()
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// Burned is what a load did in a year of such weeks.
type Burned struct {
	Load  domain.ID
	Hours float64 // at any level above 0
	Full  float64 // hours at full that use as much
	KWh   float64 // watts x Full; 0 where the watts are not known
}

// Run plays a week through a room's intents and gives each load's year: the
// output in time, exactly but for fades over each other, times 365/7 days. Power
// is taken to go with the output; standby is not in it. Sensors report people
// the moment they come and go. Where a stay begins in the dark the first button
// that lights is pressed.
func Run(p *domain.Project, d *domain.Design, w Week) ([]Burned, error) {
	run := player{p: p, d: d, s: sequence.Compile(p, d).NewState(), out: make([]Burned, len(d.Loads))}
	if err := run.s.Begin(sequence.Start{Day: "Mon", Clock: "00:00"}); err != nil {
		return nil, fmt.Errorf("the week cannot begin: %w", err)
	}
	for _, e := range run.events(w) {
		run.until(e.at)
		e.do()
	}
	run.until(weekHours * sequence.Hour)
	for i := range run.out {
		b, l := &run.out[i], &d.Loads[i]
		b.Load = l.ID
		b.Hours *= weeksPerYear
		b.Full *= weeksPerYear
		watts, _, known := l.Power(p)
		if known || watts > 0 {
			b.KWh = b.Full * float64(watts) / 1000
		}
	}
	return run.out, nil
}

type player struct {
	p   *domain.Project
	d   *domain.Design
	s   *sequence.State
	out []Burned
}

type happening struct {
	at sequence.Time
	do func()
}

// noticing is how long people wait for the light before they press.
const noticing = 5 * sequence.Second

func (r *player) events(w Week) []happening {
	var out []happening
	add := func(hours float64, later sequence.Time, do func()) {
		out = append(out, happening{sequence.Time(math.Round(hours*float64(sequence.Hour))) + later, do})
	}
	for _, stay := range w.Stays {
		add(stay.From, 0, func() { r.sense(domain.Occupied) })
		add(stay.From, noticing, func() {
			if !r.lit() {
				r.press(true)
			}
		})
		add(stay.To, 0, func() {
			r.sense(domain.Vacant)
			if stay.Last && !stay.Forgets && !r.sensed() {
				r.press(false)
			}
		})
	}
	for _, light := range w.Daylight {
		add(light.At, 0, func() { r.read(light.Lx) })
	}
	slices.SortStableFunc(out, func(a, b happening) int { return cmp.Compare(a.at, b.at) })
	return out
}

// until lets time pass and adds up what the loads put out.
func (r *player) until(end sequence.Time) {
	for r.s.Now() < end {
		from := r.s.Now()
		to := end
		if t := r.s.NextTimer(); t > from {
			to = min(end, t)
		}
		for l := range r.out {
			hours, full := r.stretch(l, from, to)
			r.out[l].Hours += hours
			r.out[l].Full += full
		}
		r.s.AdvanceTo(to)
	}
}

// stretch integrates a load's output between two timers: what fades by
// Simpson's rule, the rest as it stands.
func (r *player) stretch(l int, from, to sequence.Time) (hours, full float64) {
	add := func(a, b sequence.Time) {
		if b <= a {
			return
		}
		x, m, y := r.s.Output(l, a), r.s.Output(l, a+(b-a)/2), r.s.Output(l, b-1)
		h := float64(b-a) / float64(sequence.Hour)
		full += h * (x + 4*m + y) / 6 / 100
		if m > 0 {
			hours += h
		}
	}
	settled := max(from, min(to, r.s.Settles(l)))
	add(from, settled)
	add(settled, to)
	return hours, full
}

func (r *player) each(want func(i int) bool, kind domain.Happening, lx float64) {
	for i := range r.d.Devices {
		if want(i) {
			r.s.Do(sequence.Event{At: r.s.Now(), Kind: kind, Device: i, Lux: lx})
		}
	}
}

func (r *player) sense(kind domain.Happening) {
	r.each(func(i int) bool {
		t := r.p.Book.Find(r.d.Devices[i].Type)
		return t != nil && t.Kind.Traits().Presence
	}, kind, 0)
}

func (r *player) read(lx float64) {
	r.each(func(i int) bool {
		t := r.p.Book.Find(r.d.Devices[i].Type)
		return t != nil && t.Kind.Traits().Daylight
	}, domain.DaylightRead, lx)
}

// sensed tells that something turns the light off when people go.
func (r *player) sensed() bool {
	for i := range r.d.Intents {
		if in := &r.d.Intents[i]; in.Kind == domain.ByPresence {
			return true
		}
	}
	return false
}

func (r *player) lit() bool {
	for l := range r.d.Loads {
		if r.d.Loads[l].Kind == domain.Lighting && !r.d.Loads[l].Egress && r.s.Output(l, r.s.Now()) > 0 {
			return true
		}
	}
	return false
}

// press presses the first button that lights the room, or that darkens it.
func (r *player) press(on bool) {
	for i := range r.d.Devices {
		for button := 1; button <= len(r.d.Devices[i].Buttons) || button <= r.buttons(i); button++ {
			if r.does(r.d.Devices[i].ID, button, on) {
				r.s.Do(sequence.Event{At: r.s.Now(), Kind: domain.Pressed, Device: i, Button: button})
				return
			}
		}
	}
}

func (r *player) buttons(i int) int {
	if t := r.p.Book.Find(r.d.Devices[i].Type); t != nil {
		return t.Buttons
	}
	return 0
}

// does tells that a press of the button brings light, or takes all that it
// acts on away.
func (r *player) does(dev domain.ID, button int, on bool) bool {
	some := false
	for i := range r.d.Links {
		k := &r.d.Links[i]
		if k.Device != dev || k.Button != button || k.On != domain.Press || k.Do.Verb == domain.Nothing {
			continue
		}
		switch {
		case on && k.Do.TurnsOn(r.d, k.Load):
			return true
		case !on && !k.Do.TurnsOff(r.d, k.Load):
			return false
		}
		some = true
	}
	return some && !on
}
