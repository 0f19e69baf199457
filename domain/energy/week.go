package energy

import (
	"math"
	"math/rand/v2"

	"scopewright/domain"
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
type Reading struct {
	At, Lx float64
	Sensor domain.ID // that reads it; empty: each daylight sensor of the room
}

const (
	weekHours    = 7 * 24
	weeksPerYear = HoursPerYear / float64(weekHours)
	workdays     = 261 // in 2025
	everyDay     = 365
	breaks       = 4 // absences within a day of use
)

// opening gives the days of a week on which a profile's room is used and the hours
// of each: five days about 13:00, seven where the hours ask for it.
func (p Profile) opening() (days int, from, hours float64) {
	days, hours = 5, (p.Day+p.Night)/workdays
	if hours > 16 {
		days, hours = 7, (p.Day+p.Night)/everyDay
	}
	hours = math.Min(24, hours)
	return days, math.Max(0, math.Min(24-hours, 13-hours/2)), hours
}

// TypicalWeeks draws weeks of a profile's hours and absence: days of use about
// 13:00, each cut by four absences of random place and length. On a share of all
// evenings, 0 to 1, spread by chance, the light is left on by who leaves. The same
// seed gives the same weeks. How people come and go is judgment; the totals are the
// profile's.
func TypicalWeeks(p Profile, leftOn float64, weeks int, seed uint64) []Week {
	r := rand.New(rand.NewPCG(seed, 0x5c0be)) //nolint:gosec // no secret
	days, opens, hours := p.opening()
	forget := chosen(r, weeks*days, leftOn)
	out := make([]Week, weeks)
	for i := range out {
		w := &out[i]
		for day := range days {
			in, away := shares(r, breaks+1), shares(r, breaks)
			at := float64(24*day) + opens
			for j, share := range in {
				stay := Stay{From: at, To: at + share*(1-p.Absence)*hours}
				if at = stay.To; j < breaks {
					at += away[j] * p.Absence * hours
				} else {
					stay.Last, stay.Forgets = true, forget[i*days+day]
				}
				if stay.To > stay.From {
					w.Stays = append(w.Stays, stay)
				}
			}
		}
	}
	return out
}

// chosen picks a share of n by chance, as many as rounding gives.
func chosen(r *rand.Rand, n int, share float64) []bool {
	out := make([]bool, n)
	for _, i := range r.Perm(n)[:int(math.Round(max(0, min(1, share))*float64(n)))] {
		out[i] = true
	}
	return out
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
