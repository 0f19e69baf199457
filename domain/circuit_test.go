package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

func TestPanelOf(t *testing.T) {
	for name, want := range map[string][2]string{"LP1-3": {"LP1", "3"}, "N-LP1-3/5": {"N-LP1", "3/5"}, "7": {"", "7"}, "-7": {"", "-7"}, "": {"", ""}} {
		panel, own := domain.PanelOf(name)
		assert.Equal(t, want, [2]string{panel, own}, name)
	}
}

// 14 x 38 W at power factor 0.95 and 277 V draw 2.0217 A; 24 x 52 W at 0.92 and
// 120 V draw 11.3043 A (I = P/(V pf), computed).
func TestCircuitShares_addUpByCircuitAndVolts(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 10).Load("l2", "a", 4).Load("l3", "b", 24).Load("l4", "a", 2).Receptacle("r1").
		Set("loads/l1/circuit", "LP1-3", "loads/l2/circuit", "lp1-3", "loads/l3/circuit", "LP1-3", "loads/r1/circuit", "RP1-1", "loads/r1/watts", "600")
	p := b.P
	lum := p.Luminaire("b")
	lum.Watts, lum.PowerFactor, lum.Drivers, lum.InrushPeak = 52, 0.92, 2, 0
	p.Luminaire("a").InrushPeak = 25
	got := b.R.CircuitShares(p)
	require.Len(t, got, 4)
	assert.Empty(t, got[0].Circuit, "a load that names none")
	assert.Equal(t, domain.ID("r1"), got[1].Room)
	assert.InDelta(t, 11.3043, float64(got[1].Amps), 5e-5)
	assert.Equal(t, units.Volts(120), got[1].Volts)
	assert.Equal(t, 1, got[1].Unstated)
	assert.InDelta(t, 2.0217, float64(got[2].Amps), 5e-5)
	assert.Equal(t, 2, got[2].Loads)
	assert.Equal(t, 14, got[2].Drivers)
	assert.InDelta(t, 14*25, float64(got[2].Inrush), 1e-9)
	assert.InDelta(t, 5, float64(got[3].Rest), 1e-9, "600 W at 120 V")
	assert.Equal(t, 1, got[3].Receptacles)

	p.Circuits = []domain.Circuit{{ID: "k1", Seq: 1, Name: "LP1-03"}, {ID: "k2", Seq: 2, Name: "Lp1-3", Breaker: 30}}
	totals := domain.SumCircuits(p, got)
	require.Len(t, totals, 4)
	assert.Equal(t, "Lp1-3", totals[0].Name, "as it is listed")
	assert.Equal(t, []units.Volts{120, 277}, totals[0].Volts)
	assert.InDelta(t, 13.326, float64(totals[0].Amps), 5e-4)
	rating, assumed := totals[0].Rating(p)
	assert.Equal(t, units.Amps(30), rating)
	assert.False(t, assumed)
	assert.Empty(t, totals[3].Name, "what names none comes last")
	empty := totals[1]
	if empty.Name != "LP1-03" {
		empty = totals[2]
	}
	assert.Empty(t, empty.Rooms(), "a circuit that is listed and carries nothing")
	assert.Len(t, totals[0].Rooms(), 1)
}

// 1.25 x continuous + 1.00 x the rest within the rating (NEC 210.20(A)).
func TestCircuitTotal_countsTheRestOnce(t *testing.T) {
	p := domaintest.Project(units.US)
	total := domain.CircuitTotal{Amps: 12, Rest: 5}
	assert.InDelta(t, 16, float64(total.Counted(p)), 1e-9)
	assert.InDelta(t, 16, float64(total.Allowed(p)), 1e-9)
	multiple, assumed := total.TripMultiple(p)
	assert.InDelta(t, 5, multiple, 0)
	assert.True(t, assumed)
}

// IEC 60898: B 3, C 5, D 10, from memory.
func TestTrip_multiples(t *testing.T) {
	want := map[domain.Trip]float64{domain.TripB: 3, domain.TripC: 5, domain.TripD: 10, "": 0, "Z": 0}
	for trip, m := range want {
		assert.InDelta(t, m, trip.Multiple(), 0)
	}
}

func TestLoad_pairFields(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1)
	l := b.R.Design.Load("l1")
	w, assumed := l.Pair(units.US)
	assert.Equal(t, equipment.AWG18, w)
	assert.True(t, assumed)
	w, _ = l.Pair(units.SI)
	assert.Equal(t, equipment.MM075, w)
	b.Set("loads/l1/pair_wire", "16", "loads/l1/pair_m", "100 ft")
	l = b.R.Design.Load("l1")
	w, assumed = l.Pair(units.US)
	assert.Equal(t, equipment.AWG16, w)
	assert.False(t, assumed)
	assert.InDelta(t, 30.48, float64(l.PairLength), 1e-9)
	b.Set("loads/l1/pair_wire", "1.5 mm²")
	assert.Equal(t, equipment.MM15, b.R.Design.Load("l1").PairWire)
	f, ok := domain.FieldNamed(domain.LoadFields, "pair_m")
	require.True(t, ok)
	assert.NoError(t, f.Set(domain.Env{Project: b.P}, l, "1000 m"))
	assert.Error(t, f.Set(domain.Env{Project: b.P}, l, "1001 m"))
}

func TestCheck_circuits(t *testing.T) {
	s := &domain.Scope{Project: *domaintest.Project(units.US)}
	s.Project.Circuits = []domain.Circuit{{ID: "k1", Seq: 1, Name: "LP-1", Trip: domain.TripC}}
	assert.Empty(t, s.Check())
	s.Project.Circuits = append(s.Project.Circuits, domain.Circuit{ID: "k2", Seq: 2, Name: "lp-1"}, domain.Circuit{ID: "k3", Seq: 3}, domain.Circuit{ID: "k4", Seq: 4, Name: "X", Trip: "Z"})
	var paths []string
	for _, p := range s.Check() {
		paths = append(paths, p.Path)
	}
	assert.ElementsMatch(t, []string{"/project/circuits/1/name", "/project/circuits/2/name", "/project/circuits/3/trip"}, paths)
}

func TestCompare_saysWhatChangedOfCircuits(t *testing.T) {
	older := &domain.Scope{Project: *domaintest.Project(units.US)}
	newer := &domain.Scope{Project: *domaintest.Project(units.US)}
	older.Project.Circuits = []domain.Circuit{{ID: "k1", Seq: 1, Name: "LP-1", Breaker: 20}, {ID: "k2", Seq: 2, Name: "LP-2"}}
	newer.Project.Circuits = []domain.Circuit{{ID: "k1", Seq: 1, Name: "LP-1", Breaker: 15}, {ID: "k3", Seq: 3, Name: "LP-3"}}
	d, err := domain.Compare(older, newer)
	require.NoError(t, err)
	assert.ElementsMatch(t, []string{"circuit LP-1: breaker 20 A -> 15 A", "circuit LP-3 added", "circuit LP-2 removed"}, d.Project)
}
