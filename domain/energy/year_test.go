package energy_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	"scopewright/domain/energy"
	"scopewright/domain/geom"
)

// drawn is a classroom of 8 by 6 m with a glazed south wall, its window row 1 m from
// the glass and the inner row at the back, at 45 degrees north.
func drawn() *domaintest.Builder {
	b := domaintest.Classroom()
	north, east := 45.0, -93.0
	b.P.Latitude, b.P.Longitude = &north, &east
	b.R.Outline, b.R.Area, b.R.Ceiling = geom.Rectangle(0, 0, 8, 6), 48, 3
	b.R.Plan = &domain.Plan{ID: "s1", Walls: []domain.Wall{{ID: "w1", A: geom.Pt(0, 0), B: geom.Pt(8, 0), Thickness: 0.2, Kind: domain.FullWall, Openings: []domain.Opening{
		{ID: "o1", Kind: domain.Window, At: 0.5, Width: 7, Sill: 0.9, Head: 2.7}}}}}
	for i := range 4 {
		b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("fw", i)), Load: "l3", At: geom.Pt(1+2*float64(i), 1)},
			domain.Fixture{ID: domain.ID(fmt.Sprint("fi", i)), Load: "l1", At: geom.Pt(1+2*float64(i), 5.5)})
	}
	return b
}

func played(t testing.TB, b *domaintest.Builder) energy.Year {
	m := energy.NewModel(b.P)
	y := m.Room(b.R)
	require.Empty(t, y.Problem)
	require.NoError(t, m.Play(&y, true))
	return y
}

func sumOf(whys []energy.Why) (sum float64) {
	for _, w := range whys {
		sum += w.KWh
	}
	return sum
}

func why(whys []energy.Why, c energy.Cause) float64 {
	for _, w := range whys {
		if w.Cause == c {
			return w.KWh
		}
	}
	return 0
}

// A room of 24 m2 with 192 W spread evenly of which 18.5 m2 have strong daylight, at
// 45 degrees north and 500 lx, automatic on and off, empty for 0.3 of 2250 + 250 h:
// 108.734 and 88.000 kWh, 196.734 together, by hand from EN 15193:2007 (from memory).
// Here the loads make the parts.
func TestRoom_partlyDaylit(t *testing.T) {
	b := domaintest.Classroom().Set("facts/area_m2", "24 m2", "intents/i3/loads", "all", "devices/ps/presence", "occupancy", "intents/i2/enters", "yes", "intents/i2/level", "100")
	for l, watts := range map[string]string{"l1": "100", "l2": "48", "l3": "40", "l4": "4"} {
		b.Link("ds", 0, "", domain.ID(l), "ACT").Set("loads/"+l+"/luminaire", "", "loads/"+l+"/watts", watts, "loads/"+l+"/volts", "277")
	}
	north := 45.0
	s := energy.Setting{Profile: energy.Profile{Day: 2250, Night: 250, Absence: 0.3, Lx: 500}, Latitude: &north, Daylit: func(l *domain.Load) energy.Daylit {
		if l.ID == "l1" || l.ID == "l2" { // 148 W are 18.5/24 of 192
			return energy.Daylit{Class: energy.Strong}
		}
		return energy.Daylit{Class: energy.NoDaylight}
	}}
	got, err := energy.Room(b.P, b.R, s)
	require.NoError(t, err)
	parts := map[domain.ID]float64{}
	for _, l := range got.Lines {
		parts[l.Load.ID] = l.KWh
	}
	assert.InDelta(t, 108.734, parts["l1"]+parts["l2"], 1e-3)
	assert.InDelta(t, 88.000, parts["l3"]+parts["l4"], 1e-3)
	assert.InDelta(t, 196.734, got.Use.Lamps, 1e-3)
	assert.InDelta(t, 8.1973, got.Use.Lamps/24, 5e-5)
}

func TestRoom_latitudeThatIsNotStatedOrOutside(t *testing.T) {
	b := domaintest.Classroom()
	for _, c := range []struct {
		north *float64
		said  string
	}{{nil, "the project states no latitude: no daylight is counted"}, {new(37.9), "latitude 37.9 is outside of 38 to 60 degrees north"}, {new(60.1), "latitude 60.1 is outside"}} {
		b.P.Latitude = c.north
		got, err := energy.Room(b.P, b.R, setting(b))
		require.NoError(t, err)
		assert.Contains(t, fmt.Sprint(got.Notes), c.said)
		for _, l := range got.Lines {
			assert.Equal(t, 1.0, l.Sky)
		}
	}
	for _, north := range []float64{38, 60} {
		b.P.Latitude = &north
		got, err := energy.Room(b.P, b.R, setting(b))
		require.NoError(t, err)
		assert.NotContains(t, fmt.Sprint(got.Notes), "latitude")
	}
}

