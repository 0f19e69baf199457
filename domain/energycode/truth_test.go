package energycode_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

// What the facts say of an empty room and of people coming in is what the room's
// sequence does when it runs.
func TestFactsOf_asTheSequenceRuns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, from, to int) string {
			return fmt.Sprint(rapid.IntRange(from, to).Draw(t, name))
		}
		kind := rapid.SampledFrom([]domain.PresenceKind{domain.Occupancy, domain.Vacancy}).Draw(t, "kind")
		b := domaintest.Classroom().Set("devices/ps/presence", string(kind), "intents/i2/delay_s", number("delay", 1, 1800)+" s", "intents/i2/warning_s", number("warning", 0, 120)+" s",
			"intents/i2/fade_s", number("fade", 0, 30)+" s", "intents/i2/off_level", number("off", 0, 40), "devices/ps/delay_s", number("own delay", 0, 1)+" min")
		if rapid.Bool().Draw(t, "enters") {
			b.Set("intents/i2/enters", "yes", "intents/i2/level", number("level", 41, 100))
		}
		if rapid.Bool().Draw(t, "switched") {
			b.Spoil(func(d *domain.Design) { d.Loads[0].Dimming = "" })
		}
		l := factsOf(b).Loads[0]
		p := sequence.Compile(b.P, &b.R.Design)
		require.Empty(t, p.Faults)
		s := p.NewState()
		require.NoError(t, s.Begin(sequence.Start{}))
		sensor := deviceAt(b, "ps")
		s.Do(sequence.Event{At: 0, Kind: domain.Occupied, Device: sensor})
		s.AdvanceTo(60 * sequence.Second)
		came := units.Level(0)
		for _, on := range l.On {
			came = max(came, on.Level)
		}
		require.InDelta(t, float64(came), s.Output(0, 60*sequence.Second), 0.01, "what people coming in bring")

		s.Do(sequence.Event{At: 61 * sequence.Second, Kind: domain.Pressed, Device: deviceAt(b, "st"), Button: 1})
		s.Do(sequence.Event{At: 70 * sequence.Second, Kind: domain.Vacant, Device: sensor})
		gone := l.Vacant[0]
		at := 70*sequence.Second + sequence.Time(gone.After)*sequence.Second
		if gone.Level < 100 {
			s.AdvanceTo(at - sequence.Second/2)
			require.Greater(t, s.Output(0, at-sequence.Second/2), float64(gone.Level), "not sooner")
		}
		s.AdvanceTo(at)
		require.InDelta(t, float64(gone.Level), s.Output(0, at), 0.01, "then")
	})
}

func deviceAt(b *domaintest.Builder, id domain.ID) int {
	for i := range b.R.Design.Devices {
		if b.R.Design.Devices[i].ID == id {
			return i
		}
	}
	return -1
}
