package daylight_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	. "scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
)

// dayRoom is the drawn room at 40 N 105 W with a sensor that acts on the row L3.
func dayRoom(t *testing.T, loop domain.LoopKind) (*domaintest.Builder, *Light) {
	t.Helper()
	b := drawn().Device("ds", "ds-open")
	b.R.Design.Device("ds").Loop = loop
	b.R.Room.Design = b.R.Design
	plan := b.R.Plan
	b.Link("ds", 0, "", "l3", "ACT")
	b.R.Plan = plan
	north, west := 40.0, -105.0
	b.P.Latitude, b.P.Longitude, b.P.Zone = &north, &west, "America/Denver"
	return b, lit(t, spaceOf(t, b))
}

// At noon standard time on 2025-12-21 the sun is 26.558 degrees high there (the NREL
// solar position algorithm: zenith 63.4416), and the overcast sky gives
// 300 + 21,000 sin a = 9,689.6 lx. A closed loop then reads the daylight factor under
// its luminaires times that.
func TestNewDay_overcastNoon(t *testing.T) {
	b, l := dayRoom(t, domain.ClosedLoop)
	d, err := NewDay(b.P, b.R, l, time.Date(2025, 12, 21, 0, 0, 0, 0, time.UTC), Overcast)
	require.NoError(t, err)
	require.Len(t, d.Sensors, 1)
	assert.Equal(t, []domain.ID{"l3"}, d.Sensors[0].Loads)
	assert.InDelta(t, l.Under("l3").Mean, d.Sensors[0].Factor, 1e-9)
	found := false
	for i, h := range d.Hours {
		want := d.Sensors[0].Factor / 100 * float64(h.Sky)
		assert.InDelta(t, want, float64(d.Sensors[0].Reading[i]), 1e-6, "%s", h.At)
		if h.At.Hour() == 12 {
			found = true
			assert.InDelta(t, 26.558, h.Altitude, 0.02)
			assert.InDelta(t, 9689.6, float64(h.Sky), 7)
		}
	}
	assert.True(t, found)
	assert.Equal(t, 7, d.Hours[0].At.Hour(), "the sun rises at 07:17 there: NOAA's method")
	assert.Zero(t, d.Sensors[0].Reading[0])
	assert.Zero(t, d.Sensors[0].Reading[len(d.Hours)-1])
}

// An open loop is carried to the task by the ratio of daylight factors: under an even
// sky it reads what the closed one does, wherever it hangs.
func TestNewDay_openLoopIsCarriedToTheTask(t *testing.T) {
	date := time.Date(2025, 3, 20, 0, 0, 0, 0, time.UTC)
	closed, l := dayRoom(t, domain.ClosedLoop)
	open, _ := dayRoom(t, domain.OpenLoop)
	at := geom.Pt(3, 1.8)
	open.R.Design.Device("ds").At = &at
	for _, sky := range []Sky{Overcast, Clear, Partly} {
		a, err := NewDay(closed.P, closed.R, l, date, sky)
		require.NoError(t, err)
		b, err := NewDay(open.P, open.R, lit(t, spaceOf(t, open)), date, sky)
		require.NoError(t, err)
		assert.InDelta(t, l.At(at).Total(), b.Sensors[0].Own, 1e-9)
		for i := range a.Hours {
			assert.InEpsilon(t, 1+float64(a.Sensors[0].Reading[i]), 1+float64(b.Sensors[0].Reading[i]), 1e-9, "one facade lights both")
		}
	}
}

// Under a clear sky a south facade gets more at noon than the overcast sky's share,
// and the readings fall towards evening.
func TestNewDay_clearFollowsTheFacade(t *testing.T) {
	b, l := dayRoom(t, domain.ClosedLoop)
	d, err := NewDay(b.P, b.R, l, time.Date(2025, 3, 20, 0, 0, 0, 0, time.UTC), Clear)
	require.NoError(t, err)
	for i, h := range d.Hours {
		if h.At.Hour() != 12 && h.At.Hour() != 13 {
			continue
		}
		assert.Greater(t, float64(d.Sensors[0].Reading[i]), d.Sensors[0].Factor/100*float64(h.Sky), "south at noon")
	}
}

func TestNewDay_whatItLacks(t *testing.T) {
	b, l := dayRoom(t, domain.ClosedLoop)
	polar := 80.0
	b.P.Latitude = &polar
	_, err := NewDay(b.P, b.R, l, time.Date(2025, 12, 21, 0, 0, 0, 0, time.UTC), Overcast)
	assert.ErrorContains(t, err, "does not rise")
	d, err := NewDay(b.P, b.R, l, time.Date(2025, 6, 21, 0, 0, 0, 0, time.UTC), Overcast)
	require.NoError(t, err)
	assert.Len(t, d.Hours, 24, "nor set")
	b.P.Longitude = nil
	_, err = NewDay(b.P, b.R, l, time.Date(2025, 6, 21, 0, 0, 0, 0, time.UTC), Overcast)
	assert.ErrorContains(t, err, "latitude")
	b, _ = dayRoom(t, domain.OpenLoop)
	b.R.Room.Fixtures = nil
	d, err = NewDay(b.P, b.R, lit(t, spaceOf(t, b)), time.Date(2025, 6, 21, 0, 0, 0, 0, time.UTC), Overcast)
	require.NoError(t, err)
	assert.Empty(t, d.Sensors, "neither it nor its luminaires are on the plan")
}
