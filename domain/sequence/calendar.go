package sequence

import (
	"strings"
	"time"

	"scopewright/domain"
	"scopewright/domain/sun"
)

// calendar answers what the local clock and day are.
type calendar struct {
	zone     *time.Location
	holidays map[int]bool // by dateOf
	lines    []domain.ModeTime
	lat, lon float64
	placed   bool
}

func newCalendar(p *domain.Project) calendar {
	c := calendar{zone: time.UTC, holidays: map[int]bool{}, placed: p.Placed()}
	if z, err := time.LoadLocation(p.Zone); err == nil && p.Zone != "" {
		c.zone = z
	}
	for _, h := range p.Holidays {
		if day, _, err := domain.Holiday(h); err == nil {
			c.holidays[dateOf(day)] = true
		}
	}
	for _, l := range p.Calendar {
		if m, err := domain.ParseModeTime(l); err == nil {
			c.lines = append(c.lines, m)
		}
	}
	if c.placed {
		c.lat, c.lon = *p.Latitude, *p.Longitude
	}
	return c
}

// on gives the instant of a time of day on a day.
func (c *calendar) on(day time.Time, t domain.TimeOfDay) time.Time {
	y, m, d := day.Date()
	if t.Sun == "" {
		return c.instant(time.Date(y, m, d, 0, t.Minutes, 0, 0, time.UTC))
	}
	at, ok := time.Time{}, false
	if c.placed {
		rise, set, crosses := sun.RiseAndSet(time.Date(y, m, d, 12, 0, 0, 0, c.zone), c.lat, c.lon)
		if at, ok = rise, crosses; t.Sun == domain.Sunset {
			at = set
		}
	}
	if !ok {
		base := domain.UsualSunrise
		if t.Sun == domain.Sunset {
			base = domain.UsualSunset
		}
		at = time.Date(y, m, d, 0, base, 0, 0, c.zone)
	}
	return at.Add(time.Duration(t.Minutes) * time.Minute).Truncate(time.Second)
}

// instant gives when the zone's clock shows what asked shows as UTC. Where the clock
// leaves it out, that is the end of the gap; where it comes twice, its first coming.
// (time.Date does not say which of the two it takes.)
func (c *calendar) instant(asked time.Time) time.Time {
	at := time.Date(asked.Year(), asked.Month(), asked.Day(), asked.Hour(), asked.Minute(), 0, 0, c.zone)
	begin, end := at.ZoneBounds()
	_, offset := at.Zone()
	switch shown := at.Unix() + int64(offset); {
	case shown < asked.Unix():
		return end
	case shown > asked.Unix():
		return begin
	case begin.IsZero():
		return at
	}
	_, before := begin.Add(-1).Zone()
	if first := at.Add(time.Duration(offset-before) * time.Second); first.Before(begin) {
		return first
	}
	return at
}

// dateOf gives a day's date as one number, 20261225.
func dateOf(day time.Time) int {
	y, m, d := day.Date()
	return 10000*y + 100*int(m) + d
}

func (c *calendar) holds(days domain.Days, day time.Time) bool {
	holiday := c.holidays[dateOf(day)]
	return days.On((int(day.Weekday())+6)%7, holiday)
}

// next gives the first instant after a time at which a time of day comes on one
// of the days; ok is false where none comes within two years.
func (c *calendar) next(after time.Time, days domain.Days, t domain.TimeOfDay) (time.Time, bool) {
	day := after.In(c.zone).AddDate(0, 0, -1)
	for range 2 * 366 {
		if c.holds(days, day) {
			if at := c.on(day, t); at.After(after) {
				return at, true
			}
		}
		day = day.AddDate(0, 0, 1)
	}
	return time.Time{}, false
}

// last gives the last instant up to a time at which a time of day came.
func (c *calendar) last(upTo time.Time, days domain.Days, t domain.TimeOfDay) (time.Time, bool) {
	day := upTo.In(c.zone).AddDate(0, 0, 1)
	for range 2 * 366 {
		if c.holds(days, day) {
			if at := c.on(day, t); !at.After(upTo) {
				return at, true
			}
		}
		day = day.AddDate(0, 0, -1)
	}
	return time.Time{}, false
}

// mode gives what the calendar says at a time.
func (c *calendar) mode(at time.Time) domain.Mode {
	mode, newest := domain.NormalMode, time.Time{}
	for _, l := range c.lines {
		if t, ok := c.last(at, l.Days, l.At); ok && !t.Before(newest) {
			mode, newest = l.Mode, t
		}
	}
	return mode
}

// reference is the week in which scenarios play that name a weekday: one
// without holidays of its own and without a change of the clock.
var reference = time.Date(2026, time.June, 1, 0, 0, 0, 0, time.UTC) // a Monday

// start gives the instant at which a run starts. A holiday is the first of the
// list, or the reference Monday where there is none.
func (c *calendar) start(day, clock string) (time.Time, error) {
	day, err := domain.CleanScenarioDay(day)
	if err != nil {
		return time.Time{}, err
	}
	if clock == "" {
		clock = "09:00"
	}
	tod, err := domain.ParseTimeOfDay(clock)
	if err != nil {
		return time.Time{}, err
	}
	date := reference
	switch {
	case day == "holiday":
		first := 0
		for h := range c.holidays {
			if first == 0 || h < first {
				first = h
			}
		}
		if first != 0 {
			date = time.Date(first/10000, time.Month(first/100%100), first%100, 0, 0, 0, 0, time.UTC)
		}
	case strings.Contains(day, "-"):
		date, _ = time.Parse(time.DateOnly, day)
	case day != "":
		for range 7 {
			if date.Format("Mon") == day {
				break
			}
			date = date.AddDate(0, 0, 1)
		}
		for range 60 { // a weekday that is no holiday
			if !c.holidays[dateOf(date)] {
				break
			}
			date = date.AddDate(0, 0, 7)
		}
	}
	y, m, d := date.Date()
	return c.on(time.Date(y, m, d, 0, 0, 0, 0, c.zone), tod), nil
}
