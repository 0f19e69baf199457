package energy_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/domain/units"
)

// usual are the built-in factors.
var usual = energy.FactorsOf(&domain.Project{})

// F_O by F_OC and F_A: the table of values that the three formulas of EN
// 15193:2007 (from memory) give.
func TestOccupancyFactor(t *testing.T) {
	absences := []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.7, 0.9, 0.95, 0.98, 1}
	for control, want := range map[float64][]float64{
		1:    {1, 1, 1, 0.9, 0.8, 0.7, 0.5, 0.3, 0.15, 0.06, 0},
		0.95: {1, 0.975, 0.95, 0.85, 0.75, 0.65, 0.45, 0.25, 0.125, 0.05, 0},
		0.90: {1, 0.95, 0.90, 0.80, 0.70, 0.60, 0.40, 0.20, 0.10, 0.04, 0},
		0.80: {1, 0.90, 0.80, 0.70, 0.60, 0.50, 0.30, 0.10, 0.05, 0.02, 0},
	} {
		for i, a := range absences {
			assert.InDelta(t, want[i], energy.OccupancyFactor(control, a), 1e-9, "F_OC %g, F_A %g", control, a)
		}
	}
	for _, bad := range [][2]float64{{0.69, 0.5}, {1.01, 0.5}, {0.9, -0.01}, {0.9, 1.01}, {math.NaN(), 0.5}, {0.9, math.NaN()}} {
		assert.True(t, math.IsNaN(energy.OccupancyFactor(bad[0], bad[1])), bad)
	}
}

func TestOccupancyFactor_fallsWithoutJumps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		control := rapid.Float64Range(0.7, 1).Draw(t, "control")
		a, b := rapid.Float64Range(0, 1).Draw(t, "a"), rapid.Float64Range(0, 1).Draw(t, "b")
		x, y := energy.OccupancyFactor(control, a), energy.OccupancyFactor(control, b)
		require.True(t, x >= -1e-12 && x <= 1)
		require.False(t, a < b && x < y-1e-9, "it falls with absence")
		require.LessOrEqual(t, math.Abs(x-y), 3*math.Abs(a-b)+1e-9, "and does not jump")
	})
}

func TestHeldFactor(t *testing.T) {
	for mf, want := range map[float64]float64{0.7: 0.85, 0.8: 0.90, 0.9: 0.95} {
		assert.InDelta(t, want, energy.HeldFactor(mf, 1), 1e-12)
		assert.InDelta(t, (1+mf)/2, energy.HeldFactor(mf, 1), 1e-12, "as the edition of 2007 writes it")
	}
	assert.Equal(t, 1.0, energy.HeldFactor(0.8, 0))
}

// F_DS by latitude: the values of the lines of EN 15193:2007 (from memory).
func TestDaylightSupply(t *testing.T) {
	latitudes := []float64{38, 40, 45, 52, 60}
	for lx, rows := range map[units.Lux][][3]float64{
		300: {{.7979, .9069, .9560}, {.7745, .8857, .9384}, {.7160, .8327, .8944}, {.6341, .7585, .8328}, {.5405, .6737, .7624}},
		500: {{.5860, .7979, .9040}, {.5672, .7745, .8820}, {.5202, .7160, .8270}, {.4544, .6341, .7500}, {.3792, .5405, .6620}},
		750: {{.4146, .6330, .8214}, {.4012, .6134, .7972}, {.3677, .5644, .7367}, {.3208, .4958, .6520}, {.2672, .4174, .5552}},
	} {
		for i, latitude := range latitudes {
			for j, p := range []energy.Penetration{energy.Weak, energy.Medium, energy.Strong} {
				got, err := usual.Supply(latitude, lx, p)
				require.NoError(t, err)
				assert.InDelta(t, rows[i][j], got, 5e-5, "%g lx, %g degrees, %s", lx, latitude, p)
			}
		}
	}
	for _, latitude := range []float64{37.99, 60.01, -45, math.NaN()} {
		_, err := usual.Supply(latitude, 500, energy.Weak)
		assert.ErrorContains(t, err, "38 to 60", "%g", latitude)
	}
	got, err := usual.Supply(20, 500, energy.NoDaylight)
	require.NoError(t, err)
	assert.Zero(t, got)
}

