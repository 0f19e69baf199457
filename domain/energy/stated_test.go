package energy_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/energy"
)

// Hours of a week times 365/7, by hand.
func TestStatedHours(t *testing.T) {
	for text, week := range map[string]float64{
		"Mon-Fri 07:00-22:00, Sat 08:00-16:00":  83,
		"Mon, Wed 08:00-12:00; Fri 9:00 - 9:30": 8.5,
		"weekdays: 08:00–18:00.":                50,
		"22:00-06:00":                           56,
		"daily 00:00-24:00":                     168,
		"Mon-Fri not holidays 08:00 to 17:00":   45,
	} {
		got, read := energy.StatedHours(text)
		assert.True(t, read, text)
		assert.InDelta(t, week*365/7, got, 1e-9, text)
	}
	for _, text := range []string{"", "  ", "as the school decides", "Mon-Fri", "Mon-Fri 07:00-25:00", "Mon-Fri 07:00-22:00 in term", "7-22", "daily 00:00-24:00, Mon 08:00-09:00"} {
		_, read := energy.StatedHours(text)
		assert.False(t, read, text)
	}
}

func FuzzStatedHours(f *testing.F) {
	f.Add("Mon-Fri 07:00-22:00, Sat 08:00-16:00")
	f.Add("sunset 00:00-24:00")
	f.Fuzz(func(t *testing.T, text string) {
		if hours, read := energy.StatedHours(text); read && !(hours >= 0 && hours <= energy.HoursPerYear) {
			t.Fatalf("%q gives %g hours", text, hours)
		}
	})
}

func TestHoursNote(t *testing.T) {
	p := &domain.Project{Hours: "Mon-Fri 07:00-22:00, Sat 08:00-16:00"}
	profiles := []energy.Profile{{Day: 1400}, {Day: 2543, Night: 207}}
	note := energy.HoursNote(p, profiles)
	for _, word := range []string{"about 4330 h a year", "here 1400 to 2750 h a year", "are not in these figures", "no use has hours of this project's own"} {
		assert.Contains(t, note, word)
	}
	profiles[0].Own = true
	assert.Contains(t, energy.HoursNote(p, profiles), "1 of 2 rooms go by this project's own")
	p.Hours = "as the school decides"
	assert.Contains(t, energy.HoursNote(p, profiles[:1]), "(as the school decides) are not in these figures: each room goes by the hours of its use, here 1400 h")
	assert.Empty(t, energy.HoursNote(p, nil))
	p.Hours = " "
	assert.Empty(t, energy.HoursNote(p, profiles))
}
