package power

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

func ofProject(r *rule.Rule, f *rule.ProjectFacts) []rule.Finding { return r.CheckProject(f) }

// 38 W at power factor 0.95 on 20 A at 80 %, computed with I = P/(V pf): at 120 V
// 48 draw 16.0000 A exactly and pass, 49 draw 16.3333 A; at 277 V 110 draw
// 15.8845 A, 111 draw 16.0289 A. The 80 %: NEC 210.20(A).
func TestCircuitOverloaded_overRooms(t *testing.T) {
	for _, c := range []struct {
		luminaire domain.ID
		counts    []int
		amps      float64
		want      int
	}{
		{"b", []int{30, 17}, 15.6667, 0}, {"b", []int{30, 18}, 16, 0}, {"b", []int{30, 19}, 16.3333, 1},
		{"a", []int{50, 50, 9}, 15.7401, 0}, {"a", []int{50, 50, 10}, 15.8845, 0}, {"a", []int{50, 50, 11}, 16.0289, 1},
	} {
		f := fed(c.luminaire, c.counts...)
		assert.InDelta(t, c.amps, float64(f.Totals()[0].Amps), 5e-5)
		got := ofProject(&CircuitOverloaded, f)
		require.Len(t, got, c.want, "%v of %s", c.counts, c.luminaire)
		if c.want > 0 {
			assert.InDelta(t, 16, got[0].Limit, 1e-9)
			assert.InDelta(t, 16-c.amps, got[0].Margin, 5e-5)
			assert.Len(t, got[0].Subjects, len(c.counts))
			assert.Contains(t, got[0].Message, "A breaker of 20 A is assumed")
		}
	}
}

// 1.25 x 16 = 20 passes a breaker of 20 A and 1.25 x 16.01 = 20.0125 does not
// (NEC 210.20(A)); a receptacle load counts once: 1.25 x 12 + 5 = 20 passes.
func TestCircuitOverloaded_isExactAtTheLimit(t *testing.T) {
	of := func(lighting, rest units.Amps) *rule.ProjectFacts {
		f := fed("b")
		f.Circuits = []domain.CircuitShare{{Room: "r1", Storey: "s1", Number: "101", Circuit: "LP1-1", Volts: 120, Loads: 1, Amps: lighting, Rest: rest}}
		return f
	}
	assert.Empty(t, ofProject(&CircuitOverloaded, of(15.99, 0)))
	assert.Empty(t, ofProject(&CircuitOverloaded, of(16, 0)))
	assert.Len(t, ofProject(&CircuitOverloaded, of(16.01, 0)), 1)
	assert.Empty(t, ofProject(&CircuitOverloaded, of(12, 5)))
	got := ofProject(&CircuitOverloaded, of(12, 5.01))
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "Receptacle loads of 5.01 A")
}

// A breaker of 15 A at 80 % carries 1440 VA at 120 V: 12 A, 36 luminaires of 40
// VA (NEC 210.20(A)).
func TestCircuitOverloaded_readsTheListedBreaker(t *testing.T) {
	for n, want := range map[int]int{35: 0, 36: 0, 37: 1} {
		f := fed("b", n)
		f.Project.Circuits = []domain.Circuit{{ID: "k", Seq: 1, Name: "lp1-1", Breaker: 15}}
		got := ofProject(&CircuitOverloaded, f)
		require.Len(t, got, want, "%d", n)
		if want > 0 {
			assert.NotContains(t, got[0].Message, "assumed")
		}
	}
}

func TestCircuitOverloaded_aNameInAnotherBuildingIsAnotherCircuit(t *testing.T) {
	f := fed("b", 40, 40)
	require.Len(t, ofProject(&CircuitOverloaded, f), 1)
	f = fed("b", 40, 40)
	f.Project.Buildings = append(f.Project.Buildings, domain.Building{ID: "b2", Seq: 2, Name: "Annex", Storeys: []domain.Storey{{ID: "x1", Seq: 1, Name: "Ground"}}})
	f.Circuits[1].Storey = "x1"
	assert.Empty(t, ofProject(&CircuitOverloaded, f))
}

func TestCircuitOverloaded_loadsThatNameNoneAreNoCircuit(t *testing.T) {
	f := fed("b", 40, 40)
	for i := range f.Circuits {
		f.Circuits[i].Circuit = ""
	}
	assert.Empty(t, ofProject(&CircuitOverloaded, f))
}