// An opening of 5.4 m2 with its head at 2.7 m over a task at 0.85 m in a bay of
// 4 m: computed from the formulas of EN 15193:2007 (from memory).
func TestOpening(t *testing.T) {
	o := energy.Opening{Area: 5.4, Head: 2.7, Task: 0.85, Width: 4, Obstruction: 1}
	assert.InDelta(t, 4.625, float64(o.Depth()), 1e-9)
	for obstruction, want := range map[float64]struct {
		percent float64
		class   energy.Penetration
	}{1: {6.5678, energy.Strong}, 0.8: {5.2543, energy.Medium}, 0.5: {3.2839, energy.Weak}} {
		o.Obstruction = obstruction
		assert.InDelta(t, want.percent, o.Bare(), 5e-5)
		assert.Equal(t, want.class, energy.BareClass(o.Bare()))
	}
	o.Obstruction = 1
	finished := o.Bare() * 0.82 * 0.7 * 0.8 * 0.85
	assert.InDelta(t, 2.5636, finished, 5e-5)
	assert.Equal(t, energy.Medium, energy.FinishedClass(finished), "the two rules can disagree")
	for percent, want := range map[float64]energy.Penetration{6: energy.Strong, 5.999: energy.Medium, 4: energy.Medium, 3.999: energy.Weak, 2: energy.Weak, 1.999: energy.NoDaylight} {
		assert.Equal(t, want, energy.BareClass(percent), "%g", percent)
	}
}

func supplied(t *testing.T, latitude float64, lx units.Lux, p energy.Penetration, automatic bool) float64 {
	s, err := usual.Supply(latitude, lx, p)
	require.NoError(t, err)
	return energy.DaylightFactor(s, usual.Taken(p, automatic))
}

// Three worked rooms, computed by hand from the formulas and tables of EN
// 15193:2007 (from memory), each with controls and as operated by hand.
func TestLENI_threeRooms(t *testing.T) {
	people := func(c energy.Control, absence float64) float64 {
		return energy.OccupancyFactor(usual.Occupancy(c), absence)
	}
	office := energy.Zone{Area: 15, Power: 120, Day: 2250, Night: 250, Held: 1, People: people(energy.ManualOnAutoOff, 0.40), Sky: supplied(t, 52, 500, energy.Medium, true), Standby: 3}
	officeManual := office
	officeManual.People, officeManual.Sky, officeManual.Standby = people(energy.ManualBoth, 0.40), supplied(t, 52, 500, energy.Medium, false), 0
	classroom := energy.Zone{Area: 60, Power: 480, Day: 1800, Night: 200, Held: energy.HeldFactor(0.9, 1), People: people(energy.ManualOnAutoOff, 0.25), Sky: supplied(t, 45, 300, energy.Strong, true), Standby: 8, Charge: 4, Charged: 500}
	classroomManual := classroom
	classroomManual.People, classroomManual.Sky, classroomManual.Held, classroomManual.Standby = people(energy.ManualBoth, 0.25), supplied(t, 45, 300, energy.Strong, false), 1, 0
	corridor := energy.Zone{Area: 40, Power: 160, Day: 2250, Night: 250, Held: 1, People: people(energy.AutoOnDimmed, 0.40), Sky: 1, Standby: 2, Charge: 10, Charged: 8760}
	corridorManual := corridor
	corridorManual.People, corridorManual.Standby = 1, 0
	for name, c := range map[string]struct {
		zone                        energy.Zone
		lamps, standby, total, leni float64
	}{
		"cellular office":            {office, 100.902, 18.780, 119.682, 7.979},
		"cellular office by hand":    {officeManual, 198.910, 0, 198.910, 13.261},
		"classroom":                  {classroom, 215.996, 56.080, 272.076, 4.535},
		"classroom by hand":          {classroomManual, 618.351, 2.000, 620.351, 10.339},
		"corridor":                   {corridor, 300.000, 100.120, 400.120, 10.003},
		"corridor, switched far off": {corridorManual, 400.000, 87.600, 487.600, 12.190},
	} {
		got, err := c.zone.Use()
		require.NoError(t, err, name)
		assert.InDelta(t, c.lamps, got.Lamps, 1e-3, name)
		assert.InDelta(t, c.standby, got.Standby, 1e-3, name)
		assert.InDelta(t, c.total, got.Total(), 1e-3, name)
		assert.InDelta(t, c.leni, got.LENI, 5e-4, name)
	}
}

