package energy

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"scopewright/domain/units"
)

// Cause is why the weeks that were played use more or less than LENI says.
type Cause string

// The causes.
const (
	CausePeople   Cause = "people"
	CauseAway     Cause = "short absences"
	CauseAfter    Cause = "after hours"
	CauseLevel    Cause = "levels"
	CauseDaylight Cause = "daylight"
	CauseHeld     Cause = "constant illuminance"
	CauseStandby  Cause = "standby"
)

// Why is one cause of the difference: how many kWh a year the weeks use more than
// LENI because of it, and the numbers that it comes from.
type Why struct {
	Cause Cause
	KWh   float64
	Text  string
}

// parts are the pieces of which a difference is made, kWh a year.
type parts struct{ people, away, after, level, daylight, held float64 }

// Whys takes the difference between the played year and LENI apart, the largest
// cause first. For each load with P in kW, from LENI's P F_C F_O (t_D F_D + t_N) to
// the P x full hours that were played, one step after the other:
//
//	constant illuminance  P F_O (t_D F_D + t_N) (1 - F_C)
//	people                P (hours with people - F_O (t_D + t_N))
//	short absences        P x hours at full between the stays of a day
//	after hours           P x hours at full from a day's last stay to the next
//	levels                P x (hours at full with people in - hours with people)
//	daylight              P F_O t_D (1 - F_D) - P x hours at full that daylight saved
//
// and standby. Their sum is the difference, but for rounding. Causes that bring
// nothing are left out.
func (y *Year) Whys() []Why {
	if y.Played == nil {
		return nil
	}
	s, pl := &y.Setting, y.Played
	var sum parts
	var away, after, bright, full, factor, power float64
	for i := range y.LENI.Lines {
		l, b := &y.LENI.Lines[i], &pl.Loads[i]
		sum.add(y.parts(l, b))
		w := float64(l.Watts)
		power += w
		away, after, bright, full = away+w*b.Away, after+w*b.After, bright+w*b.Bright, full+w*b.Full
		factor += w * l.People * (s.Profile.Day + s.Profile.Night)
	}
	if power == 0 {
		power = 1
	}
	hours := func(wattHours float64) string { return Text(wattHours/power) + " h" }
	out := []Why{
		{CausePeople, sum.people, fmt.Sprintf("people are in for %s; F_O counts %s of the hours of use", Text(pl.In)+" h", hours(factor))},
		{CauseAway, sum.away, "while people are out for a while, lamps use what " + hours(away) + " at full would, but for daylight: delays, and light that nothing turns off"},
		{CauseAfter, sum.after, "from the day's last person to the next day's first, lamps use what " + hours(after) + " at full would, but for daylight"},
		{CauseLevel, sum.level, fmt.Sprintf("with people in, lamps give what %s at full would: levels below full, and times without light", hours(bright-away-after))},
		{CauseDaylight, sum.daylight, y.daylightText(hours(bright - full))},
		{CauseHeld, sum.held, fmt.Sprintf("F_C is %s for a maintenance factor of %s; the weeks do not play it", units.Trim(HeldFactor(s.Held, 1), 2), units.Trim(s.Held, 2))},
		{CauseStandby, pl.Standby - y.LENI.Use.Standby, y.standbyText()},
	}
	out = slices.DeleteFunc(out, func(w Why) bool { return math.Abs(w.KWh) < 1e-9 })
	slices.SortStableFunc(out, func(a, b Why) int { return cmp.Compare(math.Abs(b.KWh), math.Abs(a.KWh)) })
	return out
}

func (y *Year) standbyText() string {
	return fmt.Sprintf("the weeks count %s W of devices all year and %s W of drivers while their own lamps are off; W_P counts both for the %s h outside of the hours of use",
		Text(float64(y.LENI.Devices)), Text(float64(y.LENI.Drivers)), Text(HoursPerYear-y.Setting.Profile.Day-y.Setting.Profile.Night))
}

func (y *Year) daylightText(saved string) string {
	if y.Played.Daylight != "" {
		return "F_D counts daylight; the weeks play none: " + y.Played.Daylight
	}
	dims := slices.ContainsFunc(y.LENI.Lines, func(l Line) bool { return l.Dims })
	weeks := "in the weeks only sensors dim, and daylight saves what " + saved + " at full would use"
	switch {
	case !dims:
		return "F_D counts that people switch by daylight; no sensor dims a load here, so the weeks save nothing by it"
	case slices.ContainsFunc(y.LENI.Lines, func(l Line) bool { return l.Sky < 1 && !l.Dims }):
		return "F_D counts its share, of loads that people switch too; " + weeks
	case slices.ContainsFunc(y.LENI.Lines, func(l Line) bool { return l.Sky < 1 }):
		return "F_D counts its share of the loads that sensors dim; " + weeks
	}
	return "F_D is 1 and counts no daylight, as " + y.uncounted() + "; " + weeks
}

// uncounted says why F_D is 1 for loads that sensors dim.
func (y *Year) uncounted() string {
	for i := range y.LENI.Lines {
		if _, err := y.Setting.supplied(y.LENI.Lines[i].Class); err != nil {
			return err.Error()
		}
	}
	return "the daylight of these loads is under the weakest class"
}

func (y *Year) parts(l *Line, b *Burned) parts {
	kw, s := float64(l.Watts)/1000, &y.Setting.Profile
	day, night := l.People*s.Day, l.People*s.Night
	return parts{
		held:     kw * (day*l.Sky + night) * (1 - l.Held),
		people:   kw * (y.Played.In - day - night),
		away:     kw * b.Away,
		after:    kw * b.After,
		level:    kw * (b.Bright - b.Away - b.After - y.Played.In),
		daylight: kw * (day*(1-l.Sky) + b.Full - b.Bright),
	}
}

func (p *parts) add(o parts) {
	p.people, p.away, p.after, p.level, p.daylight, p.held = p.people+o.people, p.away+o.away, p.after+o.after, p.level+o.level, p.daylight+o.daylight, p.held+o.held
}

// Text prints at most three significant figures: more would look like a
// measurement.
func Text(v float64) string {
	rounded, decimals := Figures(v)
	return units.Trim(rounded, decimals)
}

// Figures rounds to three significant figures at most and gives the decimals to
// print; what is under a hundredth prints as 0.
func Figures(v float64) (rounded float64, decimals int) {
	a := math.Abs(v)
	switch {
	case a >= 1000:
		p := math.Pow10(int(math.Floor(math.Log10(a))) - 2)
		return math.Round(v/p) * p, 0
	case a >= 100 || a == 0:
		decimals = 0
	case a >= 10:
		decimals = 1
	default:
		decimals = 2
	}
	p := math.Pow10(decimals)
	return math.Round(v*p) / p, decimals
}