func TestCircuitVolts(t *testing.T) {
	assert.Empty(t, ofProject(&CircuitVolts, twoVoltages("a")))
	got := ofProject(&CircuitVolts, twoVoltages("b"))
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "loads of 120 V in 102 and of 277 V in 101")

	listed := fed("a", 4)
	listed.Project.Circuits = []domain.Circuit{{ID: "k", Seq: 1, Name: "LP1-1", Volts: 120}}
	got = ofProject(&CircuitVolts, listed)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "of 277 V in 101, and is listed at 120 V")
	listed = fed("a", 4)
	listed.Project.Circuits = []domain.Circuit{{ID: "k", Seq: 1, Name: "LP1-1", Volts: 277}}
	assert.Empty(t, ofProject(&CircuitVolts, listed))
}

// Peak allowed = K sqrt2 m In, m of IEC 60898 (from memory): a C16 stands 113.1 A
// at K 1 and 452.5 A at K 4, so 4 and 18 drivers of 25 A; a D16 226.3 A, 9; a B16
// 67.9 A, 2 (computed).
func TestBreakerInrush_countsDrivers(t *testing.T) {
	for _, c := range []struct {
		trip domain.Trip
		k    float64
		most int
		amps float64
	}{{domain.TripC, 1, 4, 113.1}, {domain.TripC, 4, 18, 452.5}, {domain.TripD, 1, 9, 226.3}, {domain.TripD, 4, 36, 905.1}, {domain.TripB, 1, 2, 67.9}, {domain.TripB, 4, 10, 271.5}} {
		for n, want := range map[int]int{c.most - 1: 0, c.most: 0, c.most + 1: 1} {
			f := started(n)
			f.Project.Circuits[0].Trip = c.trip
			for i := range f.Project.Limits {
				if f.Project.Limits[i].ID == domain.InrushFactor {
					f.Project.Limits[i].Value = c.k
				}
			}
			got := ofProject(&BreakerInrush, f)
			require.Len(t, got, want, "%d drivers on %s16 at K %g", n, c.trip, c.k)
			if want > 0 {
				assert.InDelta(t, c.amps, got[0].Limit, 0.06)
				assert.NotContains(t, got[0].Message, "assumed")
			}
		}
	}
}

func TestBreakerInrush_whatIsNotKnownNeverPasses(t *testing.T) {
	f := started(3)
	f.Project.Luminaire("a").InrushPeak = 0
	f.Circuits = fedAgain(f, "a", 3)
	got := ofProject(&BreakerInrush, f)
	require.Len(t, got, 1)
	assert.Equal(t, rule.Info, got[0].Severity)
	assert.Contains(t, got[0].Message, "not checked on circuit LP1-1: the peak of 1 load is not stated")
}

func TestBreakerInrush_ofAnAssumedBreakerIsToldOnce(t *testing.T) {
	f := started(50)
	f.Project.Circuits = nil
	f.Circuits = append(f.Circuits, f.Circuits[0])
	f.Circuits[1].Circuit = "LP1-3"
	got := ofProject(&BreakerInrush, f)
	require.Len(t, got, 1, "nobody has stated the breaker: no warning on each")
	assert.Equal(t, rule.Info, got[0].Severity)
	assert.Contains(t, got[0].Message, "1 more circuit is beyond an assumed breaker too")
}

func fedAgain(f *rule.ProjectFacts, luminaire domain.ID, count int) []domain.CircuitShare {
	d := domain.Design{Loads: []domain.Load{{ID: "l1", Tag: "L1", Kind: domain.Lighting, Luminaire: luminaire, Count: count, Circuit: "LP1-1"}}}
	r := &domain.Resolved{Room: &domain.Room{ID: "r1", StoreyID: "s1", Number: "101"}, Design: d}
	return r.CircuitShares(f.Project)
}

func TestEmergencyMixed(t *testing.T) {
	assert.Empty(t, found(&EmergencyMixed, withEmergency("LP-3")))
	got := found(&EmergencyMixed, withEmergency("em-1"))
	require.Len(t, got, 1, "names are compared without regard to capitals")
	assert.Contains(t, got[0].Message, "LC-1 carries L4 from the emergency source and L1, L2 and L3 from other circuits")
	alone := withEmergency("EM-1").Device("lc2", "lc-1").Carry("l4", "lc2", 1)
	assert.Empty(t, found(&EmergencyMixed, alone))
	assert.Empty(t, found(&EmergencyMixed, withEmergency("")), "a load that names no circuit is not judged")
}