// A room of 24 m2 of which 18.5 m2 have daylight is two zones.
func TestLENI_partlyDaylit(t *testing.T) {
	people := energy.OccupancyFactor(0.9, 0.3)
	assert.InDelta(t, 0.8, people, 1e-12)
	sky := supplied(t, 45, 500, energy.Strong, true)
	assert.InDelta(t, 0.29705, sky, 5e-6)
	lit := energy.Zone{Area: 18.5, Power: 192 * 18.5 / 24, Day: 2250, Night: 250, Held: 1, People: people, Sky: sky}
	rest := energy.Zone{Area: 5.5, Power: 192 * 5.5 / 24, Day: 2250, Night: 250, Held: 1, People: people, Sky: 1}
	a, err := lit.Use()
	require.NoError(t, err)
	b, err := rest.Use()
	require.NoError(t, err)
	assert.InDelta(t, 108.734, a.Lamps, 1e-3)
	assert.InDelta(t, 88.000, b.Lamps, 1e-3)
	assert.InDelta(t, 8.1973, (a.Lamps+b.Lamps)/24, 5e-5)
}

func TestLENI_refusesWhatMakesNoSense(t *testing.T) {
	good := energy.Zone{Area: 10, Power: 100, Day: 8000, Night: 760, Held: 1, People: 1, Sky: 1}
	_, err := good.Use()
	require.NoError(t, err, "a whole year is no hour too long")
	for name, spoil := range map[string]func(*energy.Zone){
		"no area":     func(z *energy.Zone) { z.Area = 0 },
		"NaN":         func(z *energy.Zone) { z.Area = units.SquareMetres(math.NaN()) },
		"negative":    func(z *energy.Zone) { z.Power = -1 },
		"long year":   func(z *energy.Zone) { z.Night = 760.1 },
		"over 1":      func(z *energy.Zone) { z.People = 1.01 },
		"below 0":     func(z *energy.Zone) { z.Sky = -0.01 },
		"charged":     func(z *energy.Zone) { z.Charged = 8761 },
		"NaN factor":  func(z *energy.Zone) { z.Held = math.NaN() },
		"back in day": func(z *energy.Zone) { z.Day = -1 },
	} {
		z := good
		spoil(&z)
		_, err := z.Use()
		assert.Error(t, err, name)
	}
}

func TestProfileOf_namesItsSource(t *testing.T) {
	p := &domain.Project{}
	for _, u := range domain.Uses() {
		got := energy.ProfileOf(p, u.Use)
		assert.NotEmpty(t, got.Source, u.Use)
		assert.False(t, got.Own)
		stated := domain.UseProfile{ID: domain.ID(u.Use), Day: got.Day, Night: got.Night, Absence: got.Absence, Target: units.Lux(got.Lx), Source: got.Source}
		assert.NoError(t, stated.Validate(), u.Use)
	}
	assert.Equal(t, 0.25, energy.ProfileOf(p, "classroom").Absence)
	assert.Contains(t, energy.ProfileOf(p, "other").Source, "not listed")

	p.Profiles = []domain.UseProfile{{ID: "classroom", Seq: 1, Day: 1600, Night: 100, Absence: 0.3, Target: 500, Source: "survey of the invented school"}}
	assert.Equal(t, energy.Profile{Day: 1600, Night: 100, Absence: 0.3, Lx: 500, Source: "survey of the invented school", Own: true}, energy.ProfileOf(p, "classroom"))
	assert.Equal(t, 0.5, energy.ProfileOf(p, "conference").Absence)
	p.Profiles[0].ID = "other"
	assert.EqualValues(t, 1600, energy.ProfileOf(p, "").Day, "rooms that state no use")
}
