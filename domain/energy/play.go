package energy

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/sequence"
)

// Burned is what a load did in a year of the weeks that were played.
type Burned struct {
	Load   domain.ID
	Hours  float64 // at any level above 0
	Full   float64 // hours at full that use as much
	Bright float64 // what Full would be without daylight
	Away   float64 // of Bright: with nobody in, between the stays of a day
	After  float64 // of Bright: with nobody in, from a day's last stay to the next day's first
	KWh    float64 // watts x Full; 0 where the watts are not known
}

// Hour is an average hour of the day, over the days of use that were played: the
// share of it in which people are in, and kW of the lamps.
type Hour struct{ In, Lamps, Bright float64 }

// Run plays weeks through a room's intents and gives each load's year: the output
// in time, exactly but for fades over each other, times 365 days over those played.
// Power is taken to go with the output; standby is not in it. Sensors report people
// the moment they come and go. Where a stay begins in the dark the buttons
// that light the general lighting are pressed, those that light most first.
func Run(p *domain.Project, d *domain.Design, weeks ...Week) ([]Burned, error) {
	r := newPlayer(p, d)
	if err := r.play(weeks); err != nil {
		return nil, err
	}
	return r.year(len(weeks)), nil
}

type player struct {
	p     *domain.Project
	d     *domain.Design
	s     *sequence.State
	out   []Burned
	watts []float64 // 0 where not known

	presence, daylight []int // indices of the devices that report people, and light
	buttons            []int // how many each device has
	loads              []int // by link: index of its load; -1: none of lighting

	in    bool      // people are
	over  bool      // the day's last stay is, or the first has not begun
	hours *[24]Hour // sums over the days of use; nil: not asked for
	days  int       // of use in a week
}

func newPlayer(p *domain.Project, d *domain.Design) *player {
	r := &player{p: p, d: d, s: sequence.Compile(p, d).NewState(), out: make([]Burned, len(d.Loads)), watts: make([]float64, len(d.Loads))}
	for i := range d.Loads {
		r.out[i].Load = d.Loads[i].ID
		if watts, _, known := d.Loads[i].Power(p); known || watts > 0 {
			r.watts[i] = float64(watts)
		}
	}
	r.buttons = make([]int, len(d.Devices))
	for i := range d.Devices {
		r.buttons[i] = len(d.Devices[i].Buttons)
		t := p.Book.Find(d.Devices[i].Type)
		if t == nil {
			continue
		}
		r.buttons[i] = max(r.buttons[i], t.Buttons)
		if traits := t.Kind.Traits(); traits.Presence {
			r.presence = append(r.presence, i)
		} else if traits.Daylight {
			r.daylight = append(r.daylight, i)
		}
	}
	for i := range d.Links {
		r.loads = append(r.loads, slices.IndexFunc(d.Loads, func(l domain.Load) bool { return l.ID == d.Links[i].Load && l.Kind == domain.Lighting }))
	}
	return r
}

// play lets weeks pass, each from an empty dark room on.
func (r *player) play(weeks []Week) error {
	for _, w := range weeks {
		if err := r.s.Begin(sequence.Start{Day: "Mon", Clock: "00:00"}); err != nil {
			return fmt.Errorf("the week cannot begin: %w", err)
		}
		r.in, r.over = false, true
		for _, e := range r.events(w) {
			r.until(e.at)
			e.do()
		}
		r.until(weekHours * sequence.Hour)
	}
	return nil
}

// year turns what was summed over some weeks into a year.
func (r *player) year(weeks int) []Burned {
	k := weeksPerYear / float64(max(1, weeks))
	for i := range r.out {
		b := &r.out[i]
		b.Hours, b.Full, b.Bright, b.Away, b.After = b.Hours*k, b.Full*k, b.Bright*k, b.Away*k, b.After*k
		b.KWh = b.Full * r.watts[i] / 1000
	}
	return r.out
}

type happening struct {
	at sequence.Time
	do func()
}

// noticing is how long people wait for the light before they press.
const noticing = 5 * sequence.Second

func (r *player) events(w Week) []happening {
	out := make([]happening, 0, 3*len(w.Stays)+len(w.Daylight))
	add := func(hours float64, later sequence.Time, do func()) {
		out = append(out, happening{sequence.Time(math.Round(hours*float64(sequence.Hour))) + later, do})
	}
	for _, stay := range w.Stays {
		add(stay.From, 0, func() {
			r.in, r.over = true, false
			r.sense(domain.Occupied)
		})
		add(stay.From, noticing, func() {
			if r.in && !r.lit() {
				r.press(true)
			}
		})
		add(stay.To, 0, func() {
			r.in, r.over = false, stay.Last
			r.sense(domain.Vacant)
			if stay.Last && !stay.Forgets && !r.sensed() {
				r.press(false)
			}
		})
	}
	for _, light := range w.Daylight {
		add(light.At, 0, func() { r.read(light) })
	}
	if r.hours != nil {
		for h := range weekHours {
			add(float64(h), 0, func() {})
		}
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
		r.addUp(from, to)
		r.s.AdvanceTo(to)
	}
}

// addUp sums what the loads put out between two timers.
func (r *player) addUp(from, to sequence.Time) {
	var hour Hour
	for l := range r.out {
		b := &r.out[l]
		hours, full, bright := r.stretch(l, from, to)
		b.Hours, b.Full, b.Bright = b.Hours+hours, b.Full+full, b.Bright+bright
		switch {
		case r.in:
		case r.over:
			b.After += bright
		default:
			b.Away += bright
		}
		if r.d.Loads[l].Kind == domain.Lighting {
			hour.Lamps, hour.Bright = hour.Lamps+full*r.watts[l]/1000, hour.Bright+bright*r.watts[l]/1000
		}
	}
	if r.hours == nil || int(from/(24*sequence.Hour)) >= r.days {
		return
	}
	h := &r.hours[int(from/sequence.Hour)%24]
	if r.in {
		h.In += float64(to-from) / float64(sequence.Hour)
	}
	h.Lamps, h.Bright = h.Lamps+hour.Lamps, h.Bright+hour.Bright
}

// stretch integrates a load's output between two timers: what fades by
// Simpson's rule, the rest as it stands.
func (r *player) stretch(l int, from, to sequence.Time) (hours, full, bright float64) {
	add := func(a, b sequence.Time) {
		if b <= a {
			return
		}
		m := a + (b-a)/2
		h := float64(b-a) / float64(sequence.Hour)
		if settled := r.s.Settles(l) <= a; settled {
			x := r.s.Output(l, a)
			full, bright = full+h*x/100, bright+h*r.s.Undimmed(l, a)/100
			if x > 0 {
				hours += h
			}
			return
		}
		full += h * (r.s.Output(l, a) + 4*r.s.Output(l, m) + r.s.Output(l, b-1)) / 6 / 100
		bright += h * (r.s.Undimmed(l, a) + 4*r.s.Undimmed(l, m) + r.s.Undimmed(l, b-1)) / 6 / 100
		if r.s.Output(l, m) > 0 {
			hours += h
		}
	}
	settled := max(from, min(to, r.s.Settles(l)))
	add(from, settled)
	add(settled, to)
	return hours, full, bright
}