// The sum of peaks on a relay against its rated peak; equal passes (after the
// worked limits of common practice, no published source).
func TestInrush(t *testing.T) {
	for n, want := range map[int]int{3: 0, 4: 0, 5: 1} {
		got := found(&Inrush, pulsed(n, 100))
		require.Len(t, got, want, "%d drivers of 25 A on 100 A", n)
		if want > 0 {
			assert.Equal(t, []float64{125, 100, -25}, []float64{got[0].Measured, got[0].Limit, got[0].Margin})
		}
	}
	unknown := pulsed(4, 0)
	got := found(&Inrush, unknown)
	require.Len(t, got, 1, "one finding for the room")
	assert.Equal(t, rule.Info, got[0].Severity)
	assert.Contains(t, got[0].Message, "not checked on LC-1")

	drivers := pulsed(2, 100)
	drivers.P.Luminaire("a").InrushPeak = 0
	got = found(&Inrush, drivers)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "the inrush peak of type A in the luminaire schedule")

	tested := pulsed(40, 0)
	tested.P.Book.Find("lc-4").TestedForInrush = true
	assert.Empty(t, found(&Inrush, tested), "40 draw 5.8 A, within 16 A")
	tested.P.Book.Find("lc-4").OutputAmps = 5
	assert.NotEmpty(t, found(&Inrush, tested), "tested, but not for this current")
}

// 30 drivers of 2 mA evenly along 18 AWG, stranded at 75 C (NFPA 70 chapter 9
// table 8), in % of the 9 V span: 0.55 at 100 ft, 1.10 at 200 ft, 2.74 at 500 ft,
// 5.48 at 1000 ft; 1 % is met at 182.6 ft (computed).
func TestPairDrop_ofStatedLengths(t *testing.T) {
	for _, c := range []struct {
		length   string
		share    float64
		severity rule.Severity
	}{{"100 ft", 0.55, ""}, {"182 ft", 1, ""}, {"183 ft", 1, rule.Warning}, {"200 ft", 1.10, rule.Warning}, {"500 ft", 2.74, rule.Warning}, {"912 ft", 5, rule.Warning}, {"913 ft", 5, rule.Error}, {"1000 ft", 5.48, rule.Error}} {
		got := found(&PairDrop, paired(c.length))
		if c.severity == "" {
			assert.Empty(t, got, c.length)
			continue
		}
		require.Len(t, got, 1, c.length)
		assert.Equal(t, c.severity, got[0].Severity, c.length)
		assert.InDelta(t, c.share, got[0].Measured, 0.0055, c.length)
	}
	got := found(&PairDrop, paired("500 ft"))[0]
	assert.Contains(t, got.Message, "12.5 % in place of 10 %", "10 % and a rise of 0.2464 V give 12.46 % (computed)")
	assert.Contains(t, got.Message, "18 AWG is assumed")
	assert.Equal(t, "Use 12 AWG for the pair", got.Fix.Title, "14 AWG still rises by 1.08 %")
	assert.Empty(t, found(&PairDrop, paired("").Set("loads/l1/pair_wire", "18")), "neither stated nor drawn: not checked")
}

// 60 mA from 30 drivers evenly along 150 m of 1.5 mm2 rise by 0.1125 V: 1.25 %
// (IEC 60228 at 20 C, from memory; computed).
func TestPairDrop_inMetric(t *testing.T) {
	b := paired("").Set("loads/l1/pair_m", "150 m", "loads/l1/pair_wire", "1.5 mm²")
	b.P.Units = units.SI
	got := found(&PairDrop, b)
	require.Len(t, got, 1)
	assert.InDelta(t, 0.1125/9*100, got[0].Measured, 5e-3)
	assert.Equal(t, equipment.MM15, b.R.Design.Load("l1").PairWire)
	assert.Equal(t, "Use 2.5 mm2 for the pair", got[0].Fix.Title)
}