// 2 luminaires of 4 W on charge for 500 h bring 4 kWh, by hand as well.
func TestRoom_charging(t *testing.T) {
	b := domaintest.Classroom().Set("loads/l4/egress", "yes")
	before, err := energy.Room(b.P, b.R, setting(b))
	require.NoError(t, err)
	*b.P.Limits.Own(domain.ChargePower) = domain.Limit{ID: domain.ChargePower, Title: "t", Value: 4, Unit: "W", Source: "data sheet"}
	*b.P.Limits.Own(domain.ChargeHours) = domain.Limit{ID: domain.ChargeHours, Title: "t", Value: 500, Unit: "h", Source: "data sheet"}
	after, err := energy.Room(b.P, b.R, setting(b))
	require.NoError(t, err)
	assert.InDelta(t, 4, after.Use.Standby-before.Use.Standby, 1e-9)
	assert.InDelta(t, 4, after.ByHand.Standby, 1e-9)
}

// The project's limits are what is reckoned with.
func TestFactors_areLimits(t *testing.T) {
	p := &domain.Project{}
	for _, c := range []energy.Control{energy.ManualBoth, energy.ManualSweep, energy.AutoOnDimmed, energy.AutoBoth, energy.ManualOnDimmed, energy.ManualOnAutoOff} {
		assert.Equal(t, map[energy.Control]float64{energy.ManualBoth: 1, energy.ManualSweep: 0.95, energy.AutoOnDimmed: 0.95, energy.AutoBoth: 0.9, energy.ManualOnDimmed: 0.9, energy.ManualOnAutoOff: 0.8}[c], energy.FactorsOf(p).Occupancy(c), c)
	}
	p.Limits.Own(domain.OccupancyManualAuto).Value = 0.75
	p.Limits.Own(domain.TakenAutoStrong).Value = 0.5
	p.Limits.Own(domain.Supply300Weak).Value = 1
	p.Limits.Own(domain.SupplyFall(domain.Supply300Weak)).Value = 0.01
	f := energy.FactorsOf(p)
	assert.Equal(t, 0.75, f.Occupancy(energy.ManualOnAutoOff))
	assert.Equal(t, 0.5, f.Taken(energy.Strong, true))
	assert.Zero(t, f.Taken(energy.NoDaylight, true))
	got, err := f.Supply(50, 300, energy.Weak)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, got, 1e-12)
	_, err = f.Supply(50, 300, "blazing")
	assert.ErrorContains(t, err, "not known")
}

// The class comes from the daylight factor under the luminaires where plan shows
// them, else from the windows, else from what the designer said. The daylight
// factors themselves are tested in domain/daylight.
func TestLit_saysByWhatItTold(t *testing.T) {
	b := drawn()
	lit := energy.LitOf(b.P, b.R)
	require.True(t, lit.Drawn())
	near, far := lit.Of(b.R.Design.Load("l3")), lit.Of(b.R.Design.Load("l1"))
	assert.Equal(t, energy.ByFactor, near.Rule)
	assert.Equal(t, energy.Strong, near.Class, "%.2f %% at 1 m from a glazed wall", near.Percent)
	assert.Less(t, far.Percent, near.Percent)

	// Without luminaires the rough factor of the band: 7 x 1.8 m of 8 m, head 2.7 m,
	// task 0.85 m: a_D 4.625 m, I_T 12.6/37, I_DE 2.5, D_c 7.541 %, by hand.
	b.R.Fixtures = nil
	row := energy.LitOf(b.P, b.R).Of(b.R.Design.Load("l3"))
	assert.Equal(t, energy.ByOpening, row.Rule)
	assert.InDelta(t, 4.13+20*12.6/37-1.36*2.5, row.Percent, 0.02)
	assert.Equal(t, energy.Strong, row.Class)
	assert.Equal(t, energy.Daylit{Class: energy.NoDaylight, Rule: energy.ByZone}, energy.LitOf(b.P, b.R).Of(b.R.Design.Load("l1")))

	b.R.Plan = nil
	undrawn := energy.LitOf(b.P, b.R)
	assert.False(t, undrawn.Drawn())
	for zone, want := range map[domain.WindowZone]energy.Penetration{domain.ZoneWindow: energy.Medium, domain.ZoneRoof: energy.Medium, domain.ZoneSecondary: energy.Weak, domain.ZoneNone: energy.NoDaylight} {
		assert.Equal(t, energy.Daylit{Class: want, Rule: energy.ByZone}, undrawn.Of(&domain.Load{Zone: zone}), zone)
	}
}

