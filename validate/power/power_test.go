package power

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding {
	return r.Check(rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)))
}

// on gives a room with one load of n luminaires on the first output of a controller.
func on(luminaire domain.ID, n int, typ string) *domaintest.Builder {
	return domaintest.Room().Load("l1", luminaire, n).Device("c", typ).Carry("l1", "c", 1)
}

// Luminaires of 38 W at power factor 0.95 on an 8 A output at 80 %, computed
// with I = P/(V pf): at 120 V 19 draw 6.3333 A and 20 draw 6.6667 A; at 277 V
// 44 draw 6.3538 A and 45 draw 6.4982 A. The 80 % are NEC 210.20(A); the 8 A
// fuse is common practice, no published source.
func TestOutputRating_atEightAmps(t *testing.T) {
	for _, c := range []struct {
		luminaire domain.ID
		n         int
		amps      float64
		want      int
	}{
		{"b", 18, 6, 0}, {"b", 19, 6.3333, 0}, {"b", 20, 6.6667, 1}, {"a", 43, 6.2094, 0}, {"a", 44, 6.3538, 0}, {"a", 45, 6.4982, 1},
	} {
		b := on(c.luminaire, c.n, "wb-dim")
		_, amps, known := b.R.Design.Loads[0].Power(b.P)
		require.True(t, known)
		assert.InDelta(t, c.amps, float64(amps), 5e-5)
		got := found(&OutputRating, b)
		require.Len(t, got, c.want, "%d of %s", c.n, c.luminaire)
		if c.want > 0 {
			assert.InDelta(t, 6.4, got[0].Limit, 1e-9)
			assert.InDelta(t, 6.4-c.amps, got[0].Margin, 5e-5)
			assert.Contains(t, got[0].Message, "limit 6.4 A (80 % of 8 A)")
		}
	}
}

// 20 A at 80 % carries 16 A: 48 luminaires of 38 W at power factor 0.95 and
// 120 V draw 16.0000 A exactly, and equal passes; 49 draw 16.3333 A.
func TestOutputRating_equalPasses(t *testing.T) {
	assert.Empty(t, found(&OutputRating, on("b", 47, "lc-sw-2")))
	assert.Empty(t, found(&OutputRating, on("b", 48, "lc-sw-2")))
	got := found(&OutputRating, on("b", 49, "lc-sw-2"))
	require.Len(t, got, 1)
	assert.InDelta(t, 16.3333, got[0].Measured, 5e-5)
}

func TestOutputRating_sumsTheLoadsOfAnOutput(t *testing.T) {
	b := on("b", 10, "lc-phase").Load("l2", "b", 10).Carry("l2", "c", 1)
	got := found(&OutputRating, b)
	require.Len(t, got, 1)
	assert.Equal(t, "c.1", got[0].Key)
	assert.Len(t, got[0].Subjects, 3)
	assert.Empty(t, found(&OutputRating, on("b", 10, "lc-4").Load("l2", "b", 10).Carry("l2", "c", 2)), "each output by itself")
}

func TestOutputRating_whatIsNotStatedIsNotChecked(t *testing.T) {
	b := on("b", 500, "lc-1")
	b.P.Book.Find("lc-1").OutputAmps = 0
	assert.Empty(t, found(&OutputRating, b))
	b = on("b", 20, "wb-dim")
	b.P.Book.Find("wb-dim").OutputAmps = 16
	assert.Len(t, found(&OutputRating, b), 1, "the fuse of a wall box holds whatever the type says")
}

// At most 2 mA for each driver (IEC 60929 Annex E, from memory), 60 mA for
// each output (common practice): 30 drivers pass and 31 do not.
func TestControlCurrent_oneBelowAtAndOneAbove(t *testing.T) {
	for n, want := range map[int]int{29: 0, 30: 0, 31: 1} {
		assert.Len(t, found(&ControlCurrent, on("a", n, "lc-1")), want, "%d drivers", n)
	}
	got := found(&ControlCurrent, on("a", 31, "lc-1"))[0]
	assert.Equal(t, []float64{62, 60, -2}, []float64{got.Measured, got.Limit, got.Margin})
	assert.NotContains(t, got.Message, "assumed")
}

// floor(60/0.1) must give 600 drivers, whatever floating point thinks of 0.1.
func TestControlCurrent_ofSmallDrivers(t *testing.T) {
	for ma, most := range map[units.Milliamps]int{1.5: 40, 1: 60, 0.5: 120, 0.25: 240, 0.1: 600} {
		b := on("a", most, "lc-1")
		b.P.Luminaire("a").ControlMA = ma
		assert.Empty(t, found(&ControlCurrent, b), "%d of %g mA", most, ma)
		b.Set("loads/l1/count", units.Trim(float64(most+1), 0))
		assert.Len(t, found(&ControlCurrent, b), 1, "%d of %g mA", most+1, ma)
	}
}

