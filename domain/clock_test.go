package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
)

func TestParseTimeOfDay(t *testing.T) {
	for text, want := range map[string]string{
		"07:00": "07:00", "7:05": "07:05", "23:59": "23:59", "sunset": "sunset", "Sunset + 0:15": "sunset+00:15", "sunrise-30 min": "sunrise-00:30", "sunrise - 1:30": "sunrise-01:30",
		"sunset+6:00": "sunset+06:00", "sunset-0:00": "sunset",
	} {
		got, err := domain.ParseTimeOfDay(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, got.String(), text)
			again, err := domain.ParseTimeOfDay(got.String())
			assert.NoError(t, err)
			assert.Equal(t, got, again, text)
		}
	}
	for _, text := range []string{"", "24:00", "7", "noon", "sunset+6:01", "sunset+", "07:60", "sunset 15"} {
		_, err := domain.ParseTimeOfDay(text)
		assert.Error(t, err, text)
	}
}

func TestParseDays(t *testing.T) {
	for text, want := range map[string]string{
		"": "Mon-Sun", "Mon-Sun": "Mon-Sun", "mon-fri": "Mon-Fri", "Mon–Fri": "Mon-Fri", "Monday, wednesday": "Mon, Wed", "Fri-Mon": "Mon, Fri-Sun", "Sat, Sun": "Sat, Sun",
		"Mon-Fri not holidays": "Mon-Fri not holidays", "Sat-Sun and holidays": "Sat, Sun and holidays", "holidays": "holidays", "weekdays except holidays": "Mon-Fri not holidays",
		"not holidays": "Mon-Sun not holidays", "every day": "Mon-Sun",
	} {
		got, err := domain.ParseDays(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, got.String(), text)
		}
	}
	for _, text := range []string{"someday", "Mon-", "Mo", "not Mon", "Mon not", "Mon-Fri except"} {
		_, err := domain.ParseDays(text)
		assert.Error(t, err, text)
	}
}

func TestDays_onHolidays(t *testing.T) {
	day := func(text string, weekday int, holiday bool) bool {
		d, err := domain.ParseDays(text)
		require.NoError(t, err)
		return d.On(weekday, holiday)
	}
	assert.True(t, day("Mon-Fri", 4, false))
	assert.False(t, day("Mon-Fri", 5, false))
	assert.True(t, day("Mon-Fri", 4, true), "a holiday counts by its weekday where nothing is said")
	assert.False(t, day("Mon-Fri not holidays", 4, true))
	assert.True(t, day("Sat-Sun and holidays", 2, true))
	assert.False(t, day("holidays", 2, false))
}

// What a list of days prints reads back as the same days.
func TestDays_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := domain.Days{Week: uint8(rapid.IntRange(0, 127).Draw(t, "week")), Holidays: domain.HolidayRule(rapid.IntRange(0, 2).Draw(t, "holidays"))}
		if d.Week == 0 && d.Holidays != domain.HolidaysAlways {
			return // no day at all is not written
		}
		again, err := domain.ParseDays(d.String())
		if err != nil || again != d {
			t.Fatalf("%q reads as %+v, not %+v: %v", d.String(), again, d, err)
		}
	})
}

func TestProjectTimes(t *testing.T) {
	p := domaintest.Project("US")
	e := domain.Env{Project: p}
	put := func(name, text string) error {
		f, ok := domain.FieldNamed(domain.ProjectFields, name)
		require.True(t, ok, name)
		return f.Set(e, p, text)
	}
	require.NoError(t, put("calendar", "Mon-Fri not holidays 7:00 normal\n\nMon-Sun sunset+0:30 After Hours"))
	assert.Equal(t, []string{"Mon-Fri not holidays 07:00 normal", "Mon-Sun sunset+00:30 after hours"}, p.Calendar)
	assert.ErrorContains(t, put("calendar", "Mon 07:00 normal\nTue 08:00 party"), "line 2")
	require.NoError(t, put("holidays", "2026-12-25 Winter closing\n2027-01-01"))
	assert.Equal(t, []string{"2026-12-25 Winter closing", "2027-01-01"}, p.Holidays)
	assert.ErrorContains(t, put("holidays", "25.12.2026"), "no holiday")
	require.NoError(t, put("zone", "America/Chicago"))
	assert.Error(t, put("zone", "Middle/Nowhere"))
	require.NoError(t, put("latitude", "41.88 N"))
	require.NoError(t, put("longitude", "87.63 W"))
	assert.InDelta(t, -87.63, *p.Longitude, 1e-9)
	assert.ErrorContains(t, put("latitude", "90.00001"), "-90 to 90")
	require.NoError(t, put("latitude", "90"))
	require.NoError(t, put("latitude", ""))
	assert.False(t, p.Placed())
}

func TestPriority(t *testing.T) {
	p := domaintest.Project("US")
	f, _ := domain.FieldNamed(domain.ProjectFields, "priority")
	e := domain.Env{Project: p}
	require.NoError(t, f.Set(e, p, "emergency, demand response, schedule, manual, occupancy, daylight"))
	assert.Equal(t, domain.ClassSchedule, p.Order()[2])
	assert.ErrorContains(t, f.Set(e, p, "manual, emergency, demand response, schedule, occupancy, daylight"), "emergency must come first")
	assert.ErrorContains(t, f.Set(e, p, "emergency, demand response, manual, schedule, daylight, occupancy"), "daylight must come last")
	assert.ErrorContains(t, f.Set(e, p, "emergency, demand response, manual, manual, schedule, daylight"), "once")
	assert.ErrorContains(t, f.Set(e, p, "emergency, demand response, manual, schedule, occupancy, wishes, daylight"), "not known")
	require.NoError(t, f.Set(e, p, ""))
	assert.Equal(t, domain.DefaultPriority(), p.Order())
}

func TestParseAction_partition(t *testing.T) {
	a, err := domain.ParseAction("sc1 @ open")
	require.NoError(t, err)
	assert.Equal(t, domain.Action{Verb: domain.ToScene, Scene: 1, If: domain.PartitionOpen}, a)
	assert.Equal(t, "SC1 @open", a.String())
	for _, text := range []string{"SC1 @", "@open", "SC1 @ajar", "100 @open @closed"} {
		_, err := domain.ParseAction(text)
		assert.Error(t, err, text)
	}
}
