package domain

import (
	"cmp"
	"slices"
	"strings"
)

// DayOfModes is what the calendar of modes makes of one day: the mode that
// holds at midnight, and the changes in their order.
type DayOfModes struct {
	From    Mode
	Changes []ModeTime
}

// DayOfModes gives the modes of an ordinary weekday, 0 being Monday, or of a
// holiday that falls on it. The days before are ordinary ones. Where the sun
// rises and sets is not asked here: for the order of a day's changes it is
// taken to rise at 06:00 and to set at 18:00. Lines that do not read are left out.
func (p *Project) DayOfModes(weekday int, holiday bool) DayOfModes {
	var lines []ModeTime
	for _, text := range p.Calendar {
		if m, err := ParseModeTime(text); err == nil {
			lines = append(lines, m)
		}
	}
	slices.SortStableFunc(lines, func(a, b ModeTime) int { return cmp.Compare(a.At.roughly(), b.At.roughly()) })
	day := DayOfModes{From: NormalMode}
	for back := 1; back <= 7; back++ {
		if m := changesOn(lines, (weekday+7-back)%7, false); len(m) > 0 {
			day.From = m[len(m)-1].Mode
			break
		}
	}
	day.Changes = changesOn(lines, weekday, holiday)
	return day
}

func changesOn(lines []ModeTime, weekday int, holiday bool) []ModeTime {
	var out []ModeTime
	for _, m := range lines {
		if m.Days.On(weekday, holiday) {
			out = append(out, m)
		}
	}
	return out
}

// roughly gives minutes after midnight, good enough to put times in order.
func (t TimeOfDay) roughly() int {
	switch t.Sun {
	case Sunrise:
		return UsualSunrise + t.Minutes
	case Sunset:
		return UsualSunset + t.Minutes
	}
	return t.Minutes
}

// String tells the day: "after hours, from 07:00 normal, from 22:00 after hours".
func (d DayOfModes) String() string {
	parts := []string{string(d.From)}
	if len(d.Changes) == 0 {
		return string(d.From) + " all day"
	}
	for _, m := range d.Changes {
		parts = append(parts, "from "+m.At.String()+" "+string(m.Mode))
	}
	return strings.Join(parts, ", ")
}
