package energycode_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/energycode"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// drawn is a classroom of 12 x 9 m, two windows of 3 m in the south wall with their
// head at 2.4 m, and three rows of four luminaires at 1.5, 4.5 and 7.5 m from it, each
// row a load.
func drawn(watts units.Watts) *domaintest.Builder {
	b := domaintest.Room()
	b.P.Luminaires[0].Watts = watts
	b.Load("l1", "a", 4).Load("l2", "a", 4).Load("l3", "a", 4)
	b.R.Outline, b.R.Ceiling, b.R.Area = geom.Rectangle(0, 0, 12, 9), 3, 108
	window := func(id domain.ID, at units.Metres) domain.Opening {
		return domain.Opening{ID: id, Kind: domain.Window, At: at, Width: 3, Sill: 0.9, Head: 2.4}
	}
	b.R.Plan = &domain.Plan{ID: "s1", Walls: []domain.Wall{
		{ID: "south", Seq: 1, A: geom.Pt(0, 0), B: geom.Pt(12, 0), Kind: domain.FullWall, Thickness: 0.2, Openings: []domain.Opening{window("o1", 1.5), window("o2", 7.5)}},
		{ID: "east", Seq: 2, A: geom.Pt(12, 0), B: geom.Pt(12, 9), Kind: domain.FullWall, Thickness: 0.2},
		{ID: "north", Seq: 3, A: geom.Pt(12, 9), B: geom.Pt(0, 9), Kind: domain.FullWall, Thickness: 0.2},
		{ID: "west", Seq: 4, A: geom.Pt(0, 9), B: geom.Pt(0, 0), Kind: domain.FullWall, Thickness: 0.2},
	}}
	for i := range 12 {
		b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("f", i)), Load: domain.ID(fmt.Sprint("l", i/4+1)), At: geom.Pt(1.5+3*float64(i%4), 1.5+3*float64(i/4))})
	}
	return b
}

func zonesOf(t testing.TB, id string, b *domaintest.Builder) *energycode.Zones {
	z, err := energycode.ZonesOf(pack(t, id), b.P, b.R, daylight.UsualAssumed())
	require.NoError(t, err)
	return z
}

func TestZonesOf_classroomByCode(t *testing.T) {
	for _, c := range []struct {
		pack                        string
		primary                     float64 // m2
		primaryWatts, secondWatts   units.Watts
		primaryAsked, secondayAsked bool
	}{
		{old, 25.92, 160, 160, true, true},   // section 3.2, half the head height a side (library print); 9.4.1.1(e) (open building model)
		{fresh, 25.92, 160, 160, true, true}, // 9.4.1.1(e), from memory
		{code18, 20.252, 160, 0, true, false},
		{code21, 25.92, 160, 160, true, true}, // C405.2.4, from memory
		{calif, 25.92, 160, 160, true, true},  // 130.1(d)
	} {
		z := zonesOf(t, c.pack, drawn(40))
		require.NotNil(t, z, c.pack)
		assert.InDelta(t, c.primary, float64(z.Primary.Area), 0.001, c.pack)
		assert.InDelta(t, float64(c.primaryWatts), float64(z.Primary.Watts), 1e-9, c.pack)
		assert.InDelta(t, float64(c.secondWatts), float64(z.Secondary.Watts), 1e-9, c.pack)
		assert.Equal(t, []domain.ID{"l1"}, z.Primary.Loads, c.pack)
		assert.InDelta(t, 96.875, float64(z.Glazing)/ft2, 0.001, "two windows of 3 x 1.5 m")
		assert.Empty(t, z.Doubt)
		asked := pack(t, c.pack).DaylightAsked(z)
		assert.Equal(t, c.primaryAsked, asked.Primary, c.pack)
		assert.Equal(t, c.secondayAsked, asked.Secondary, c.pack)
	}
	// With 30 W: 120 W in each area.
	for id, want := range map[string][2]bool{old: {false, false}, fresh: {true, true}, code18: {false, false}, code21: {false, false}, calif: {true, true}} {
		asked := pack(t, id).DaylightAsked(zonesOf(t, id, drawn(30)))
		assert.Equal(t, want, [2]bool{asked.Primary, asked.Secondary}, id)
	}
}

