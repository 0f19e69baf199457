package domain

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
)

// MostCalendar is how many holidays, or changes of mode, a project may list.
const MostCalendar = 200

// Holiday is one line of the holiday list: "2026-12-25 Winter closing". The
// name may be missing.
func Holiday(line string) (day time.Time, name string, err error) {
	date, name, _ := strings.Cut(strings.TrimSpace(line), " ")
	day, err = time.Parse(time.DateOnly, date)
	if err != nil {
		return day, "", fmt.Errorf("%q is no holiday: write a date and a name, like 2026-12-25 Winter closing", shortText(line))
	}
	return day, strings.TrimSpace(name), nil
}

// ModeTime is one line of the calendar of modes: on which days at what time
// the rooms go into a mode: "Mon-Fri 07:00 normal".
type ModeTime struct {
	Days Days
	At   TimeOfDay
	Mode Mode
}

var modeLine = regexp.MustCompile(`(?i)^(.*?)\s*((?:\d{1,2}:\d{2})|(?:sun(?:rise|set)(?:\s*[+-]\s*[\d:]+(?:\s*min)?)?))\s+([a-z][a-z -]*)$`)

// ParseModeTime reads a line of the calendar of modes.
func ParseModeTime(line string) (ModeTime, error) {
	m := modeLine.FindStringSubmatch(strings.TrimSpace(line))
	if m == nil {
		return ModeTime{}, fmt.Errorf("%q changes no mode: write days, a time and a mode, like Mon-Fri 07:00 normal", shortText(line))
	}
	var out ModeTime
	var err error
	if out.Days, err = ParseDays(m[1]); err != nil {
		return out, err
	}
	if out.At, err = ParseTimeOfDay(m[2]); err != nil {
		return out, err
	}
	out.Mode = Mode(strings.ToLower(strings.Join(strings.Fields(m[3]), " ")))
	if !slices.Contains(Modes(), out.Mode) {
		return out, fmt.Errorf("%q is no mode: use normal, after hours, cleaning or event", shortText(m[3]))
	}
	return out, nil
}

// String prints the line as it is stored.
func (m ModeTime) String() string {
	return m.Days.String() + " " + m.At.String() + " " + string(m.Mode)
}

// listField is a list of lines that each must read well.
func listField[T any](name, title, hint string, clean func(string) (string, error), at func(*T) *[]string) Field[T] {
	return Field[T]{Name: name, Title: title, Hint: hint, Wide: true,
		Show: func(_ Env, x *T) string { return strings.Join(*at(x), "\n") },
		Set: func(_ Env, x *T, text string) error {
			var out, wrong []string
			for i, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' || r == ';' }) {
				line, err := CleanLine(line, MaxName)
				if err == nil && line != "" {
					line, err = clean(line)
				}
				if err != nil {
					wrong = append(wrong, fmt.Sprintf("line %d: %v", i+1, err))
				} else if line != "" && !slices.Contains(out, line) {
					out = append(out, line)
				}
			}
			if len(wrong) > 0 {
				return errors.New(strings.Join(wrong[:min(len(wrong), 8)], "; "))
			}
			if len(out) > MostCalendar {
				return fmt.Errorf("%s has %d lines; at most %d are kept", strings.ToLower(title), len(out), MostCalendar)
			}
			*at(x) = out
			return nil
		}}
}

func cleanHoliday(line string) (string, error) {
	day, name, err := Holiday(line)
	return strings.TrimSpace(day.Format(time.DateOnly) + " " + name), err
}

func cleanModeTime(line string) (string, error) {
	m, err := ParseModeTime(line)
	return m.String(), err
}

// zoneField is the time zone by its name in the IANA database.
func zoneField() Field[Project] {
	return Field[Project]{Name: "zone", Title: "Time zone", Hint: "like America/Chicago or Europe/Vienna", Empty: "none: the clock has no summer time",
		Show: func(_ Env, p *Project) string { return p.Zone },
		Set: func(_ Env, p *Project, text string) error {
			text = strings.TrimSpace(text)
			if err := CheckZone(text); err != nil {
				return err
			}
			p.Zone = text
			return nil
		}}
}

// CheckZone says whether a time zone is known; the empty one is.
func CheckZone(name string) error {
	if name == "" {
		return nil
	}
	if _, err := time.LoadLocation(name); err != nil || name == "Local" {
		return fmt.Errorf("%q is no time zone: write it like America/Chicago or Europe/Vienna", shortText(name))
	}
	return nil
}

// degreesField is a latitude or longitude; empty is not stated.
func degreesField(name, title, hint string, most float64, at func(*Project) **float64) Field[Project] {
	return Field[Project]{Name: name, Title: title, Hint: hint,
		Show: func(_ Env, p *Project) string {
			if *at(p) == nil {
				return ""
			}
			return trimDegrees(**at(p))
		},
		Set: func(_ Env, p *Project, text string) error {
			v, some, err := parseDegrees(text)
			if err != nil {
				return err
			}
			if v < -most || v > most {
				return fmt.Errorf("%s goes from -%g to %g degrees", strings.ToLower(title), most, most)
			}
			*at(p) = nil
			if some {
				*at(p) = &v
			}
			return nil
		}}
}