func TestControlCurrent_anUnknownCurrentIsAssumedAndSaid(t *testing.T) {
	b := on("a", 31, "lc-1")
	b.P.Luminaire("a").ControlMA = 0
	got := found(&ControlCurrent, b)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "2 mA are assumed")
	b.P.Luminaire("a").Drivers = 2
	assert.Len(t, found(&ControlCurrent, b.Set("loads/l1/count", "16")), 1, "32 drivers in 16 luminaires")
	assert.Empty(t, found(&ControlCurrent, b.Set("loads/l1/count", "15")))
	assert.Empty(t, found(&ControlCurrent, on("a", 100, "lc-1").Set("loads/l1/dimming", "switched")), "a switched load has no control pair")
	b = on("a", 31, "lc-1")
	b.P.Book.Find("lc-1").Sink = 0
	assert.Len(t, found(&ControlCurrent, b), 1, "the limit counts where the type states none")
}

func TestVoltage_oneBelowAtAndOneAbove(t *testing.T) {
	for volts, want := range map[string]int{"99": 1, "100": 0, "101": 0, "276": 0, "277": 0, "278": 1, "347": 1, "": 0} {
		assert.Len(t, found(&Voltage, on("a", 1, "lc-1").Set("loads/l1/volts", volts)), want, "%s V", volts)
	}
	low := found(&Voltage, on("a", 1, "lc-1").Set("loads/l1/volts", "48"))[0]
	assert.Equal(t, []float64{48, 100, -52}, []float64{low.Measured, low.Limit, low.Margin})
	b := on("a", 1, "lc-1").Set("loads/l1/volts", "347")
	b.P.Book.Find("lc-1").MaxVolts, b.P.Book.Find("lc-1").MinVolts = 0, 0
	assert.Empty(t, found(&Voltage, b), "a range that is not stated is not checked")
}

// 6 W for wired sensors (common practice): 6 of 0.9 W take 5.4 W and pass, 7
// take 6.3 W; 6 of 1.0 W take 6.0 W exactly and pass, 7 do not.
func TestAuxSupply_oneBelowAtAndOneAbove(t *testing.T) {
	for _, c := range []struct {
		n    int
		each units.Watts
		want int
	}{{5, 0.9, 0}, {6, 0.9, 0}, {7, 0.9, 1}, {5, 1, 0}, {6, 1, 0}, {7, 1, 1}, {60, 0.1, 0}, {61, 0.1, 1}} {
		got := found(&AuxSupply, fedSensors(c.n, c.each))
		require.Len(t, got, c.want, "%d of %g W", c.n, c.each)
		if c.want > 0 {
			assert.Equal(t, 6.0, got[0].Limit)
			assert.Len(t, got[0].Subjects, c.n+1)
		}
	}
	assert.InDelta(t, -0.3, found(&AuxSupply, fedSensors(7, 0.9))[0].Margin, 1e-9)
	b := fedSensors(7, 0.9)
	b.P.Book.Find("cn-2").Aux = 0
	assert.Len(t, found(&AuxSupply, b), 1, "the limit counts where the type states none")
}

func TestWiredUnfed(t *testing.T) {
	assert.Empty(t, found(&WiredUnfed, fedSensors(2, 0.9)))
	b := fedSensors(2, 0.9).Spoil(func(d *domain.Design) {
		for i := range d.Devices {
			switch d.Devices[i].ID {
			case "w2":
				d.Devices[i].FedBy = "st"
			case "w3":
				d.Devices[i].FedBy = "lost"
			}
		}
	})
	got := found(&WiredUnfed, b)
	require.Len(t, got, 1, "a feed that is gone is another rule's")
	assert.Contains(t, got[0].Message, "fed by ST-1, which has no auxiliary supply")
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&WiredUnfed, b))

	full := fedSensors(6, 0.9).Device("late", "ps-wired")
	got = found(&WiredUnfed, full)
	require.Len(t, got, 1)
	assert.Nil(t, got[0].Fix, "0.6 W are left and 0.9 W are needed")
}

func TestNoController_offersAFreeOutputThatSuits(t *testing.T) {
	b := domaintest.Room().Device("plug", "rc-20").Device("wb", "wb-dim").Device("dig", "lc-digital").Device("low", "lc-1").Device("lc", "lc-2").Load("l1", "a", 1)
	b.P.Book.Find("lc-1").MaxVolts = 125
	got := found(&NoController, b)
	require.Len(t, got, 1)
	require.NotNil(t, got[0].Fix)
	assert.Equal(t, "Put L1 on LC-3 output 1", got[0].Fix.Title, "not the plug, the wall box, the digital one or the 125 V one")
	b.Do(got[0].Fix.Edits...)
	assert.Equal(t, domain.ID("lc"), b.R.Design.Load("l1").Controller)
	assert.Equal(t, 1, b.R.Design.Load("l1").Output)

	b.Receptacle("r1")
	got = found(&NoController, b)
	require.Len(t, got, 1)
	assert.Equal(t, "Put R1 on RC-1 output 1", got[0].Fix.Title)
}

func TestNoController_leavesEgressThatAlwaysBurns(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Set("loads/l1/egress", "yes")
	assert.Empty(t, found(&NoController, b))
	assert.Len(t, found(&NoController, b.Device("st", "st-2-battery").Link("st", 1, domain.Press, "l1", "100")), 1, "what acts on it needs a controller")
}

