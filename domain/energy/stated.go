package energy

import (
	"fmt"
	"math"
	"math/bits"
	"regexp"
	"strings"

	"scopewright/domain"
)

var statedSpan = regexp.MustCompile(`^[\s,;]*([^0-9]*?)[\s,:]*(\d{1,2}:\d{2})\s*(?:-|–|to)\s*(\d{1,2}:\d{2})[\s,;.]*`)

// StatedHours gives the hours a year of hours of use in words such as "Mon-Fri
// 07:00-22:00, Sat 08:00-16:00": those of a week times 365/7, holidays not taken out. A
// span that ends before it begins goes on past midnight; 24:00 is the day's end. False
// where the words say anything else.
func StatedHours(text string) (hours float64, read bool) {
	for rest := text; strings.TrimSpace(rest) != ""; read = true {
		m := statedSpan.FindStringSubmatch(rest)
		if m == nil {
			return 0, false
		}
		days, err := domain.ParseDays(m[1])
		if err != nil {
			return 0, false
		}
		from, fromErr := domain.ParseTimeOfDay(m[2])
		to, toErr := domain.ParseTimeOfDay(strings.Replace(m[3], "24:00", "00:00", 1))
		if fromErr != nil || toErr != nil {
			return 0, false
		}
		minutes := to.Minutes - from.Minutes
		if minutes <= 0 {
			minutes += 24 * 60
		}
		hours += float64(minutes) / 60 * float64(bits.OnesCount8(days.Week)) * weeksPerYear
		rest = rest[len(m[0]):]
	}
	return hours, read && hours <= HoursPerYear
}

// HoursNote says that the hours which a project states are not those that the figures
// go by, with both numbers; empty where it states none or no room has a profile.
func HoursNote(p *domain.Project, profiles []Profile) string {
	if strings.TrimSpace(p.Hours) == "" || len(profiles) == 0 {
		return ""
	}
	stated := p.Hours
	if hours, read := StatedHours(p.Hours); read {
		stated += ", about " + Text(hours) + " h a year"
	}
	least, most, own := math.Inf(1), 0.0, 0
	for i := range profiles {
		hours := profiles[i].Day + profiles[i].Night
		least, most = min(least, hours), max(most, hours)
		if profiles[i].Own {
			own++
		}
	}
	span := Text(least)
	if most > least {
		span += " to " + Text(most)
	}
	whose := "no use has hours of this project's own"
	if own > 0 {
		whose = fmt.Sprintf("%d of %d rooms go by this project's own", own, len(profiles))
	}
	return fmt.Sprintf("The hours that the project states (%s) are not in these figures: each room goes by the hours of its use, here %s h a year, and %s. Where the stated hours hold, enter them for the use.", stated, span, whose)
}