// On the plan the way goes along the walls to the nearest luminaire first, 1.2
// times as long, and 3 m more for going up and down (common practice, no
// published source). Two places of 2 mA each: 2 r (1.2 x 10 + 3) x 4 mA and
// 2 r (1.2 x 5) x 2 mA, with r = 7.95 ohm per 304.8 m.
func TestPairDrop_asDrawn(t *testing.T) {
	at := func(x, y float64) *geom.Point { p := geom.Pt(x, y); return &p }
	b := domaintest.Classroom().Set("loads/l1/count", "2")
	b.R.Design.Device("lc").At = at(0, 0)
	b.R.Fixtures = []domain.Fixture{{ID: "f1", Load: "l1", At: geom.Pt(6, 9)}, {ID: "f2", Load: "l1", At: geom.Pt(6, 4)}, {ID: "f3", Load: "l2", At: geom.Pt(1, 1)}}
	f := rule.NewFacts(b.P, b.R, time.Time{})
	p := pairOf(f, f.Device("lc"), []*rule.Load{f.Load("l1")})
	require.NotNil(t, p)
	r := 7.95 / 304.8
	assert.InDelta(t, 2*r*(15*0.004+6*0.002), float64(p.rise(p.wire)), 1e-9)
	assert.InDelta(t, 21, float64(p.length), 1e-9)
	assert.Empty(t, found(&PairDrop, b))

	assert.Nil(t, pairOf(f, f.Device("lc"), []*rule.Load{f.Load("l1"), f.Load("l4")}), "a load whose luminaires are not on the plan")
	f.Load("l1").PairLength = 50
	stated := pairOf(f, f.Device("lc"), []*rule.Load{f.Load("l1")})
	assert.Nil(t, stated.taps, "what is stated comes first")
	assert.InDelta(t, 50, float64(stated.length), 0)
	b.R.Design.Device("lc").At = nil
	f.Load("l1").PairLength = 0
	assert.Nil(t, pairOf(f, f.Device("lc"), []*rule.Load{f.Load("l1")}), "a controller that is not on the plan")
}

// Drivers far from a controller: 30 of 2 mA in one place, 150 m away, carry all
// their current to the end: I 2 r L, 18 AWG at 75 C.
func TestPairDrop_asDrawnFiresFarAway(t *testing.T) {
	b := domaintest.Classroom().Set("loads/l1/count", "30")
	at := geom.Pt(0, 0)
	b.R.Design.Device("lc").At = &at
	b.R.Fixtures = []domain.Fixture{{ID: "f1", Load: "l1", At: geom.Pt(75, 75)}}
	got := found(&PairDrop, b)
	require.Len(t, got, 1)
	assert.InDelta(t, 0.06*2*7.95/304.8*(150*1.2+3)/9*100, got[0].Measured, 1e-9)
	assert.Contains(t, got[0].Message, "as drawn")
}

// 120 V on 16 A at 80 % (12.8 A, NEC 210.20(A)) carries 38 luminaires of 38 W at
// power factor 0.95: 100 need three outputs.
func TestOutputRating_dividesWhatNoOutputCarries(t *testing.T) {
	b := on("b", 100, "lc-2")
	b.P.Luminaire("b").ControlMA = 0.1
	got := found(&OutputRating, b)
	require.Len(t, got, 1)
	require.NotNil(t, got[0].Fix)
	assert.Equal(t, "Add Room controller, 1 dimmed output; divide L1 into 34, 33 and 33", got[0].Fix.Title)
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&OutputRating, b))
	assert.Empty(t, found(&NoController, b))

	drawn := on("b", 100, "lc-2")
	drawn.R.Fixtures = []domain.Fixture{{ID: "f1", Load: "l1"}}
	assert.Nil(t, found(&OutputRating, drawn)[0].Fix, "a person must say which luminaires on the plan go where")
}

func TestNoController_addsWhatCarriesTheLoads(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 4).Load("l2", "c", 4)
	got := found(&NoController, b)
	require.Len(t, got, 2)
	require.NotNil(t, got[0].Fix)
	assert.Equal(t, "Add Room controller, 1 dimmed output and Digital bus controller, 4 zones; put L1 and L2 there", got[0].Fix.Title)
	b.Do(got[0].Fix.Edits...)
	assert.Empty(t, found(&NoController, b))
	assert.Empty(t, found(&DimmingMethod, b))

	alien := domaintest.Room().Load("l1", "a", 4).Set("loads/l1/volts", "600")
	assert.Nil(t, found(&NoController, alien)[0].Fix, "the book has nothing for 600 V")
}