func TestOutputs(t *testing.T) {
	b := domaintest.Classroom().Carry("l4", "", 0)
	got := found(&OutputIdle, b)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "Output 4 of LC-1 carries no load")
	got = found(&OutputIdle, domaintest.Room().Device("lc", "lc-4"))
	assert.Equal(t, 4.0, got[0].Measured)

	for output, want := range map[int]int{0: 1, 1: 0, 4: 0, 5: 1} {
		assert.Len(t, found(&OutputNumber, domaintest.Room().Device("lc", "lc-4").Load("l1", "a", 1).Carry("l1", "lc", output)), want, "output %d", output)
	}
	b = domaintest.Room().Device("lc", "lc-4").Load("l1", "a", 1).Carry("l1", "lc", 9)
	b.Do(found(&OutputNumber, b)[0].Fix.Edits...)
	assert.Equal(t, 1, b.R.Design.Load("l1").Output)
	assert.Len(t, found(&OutputNumber, domaintest.Room().Device("gw", "gw-room").Load("l1", "a", 1).Carry("l1", "gw", 1)), 1, "a gateway has no outputs")
}

func TestOutputShared_andItsLevels(t *testing.T) {
	assert.Empty(t, found(&OutputShared, together("a")))
	got := found(&OutputShared, together("s"))
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "L2 is 0-10V, L5 is switched")
	assert.Empty(t, found(&OutputLevels, together("a").Set("scenes/s1/levels/l5", "")), "a hole is another rule's")
	assert.Len(t, found(&OutputLevels, together("a").Set("scenes/s1/levels/l5", "leave")), 1, "one leaves, the other moves")
	assert.Empty(t, found(&OutputLevels, together("a").Set("scenes/s1/levels/l5", "100 in 9 s")), "only the fade differs")
}

// Every driver may be switched; a dimming signal must be the driver's own, and
// the output's: common practice, no published source.
func TestDimmingMethod(t *testing.T) {
	for _, c := range []struct {
		luminaire domain.ID
		method    equipment.Dimming
		typ       string
		want      int
	}{
		{"a", equipment.Analog, "lc-1", 0}, {"a", equipment.Switched, "lc-1", 0}, {"a", equipment.Switched, "lc-sw-2", 0},
		{"a", equipment.Analog, "lc-sw-2", 1}, {"a", equipment.Analog, "lc-phase", 1}, {"a", equipment.PhaseForward, "lc-phase", 1},
		{"a", equipment.Digital, "lc-digital", 1}, {"c", equipment.Digital, "lc-digital", 0}, {"c", equipment.Digital, "lc-1", 1},
		{"s", equipment.Switched, "lc-sw-2", 0}, {"s", equipment.Analog, "lc-1", 1},
	} {
		got := found(&DimmingMethod, on(c.luminaire, 1, c.typ).Set("loads/l1/dimming", string(c.method)))
		assert.Len(t, got, c.want, "type %s by %s on %s", c.luminaire, c.method, c.typ)
	}
	b := on("s", 1, "lc-1").Set("loads/l1/dimming", "0-10V")
	b.Do(found(&DimmingMethod, b)[0].Fix.Edits...)
	assert.Equal(t, equipment.Switched, b.R.Design.Load("l1").Dimming)
	assert.Nil(t, found(&DimmingMethod, on("a", 1, "lc-phase").Set("loads/l1/dimming", "forward phase"))[0].Fix, "the output does not have the driver's method")
}

func TestWattsUnknown(t *testing.T) {
	assert.Empty(t, found(&WattsUnknown, domaintest.Room().Load("l1", "a", 1).Receptacle("r1")))
	b := domaintest.Room().Load("l1", "a", 1).Set("loads/l1/luminaire", "", "loads/l1/watts", "60")
	assert.Contains(t, found(&WattsUnknown, b)[0].Message, "its volts are not known")
	assert.Empty(t, found(&WattsUnknown, b.Set("loads/l1/volts", "277")))
	assert.Contains(t, found(&WattsUnknown, domaintest.Room().Load("l1", "a", 1).Set("loads/l1/luminaire", ""))[0].Message, "its watts are not known")
	b = domaintest.Room().Load("l1", "a", 1)
	b.P.Luminaire("a").Watts = 0
	assert.Contains(t, found(&WattsUnknown, b)[0].Message, "the watts of luminaire type A are not known")
}

func TestReceptacles(t *testing.T) {
	plug := func() *domaintest.Builder {
		return domaintest.Room().Receptacle("r1").Device("rc", "rc-20").Carry("r1", "rc", 1)
	}
	for rating, want := range map[string]int{"15": 0, "19": 0, "20": 0, "21": 1, "": 0} {
		assert.Len(t, found(&ReceptacleRating, plug().Set("loads/r1/rating_a", rating)), want, "%s A", rating)
	}
	for _, method := range equipment.Dimmings() {
		want := 1
		if method == equipment.Switched {
			want = 0
		}
		assert.Len(t, found(&ReceptacleDimmed, plug().Set("loads/r1/dimming", string(method))), want, method)
	}
}
