package domain

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Sun is the event of the sun that a time of day is told by; empty is the clock.
type Sun string

// The events of the sun.
const (
	Sunrise Sun = "sunrise"
	Sunset  Sun = "sunset"
)

// Sunrise and sunset, minutes after midnight, where a project does not say where
// it stands or where the sun does not cross the horizon: 06:00 and 18:00.
const UsualSunrise, UsualSunset = 6 * 60, 18 * 60

// TimeOfDay is a time by the clock, or before or after sunrise or sunset.
// Minutes count from midnight, or from the sun's event.
type TimeOfDay struct {
	Sun     Sun
	Minutes int
}

var sunTime = regexp.MustCompile(`^(sunrise|sunset)\s*(?:([+-])\s*(?:(\d{1,2}):(\d{2})|(\d{1,3})\s*(?:min|m)?))?$`)

// MaxSunOffset is the farthest that a time may lie from sunrise or sunset.
const MaxSunOffset = 6 * 60

// ParseTimeOfDay reads "07:00", "sunset", "sunset+00:15" or "sunrise - 30 min".
func ParseTimeOfDay(text string) (TimeOfDay, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	if m := sunTime.FindStringSubmatch(t); m != nil {
		n := 0
		if m[3] != "" {
			h, _ := strconv.Atoi(m[3])
			n, _ = strconv.Atoi(m[4])
			n += 60 * h
		} else if m[5] != "" {
			n, _ = strconv.Atoi(m[5])
		}
		if n > MaxSunOffset {
			return TimeOfDay{}, fmt.Errorf("%q is too far from %s: at most 6 h before or after", shortText(text), m[1])
		}
		if m[2] == "-" {
			n = -n
		}
		return TimeOfDay{Sun(m[1]), n}, nil
	}
	if c, err := time.Parse("15:04", t); err == nil {
		return TimeOfDay{Minutes: 60*c.Hour() + c.Minute()}, nil
	}
	return TimeOfDay{}, fmt.Errorf("%q is no time of day: write it like 07:00, or like sunset+00:15", shortText(text))
}

// String prints the time as it is stored: "07:00", "sunset+00:15".
func (t TimeOfDay) String() string {
	if t.Sun == "" {
		return fmt.Sprintf("%02d:%02d", t.Minutes/60, t.Minutes%60)
	}
	switch n := t.Minutes; {
	case n < 0:
		return fmt.Sprintf("%s-%02d:%02d", t.Sun, -n/60, -n%60)
	case n > 0:
		return fmt.Sprintf("%s+%02d:%02d", t.Sun, n/60, n%60)
	}
	return string(t.Sun)
}

// Days says on which days a time counts: a bit for each weekday from Monday,
// and what holidays of the project do.
type Days struct {
	Week     uint8 // bit 0 is Monday
	Holidays HolidayRule
}

// HolidayRule is what a holiday does to a list of days.
type HolidayRule uint8

// The rules: a holiday counts by its weekday, never, or whatever its weekday.
const (
	HolidaysByWeekday HolidayRule = iota
	HolidaysNever
	HolidaysAlways
)

// EveryDay counts always.
var EveryDay = Days{Week: 0x7f}

var weekdays = [7]string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}

// ParseDays reads "Mon-Fri", "Mon, Wed, Sat-Sun", "Mon-Fri not holidays",
// "Sat-Sun and holidays" or "holidays". Empty is every day.
func ParseDays(text string) (Days, error) {
	var d Days
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == ',' || r == ' ' || r == ';' })
	not := false
	for _, w := range words {
		switch w {
		case "and", "plus":
		case "not", "no", "except", "without":
			not = true
		case "holidays", "holiday":
			if d.Holidays = HolidaysAlways; not {
				d.Holidays = HolidaysNever
			}
			not = false
		case "daily", "every", "day", "days", "all":
			d.Week = 0x7f
		case "weekdays", "workdays":
			d.Week |= 0x1f
		case "weekends":
			d.Week |= 0x60
		default:
			bits, ok := dayRange(w)
			if !ok || not {
				return Days{}, fmt.Errorf("%q are no days: write them like Mon-Fri, or Mon, Wed, Sat-Sun; add \"not holidays\" or \"and holidays\"", shortText(text))
			}
			d.Week |= bits
		}
	}
	if not {
		return Days{}, fmt.Errorf("%q ends in the air: write \"not holidays\"", shortText(text))
	}
	if d.Week == 0 && d.Holidays != HolidaysAlways {
		d.Week = 0x7f
	}
	return d, nil
}

func dayRange(w string) (uint8, bool) {
	from, to, ranged := strings.Cut(strings.ReplaceAll(w, "–", "-"), "-")
	a, ok := weekday(from)
	if !ok || !ranged {
		return 1 << a, ok
	}
	b, ok := weekday(to)
	if !ok {
		return 0, false
	}
	bits := uint8(1 << a)
	for a != b {
		a = (a + 1) % 7
		bits |= 1 << a
	}
	return bits, true
}

func weekday(w string) (int, bool) {
	if len(w) < 3 {
		return 0, false
	}
	full := [7]string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}
	for i, name := range full {
		if strings.HasPrefix(name, w) || strings.EqualFold(w, weekdays[i]+"s") {
			return i, true
		}
	}
	return 0, false
}

// String prints the days: "Mon-Fri not holidays"; every day is "Mon-Sun".
func (d Days) String() string {
	var parts []string
	for i := 0; i < 7; i++ {
		if d.Week&(1<<i) == 0 {
			continue
		}
		j := i
		for j+1 < 7 && d.Week&(1<<(j+1)) != 0 {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, weekdays[i])
		case j == i+1:
			parts = append(parts, weekdays[i], weekdays[j])
		default:
			parts = append(parts, weekdays[i]+"-"+weekdays[j])
		}
		i = j
	}
	s := strings.Join(parts, ", ")
	switch {
	case d.Holidays == HolidaysNever:
		s += " not holidays"
	case d.Holidays == HolidaysAlways && s == "":
		s = "holidays"
	case d.Holidays == HolidaysAlways:
		s += " and holidays"
	}
	return s
}

// On tells whether the days count on a weekday, 0 being Monday.
func (d Days) On(weekday int, holiday bool) bool {
	if holiday && d.Holidays != HolidaysByWeekday {
		return d.Holidays == HolidaysAlways
	}
	return d.Week&(1<<weekday) != 0
}
