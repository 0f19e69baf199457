package sequence_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

// The classroom's window row L3 has a target of 400 lx, lowest 10 %: half of the target
// from daylight leaves half, the whole leaves the lowest (rule 14 of the package).
func TestDaylightStory_lightsTheRoomAndTrimsIt(t *testing.T) {
	b := domaintest.Classroom().Set("intents/i3/target_lx", "400 lx")
	day := time.Date(2026, 3, 20, 7, 0, 0, 0, time.UTC)
	var reads []sequence.Read
	for i, lx := range []units.Lux{0, 200, 400, 0} {
		reads = append(reads, sequence.Read{At: day.Add(time.Duration(i) * time.Hour), Device: "ds", Lux: lx, Source: "DF 2 % x 10,000 lx, overcast"})
	}
	sc := sequence.DaylightStory(b.P, &b.R.Design, "A day", reads)
	assert.Equal(t, "2026-03-20", sc.Day)
	assert.Equal(t, "07:00", sc.Start)
	var told []domain.Happening
	for i := range sc.Steps {
		assert.Equal(t, i+1, sc.Steps[i].Seq)
		told = append(told, sc.Steps[i].Happen)
	}
	assert.Equal(t, []domain.Happening{domain.Occupied, domain.Pressed, domain.DaylightRead, domain.DaylightRead, domain.DaylightRead, domain.DaylightRead}, told)
	env := domain.Env{Project: b.P, Design: &b.R.Design}
	assert.Contains(t, sc.Steps[3].Sentence(env), "(DF 2 % x 10,000 lx, overcast)")

	program := sequence.Compile(b.P, &b.R.Design)
	s := program.NewState()
	require.NoError(t, s.Begin(sequence.Start{Day: sc.Day, Clock: sc.Start}))
	load := 2
	require.EqualValues(t, "l3", b.R.Design.Loads[load].ID)
	want := []float64{100, 50, 10, 100}
	n := 0
	for i := range sc.Steps {
		e, err := program.EventOf(&sc.Steps[i])
		require.NoError(t, err)
		s.Do(e)
		if sc.Steps[i].Happen == domain.DaylightRead {
			s.AdvanceTo(e.At + 10*sequence.Minute)
			assert.InDelta(t, want[n], s.Output(load, s.Now()), 0.5, "reading %d", n)
			n++
		}
	}
}

func TestDaylightStory_ofNothing(t *testing.T) {
	b := domaintest.Room()
	assert.Empty(t, sequence.DaylightStory(b.P, &b.R.Design, "A day", nil).Steps)
}
