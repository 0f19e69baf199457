package energy

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"scopewright/domain"
	"scopewright/domain/daylight"
)

// Weeks is how many weeks of a year are played: the one in the middle of each month.
const Weeks = 12

// Skies is the daylight outdoors in the weeks that are played, at a project's place:
// the sun hour by hour, and which days are overcast. It is made once for all rooms.
type Skies struct {
	year daylight.Year // of the weeks' days in order, 24 samples each
	of   daylight.SkyOf
}

// SkiesOf draws the skies of a project's place. The share of overcast days is that
// of the limit, in each week as nearly as whole days give; which days they are goes
// by chance, the same on every run. Clear days are the CIE clear sky's light without
// the sun: blinds keep the sun off. It says what the project lacks where it does not
// state its place.
func SkiesOf(p *domain.Project) (*Skies, error) {
	hours := daylight.Hours{Days: []time.Weekday{0, 1, 2, 3, 4, 5, 6}}
	for h := range 24 {
		hours.Times = append(hours.Times, 60*h+30)
	}
	all, err := daylight.YearOf(p, hours)
	if err != nil {
		return nil, err
	}
	days := playedDays()
	s := &Skies{of: skies(days, p.Limits.Value(domain.OvercastDays)/100)}
	for _, day := range days {
		s.year.Samples = append(s.year.Samples, all.Samples[24*(day-1):24*day]...)
	}
	return s, nil
}

// playedDays lists the days of the year that are played: from the Monday nearest to
// the 15th of each month, seven.
func playedDays() (days []int) {
	for month := time.January; month <= time.December; month++ {
		middle := time.Date(daylight.PredictedYear, month, 15, 0, 0, 0, 0, time.UTC)
		back := (int(middle.Weekday()) + 6) % 7
		if back > 3 {
			back -= 7
		}
		for d := range 7 {
			days = append(days, middle.YearDay()-back+d)
		}
	}
	return days
}

// skies puts a share of each seven days under an overcast sky, the rounding carried
// on to the next.
func skies(days []int, overcast float64) daylight.SkyOf {
	r := rand.New(rand.NewPCG(1, 0x5c1e5)) //nolint:gosec // no secret
	clouded, given := map[int]bool{}, 0
	for i := 0; i < len(days); i += 7 {
		want := int(math.Round(overcast*float64(i+7))) - given
		given += want
		for _, k := range r.Perm(7)[:max(0, min(7, want))] {
			clouded[days[i+k]] = true
		}
	}
	return func(day int) daylight.Sky {
		if clouded[day] {
			return daylight.Overcast
		}
		return daylight.Clear
	}
}

// Readings gives what a room's daylight sensors read in each of the weeks, hour by
// hour: the mean of the daylight under the luminaires of the loads that each acts
// on, as calibration makes it read the task. Sensors whose loads have no luminaires
// on the plan read nothing; none does where the plan shows no windows.
func (s *Skies) Readings(p *domain.Project, r *domain.Resolved, lit *Lit) [][]Reading {
	out := make([][]Reading, Weeks)
	if !lit.Drawn() {
		return out
	}
	var in *daylight.Indoors
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		t := p.Book.Find(d.Type)
		if t == nil || !t.Kind.Traits().Daylight {
			continue
		}
		if in == nil {
			in = s.year.In(lit.light, s.of)
		}
		if lx := atTask(r, in, d.ID); lx != nil {
			addReadings(out, d.ID, lx)
		}
	}
	for _, week := range out {
		slices.SortStableFunc(week, func(a, b Reading) int { return int(math.Round(a.At - b.At)) })
	}
	return out
}

// atTask gives the daylight at the task of a sensor's loads at each sample; nil
// where none of them is on the plan.
func atTask(r *domain.Resolved, in *daylight.Indoors, sensor domain.ID) (lx []float64) {
	n := 0.0
	for i := range r.Design.Links {
		k := &r.Design.Links[i]
		if k.Device != sensor || k.Do.Verb != domain.Acts {
			continue
		}
		under, known := in.Under(k.Load)
		if !known {
			continue
		}
		n++
		if lx == nil {
			lx = make([]float64, len(under.Light()))
		}
		for j, v := range under.Light() {
			lx[j] += v
		}
	}
	for j := range lx {
		lx[j] /= n
	}
	return lx
}

// addReadings splits a sensor's samples into weeks; what stays the same is read once.
func addReadings(weeks [][]Reading, sensor domain.ID, lx []float64) {
	for w := range weeks {
		last := -1.0
		for h, v := range lx[w*weekHours : (w+1)*weekHours] {
			if v != last {
				weeks[w] = append(weeks[w], Reading{float64(h), v, sensor})
			}
			last = v
		}
	}
}