// I_O = cos 1.5 g, from memory of EN 15193:2007: 0.866 at 20 degrees, 0.5 at 40.
func TestObstruction(t *testing.T) {
	for altitude, want := range map[float64]float64{-1: 1, 0: 1, 20: 0.8660254, 40: 0.5, 59.9: 0.0026180, 60: 0, 80: 0} {
		assert.InDelta(t, want, energy.Obstruction(altitude), 1e-6, "%g", altitude)
	}
	shallow := energy.Opening{Area: 5.4, Head: 2.7, Task: 0.85, Width: 4, Room: 3.7, Obstruction: 1}
	assert.InDelta(t, 4.13+20*5.4/14.8-1.36*2, shallow.Bare(), 1e-9, "a room of twice the height over the task is its own depth")
	assert.Zero(t, energy.Opening{Area: 1, Head: 0.8, Task: 0.85, Width: 4, Obstruction: 1}.Bare())
}

// Causes add up to the difference, whatever the room.
func TestWhys_addUpToTheDifference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawn()
		b.Set("devices/ps/presence", rapid.SampledFrom([]string{"occupancy", "vacancy"}).Draw(t, "sensor"), "intents/i2/enters", rapid.SampledFrom([]string{"yes", "no"}).Draw(t, "enters"),
			"intents/i2/delay_s", fmt.Sprintf("%d min", rapid.IntRange(1, 30).Draw(t, "delay")), "intents/i2/off_level", rapid.SampledFrom([]string{"", "20"}).Draw(t, "dims"),
			"intents/i2/level", rapid.SampledFrom([]string{"50", "100"}).Draw(t, "level"), "intents/i3/target_lx", fmt.Sprintf("%d lx", rapid.IntRange(100, 750).Draw(t, "target")))
		b.R.Use = rapid.SampledFrom(domain.Uses()).Draw(t, "use").Use
		b.P.Limits.Own(domain.ConstantMF).Value = rapid.Float64Range(0, 1).Draw(t, "mf")
		if rapid.Bool().Draw(t, "no plan") {
			b.R.Plan = nil
		}
		if rapid.Bool().Draw(t, "by hand") {
			b.Spoil(func(d *domain.Design) { d.Intents = nil })
		}
		m := energy.NewModel(b.P)
		y := m.Room(b.R)
		require.Empty(t, y.Problem)
		require.NoError(t, m.Play(&y, false))
		whys := y.Whys()
		require.InDelta(t, y.Played.Total()-y.LENI.Use.Total(), sumOf(whys), 1e-6)
		for _, w := range whys {
			require.NotEmpty(t, w.Text)
		}
	})
}

// Each cause on its own, by hand: 684 W in a classroom of 1400 h, empty for a quarter.
func TestWhys_eachCauseByHand(t *testing.T) {
	b := drawn()
	b.R.Plan = nil // no daylight played; F_D of the stated zones still counts
	b.P.Limits.Own(domain.LeftOn).Value = 0
	long := played(t, b.Set("intents/i2/delay_s", "20 min"))
	short := played(t, b.Set("intents/i2/delay_s", "5 min"))
	// 5 x 52.14 days: 1045.7 of 1050 h by 261 days.
	assert.InDelta(t, 1050*5*365.0/7/261, long.Played.In, 1e-6)
	// F_O is 0.75 of 1400 h, which is the hours with people: nothing to explain but the calendar.
	assert.InDelta(t, 0.684*(long.Played.In-1050), why(long.Whys(), energy.CausePeople), 1e-6)
	// After each day's end the lamps burn for the delay: 15 minutes more on 5 x 52.14 days.
	assert.InDelta(t, 0.684*0.25*5*365/7, why(long.Whys(), energy.CauseAfter)-why(short.Whys(), energy.CauseAfter), 0.3)
	assert.Greater(t, why(long.Whys(), energy.CauseAway), why(short.Whys(), energy.CauseAway))
	assert.Contains(t, long.Played.Daylight, "shows no windows")
	line := long.LENI.Lines[2]
	require.True(t, line.Dims)
	assert.InDelta(t, float64(line.Watts)/1000*0.75*1400*(1-line.Sky), why(long.Whys(), energy.CauseDaylight), 1e-6, "all that F_D counts is missing")

	sunny := played(t, drawn().Set("intents/i2/delay_s", "20 min"))
	assert.Empty(t, sunny.Played.Daylight)
	assert.Less(t, sunny.Played.Lamps, long.Played.Lamps, "daylight through the glass dims the window row")
	at := sunny.Played.Loads[2]
	assert.Less(t, at.Full, at.Bright)
	inner := sunny.Played.Loads[0]
	assert.InDelta(t, inner.Full, inner.Bright, 1e-9, "no sensor acts on the inner row")
}

