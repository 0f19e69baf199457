package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

// A week of a school, by hand: working days 07:00 to 22:00, Saturday 08:00 to
// 16:00, and on holidays nothing.
func TestDayOfModes(t *testing.T) {
	p := &domain.Project{Calendar: []string{"Mon-Fri not holidays 22:00 after hours", "Mon-Fri not holidays 07:00 normal", "Sat 08:00 normal", "Sat 16:00 after hours", "holidays sunset cleaning"}}
	const monday, saturday, sunday = 0, 5, 6
	assert.Equal(t, "after hours, from 07:00 normal, from 22:00 after hours", p.DayOfModes(monday, false).String())
	assert.Equal(t, "after hours, from 08:00 normal, from 16:00 after hours", p.DayOfModes(saturday, false).String())
	assert.Equal(t, "after hours all day", p.DayOfModes(sunday, false).String())
	assert.Equal(t, "after hours, from sunset cleaning", p.DayOfModes(monday, true).String())
	assert.Equal(t, "normal all day", (&domain.Project{}).DayOfModes(monday, false).String(), "rooms start in the normal mode")
	assert.Equal(t, "normal all day", (&domain.Project{Calendar: []string{"nonsense"}}).DayOfModes(monday, false).String())
	night := &domain.Project{Calendar: []string{"sunset after hours", "sunrise+01:00 normal", "12:00 event"}}
	assert.Equal(t, "after hours, from sunrise+01:00 normal, from 12:00 event, from sunset after hours", night.DayOfModes(monday, false).String())
}

// A list that is refused names each of its lines that does not read.
func TestCalendarField_namesEachLine(t *testing.T) {
	f, ok := domain.FieldNamed(domain.ProjectFields, "calendar")
	require.True(t, ok)
	err := f.Set(domain.Env{}, &domain.Project{}, "Mon 07:00 normal\nsoon\nTue 25:00 normal\nWed 08:00 party")
	require.Error(t, err)
	assert.Contains(t, err.Error(), `line 2: "soon"`)
	assert.Contains(t, err.Error(), "line 3: ")
	assert.Contains(t, err.Error(), `line 4: "party" is no mode`)
	assert.NotContains(t, err.Error(), "line 1")
}

func TestMoveClass(t *testing.T) {
	p := &domain.Project{}
	require.NoError(t, p.MoveClass(domain.ClassOccupancy, -1))
	assert.Equal(t, []domain.Class{domain.ClassEmergency, domain.ClassDemand, domain.ClassManual, domain.ClassOccupancy, domain.ClassSchedule, domain.ClassDaylight}, p.Order())
	require.NoError(t, p.MoveClass(domain.ClassOccupancy, 1))
	assert.Empty(t, p.Priority, "the usual order is not stored")
	for _, c := range []struct {
		class domain.Class
		step  int
	}{{domain.ClassEmergency, 1}, {domain.ClassDemand, -1}, {domain.ClassDaylight, -1}, {domain.ClassOccupancy, 1}, {"weather", 1}} {
		assert.Error(t, p.MoveClass(c.class, c.step), c.class)
		assert.Empty(t, p.Priority)
	}
}