func TestZonesOf_judged(t *testing.T) {
	b := drawn(40)
	f := energycode.FactsOf(b.P, b.R, energycode.Given{Zones: zonesOf(t, old, b)})
	a := answerOf(t, energycode.Judge(pack(t, old), class, &f), energycode.DaylightSide)
	assert.Equal(t, not, a.Verdict)
	assert.Contains(t, a.Sentence(), "L1 and L2: no response to daylight")
	assert.InDelta(t, 0.41290, last(energycode.Judge(pack(t, old), class, &f)).Figures[0].Measured, 0.000005, "480 W over 108 m2")
}

func TestZonesOf_whatIsNotDrawn(t *testing.T) {
	b := drawn(40)
	b.R.Plan.Walls[0].Openings[0].Head, b.R.Plan.Walls[0].Openings[0].Sill = 0, 0
	b.R.Fixtures = b.R.Fixtures[1:]
	z := zonesOf(t, old, b)
	assert.Contains(t, z.Doubt, "sill and head height of the windows")
	assert.Contains(t, z.Doubt, "where the luminaires of L1 hang")
	assert.Zero(t, z.Glazing)
	f := energycode.FactsOf(b.P, b.R, energycode.Given{Zones: z})
	f.Loads = f.Loads[2:] // what is left is not asked
	z.Primary.Watts, z.Secondary.Watts = 10, 10
	z.Primary.Loads, z.Secondary.Loads = nil, nil
	a := answerOf(t, energycode.Judge(pack(t, old), class, &f), energycode.DaylightSide)
	assert.Equal(t, open, a.Verdict, "nothing is asked of so few watts, if the windows are as assumed")

	b = drawn(40)
	b.R.Plan.Walls[0].Openings = nil
	assert.Contains(t, zonesOf(t, old, b).Doubt, "its plan shows none")
	b.R.Plan = nil
	assert.Nil(t, zonesOf(t, old, b))
	assert.Nil(t, zonesOf(t, "washington-2021", drawn(40)), "no rules are known of that code")

	roof := drawn(40)
	roof.R.Design.Loads[2].Zone = domain.ZoneRoof
	assert.InDelta(t, 160, float64(zonesOf(t, old, roof).Toplit.Watts), 1e-9, "rooflights are stated, not drawn")
}

// A rooflight of 1 x 1 m, 7.5 m from the windows: 0.7 x 3 m beyond its edges (90.1,
// section 3.2, as in an open building model), clipped at the north wall: 5.2 x 4.1 m,
// with two luminaires of the third row in it.
func TestZonesOf_rooflightsGoBeforeWhatLoadsState(t *testing.T) {
	b := drawn(40)
	b.R.Plan.Rooflights = []domain.Rooflight{{ID: "r", At: geom.Pt(6, 7.5), Width: 1, Length: 1}}
	b.R.Design.Loads[1].Zone = domain.ZoneRoof
	z := zonesOf(t, old, b)
	assert.InDelta(t, 21.32, float64(z.Toplit.Area), 1e-6)
	assert.InDelta(t, 80, float64(z.Toplit.Watts), 1e-9)
	assert.Equal(t, []domain.ID{"l3"}, z.Toplit.Loads)
}

func TestZoneRules_areKnown(t *testing.T) {
	for _, p := range energycode.Packs() {
		_, ok := daylight.FindZoneCode(p.ZoneRules)
		assert.True(t, ok, p.ID)
	}
	own := sheet(t)
	own.ZoneRules = "mine"
	_, err := own.Copy("again", "Again", "")
	assert.ErrorContains(t, err, `zone_rules "mine" are not known: use ashrae-90.1-2013`)
}