// The hours of an average day are those of the year: 261 days of use of them give
// the lamps, but for what burns on other days.
func TestPlay_byHour(t *testing.T) {
	b := drawn()
	b.P.Limits.Own(domain.LeftOn).Value = 0
	y := played(t, b)
	in, lamps := 0.0, 0.0
	for _, h := range y.Played.Hours {
		require.True(t, h.In >= 0 && h.In <= 1+1e-9)
		require.LessOrEqual(t, h.Lamps, h.Bright+1e-9)
		in, lamps = in+h.In, lamps+h.Lamps
	}
	assert.InDelta(t, y.Played.In, in*5*365/7, 1e-3)
	assert.InDelta(t, y.Played.Lamps, lamps*5*365/7, 0.01*y.Played.Lamps)
	assert.Zero(t, y.Played.Hours[3].Lamps, "nobody at night")
}

// Skies are the same on every run, and a project whose place is not known says so.
func TestSkies(t *testing.T) {
	b := drawn()
	lit := energy.LitOf(b.P, b.R)
	readings := func(overcast float64) [][]energy.Reading {
		b.P.Limits.Own(domain.OvercastDays).Value = overcast
		s, err := energy.SkiesOf(b.P)
		require.NoError(t, err)
		return s.Readings(b.P, b.R, lit)
	}
	assert.Equal(t, readings(50), readings(50))
	mean := func(weeks [][]energy.Reading) (noon float64) {
		for _, w := range weeks {
			for _, r := range w {
				require.Equal(t, domain.ID("ds"), r.Sensor)
				if int(r.At)%24 == 12 {
					noon += r.Lx / (energy.Weeks * 7)
				}
			}
		}
		return noon
	}
	dull, mixed, bright := mean(readings(100)), mean(readings(50)), mean(readings(0))
	// Under overcast skies the daylight factor times 300 + 21,000 sin a (IES 1984, from
	// memory): at 45 degrees north the sun stands about 21 to 68 degrees high at noon.
	factor := lit.Of(b.R.Design.Load("l3")).Percent / 100
	assert.Greater(t, dull, factor*(300+21000*0.36))
	assert.Less(t, dull, factor*(300+21000*0.93))
	assert.NotEqual(t, dull, bright)
	low, high := min(dull, bright), max(dull, bright)
	assert.True(t, mixed > low && mixed < high, "%g between %g and %g", mixed, low, high)

	b.P.Longitude = nil
	_, err := energy.SkiesOf(b.P)
	require.ErrorContains(t, err, "latitude and longitude")
	assert.Contains(t, played(t, b).Played.Daylight, "latitude and longitude")
}

// All rooms of the demo are reckoned and played; the two figures are of one size.
func TestModel_demo(t *testing.T) {
	scope := demo.Scope()
	m, rooms := energy.NewModel(&scope.Project), resolved(t, scope)
	habit := energy.HabitOf(&scope.Project)
	var sum energy.Sum
	for _, r := range rooms {
		y := m.Room(r)
		require.NoError(t, m.Play(&y, false))
		sum.Add(&y, habit)
		if y.Played != nil {
			require.InDelta(t, y.Played.Total()-y.LENI.Use.Total(), sumOf(y.Whys()), 1e-6, r.Number)
		}
	}
	require.Positive(t, sum.Weeks)
	assert.InDelta(t, 1, sum.Played/sum.Total(), 0.5, "played %g, LENI %g", sum.Played, sum.Total())
	assert.True(t, sum.Saved() > 0.05 && sum.Saved() < 0.6, "%g saved", sum.Saved())
}

func resolved(t testing.TB, scope *domain.Scope) (out []*domain.Resolved) {
	typicals := map[domain.ID]*domain.Typical{}
	for i := range scope.Typicals {
		typicals[scope.Typicals[i].ID] = &scope.Typicals[i]
	}
	for i := range scope.Rooms {
		r, err := domain.Resolve(&scope.Rooms[i], typicals[scope.Rooms[i].TypicalID])
		require.NoError(t, err)
		out = append(out, r.OnPlan(scope.Plan(r.StoreyID)))
	}
	return out
}

// 200 daylit classrooms, each 12 weeks with its own readings: to stay under 1 s or so.
func BenchmarkModel_200RoomsAYear(b *testing.B) {
	room := drawn()
	for b.Loop() {
		m := energy.NewModel(room.P)
		for range 200 {
			y := m.Room(room.R)
			if err := m.Play(&y, false); err != nil || y.Played.Daylight != "" {
				b.Fatal(err)
			}
		}
	}
}

// LENI alone of 1,000 rooms.
func BenchmarkModel_1000RoomsLENI(b *testing.B) {
	room := drawn()
	for b.Loop() {
		m := energy.NewModel(room.P)
		for range 1000 {
			if y := m.Room(room.R); y.Problem != "" {
				b.Fatal(y.Problem)
			}
		}
	}
}
