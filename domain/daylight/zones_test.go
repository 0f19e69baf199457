package daylight_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	. "scopewright/domain/daylight"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// southWindow gives a window in the wall along y = 0 of a room above it.
func southWindow(from, to float64, head units.Metres) Window {
	return Window{A: geom.Pt(from, 0), B: geom.Pt(to, 0), Sill: 0.9, Head: head}
}

func screen(x0, y0, x1, y1 float64, height units.Metres) Obstruction {
	return Obstruction{Line: geom.Segment{A: geom.Pt(x0, y0), B: geom.Pt(x1, y1)}, Height: height}
}

func rulesOf(t require.TestingT, id string) *ZoneRules {
	c, ok := FindZoneCode(id)
	require.True(t, ok, id)
	return &c.Rules
}

func zonesOf(t require.TestingT, id string, s *Space) Zones {
	z, err := rulesOf(t, id).Zones(s)
	require.NoError(t, err)
	return z
}

const (
	ashrae2013 = "ashrae-90.1-2013"
	ashrae2010 = "ashrae-90.1-2010"
	iecc2018   = "iecc-2018"
	california = "california-2022"
	losAngeles = "los-angeles"
)

func hall() Space {
	return Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(1.5, 4.5, 2.4), southWindow(7.5, 10.5, 2.4)}}
}

// Areas of sidelit zones. Widths and depths by ANSI/ASHRAE/IES 90.1 section 3.2
// in adopted code text and the open model of it (secondary areas, 2010 edition);
// IECC C405.2.3.2 and California 130.1(d) from memory; arithmetic by hand.
func TestZones_sidelitAreas(t *testing.T) {
	corner := Space{Outline: geom.Rectangle(0, 0, 6, 6), Ceiling: 3, Windows: []Window{southWindow(1, 5, 2.7), {A: geom.Pt(0, 5), B: geom.Pt(0, 1), Sill: 0.9, Head: 2.7}}}
	near := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(2.5, 5.5, 2.4), southWindow(6.5, 9.5, 2.4)}}
	shallow := Space{Outline: geom.Rectangle(0, 0, 4, 3.6), Ceiling: 3, Windows: []Window{southWindow(0.5, 3.5, 2.7)}}
	screened := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}, Obstructions: []Obstruction{screen(0, 1.8, 12, 1.8, 1.6)}}
	for _, c := range []struct {
		name, code         string
		space              Space
		primary, secondary float64
	}{
		{"two windows", ashrae2013, hall(), 25.92, 25.92},
		{"two windows", iecc2018, hall(), 20.252, 0},
		{"adjoining walls", ashrae2013, corner, 25.11, 10.53},
		{"adjoining walls", ashrae2010, corner, 22.849, 8.422},
		{"windows close together", ashrae2013, near, 22.56, 22.56},
		{"windows close together", iecc2018, near, 19.726, 0},
		{"shallow room", ashrae2013, shallow, 10.8, 3.6},
		{"partition of 1.6 m at 1.8 m", ashrae2013, screened, 9.72, 0},
		{"partition of 1.6 m at 1.8 m", california, screened, 12.96, 12.96},
		{"partition of 1.6 m at 1.8 m", iecc2018, screened, 10.126, 0},
	} {
		z := zonesOf(t, c.code, &c.space)
		assert.InDelta(t, c.primary, float64(z.Primary.Area), 0.0006, "%s, %s, primary", c.name, c.code)
		assert.InDelta(t, c.secondary, float64(z.Secondary.Area), 0.0006, "%s, %s, secondary", c.name, c.code)
	}
	z := zonesOf(t, ashrae2013, &screened)
	assert.True(t, z.Primary.Cut)
	whole := hall()
	assert.False(t, zonesOf(t, ashrae2013, &whole).Primary.Cut)
}

// The least height that cuts: 5 ft in 90.1 section 3.2 (adopted code text).
func TestZones_heightThatCuts(t *testing.T) {
	for height, want := range map[units.Metres]float64{1.5239: 12.96, 1.524: 9.72, 1.5241: 9.72} {
		s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}, Obstructions: []Obstruction{screen(0, 1.8, 12, 1.8, height)}}
		assert.InDelta(t, want, float64(zonesOf(t, ashrae2013, &s).Primary.Area), 1e-6, "%g m", height)
	}
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}, Obstructions: []Obstruction{screen(0, 1.8, 12, 1.8, 2)}}
	s.Obstructions[0].Clear = true // 90.1 says opaque
	assert.InDelta(t, 12.96, float64(zonesOf(t, ashrae2013, &s).Primary.Area), 1e-6)
	s.Obstructions[0].Clear, s.Obstructions[0].Movable = false, true
	assert.InDelta(t, 9.72, float64(zonesOf(t, ashrae2013, &s).Primary.Area), 1e-6)
	assert.InDelta(t, 12.96, float64(zonesOf(t, california, &s).Primary.Area), 1e-6, "permanent ones only, from memory")
}

// "... or to such an obstruction, the less" (90.1 section 3.2, adopted code
// text): a wall 0.5 m beside the jamb ends the side extension of 1.2 m there;
// one that stands clear of it, or in front of the window across the glass, does
// not. Areas by hand.
func TestZones_sidesCut(t *testing.T) {
	for _, c := range []struct {
		name string
		o    Obstruction
		want float64
	}{
		{"wall into the room beside the window", screen(3.5, 0, 3.5, 9, 3), (0.5 + 3 + 1.2) * 2.4},
		{"on the other side", screen(7.5, 9, 7.5, 0, 3), (0.5 + 3 + 1.2) * 2.4},
		{"short wing wall", screen(3.5, 0, 3.5, 1, 3), (0.5 + 3 + 1.2) * 2.4},
		{"at the jamb itself", screen(4, 0, 4, 9, 3), (3 + 1.2) * 2.4},
		{"beyond the extension", screen(2.7, 0, 2.7, 9, 3), (1.2 + 3 + 1.2) * 2.4},
		{"a pilaster", screen(3.5, 0, 3.5, 0.3, 3), (1.2 + 3 + 1.2) * 2.4},
		{"into the room before the glass", screen(5, 0, 5, 9, 3), (1.2 + 3 + 1.2) * 2.4},
		{"too low", screen(3.5, 0, 3.5, 9, 1.5), (1.2 + 3 + 1.2) * 2.4},
	} {
		s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}, Obstructions: []Obstruction{c.o}}
		z := zonesOf(t, ashrae2013, &s)
		assert.InDelta(t, c.want, float64(z.Primary.Area), 1e-3, c.name)
	}
	// A zone does not reach round an inner corner: the room is an L, its window in
	// the foot; the area behind the corner at x < 3, y > 1.5 is another's light.
	ell := Space{Outline: geom.Polygon{Outer: []geom.Point{{X: 0, Y: 1.5}, {X: 3, Y: 1.5}, {X: 3, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 6}, {X: 0, Y: 6}}}, Ceiling: 3, Windows: []Window{southWindow(3.5, 5.5, 2.4)}}
	z := zonesOf(t, ashrae2013, &ell)
	assert.InDelta(t, (0.5+2+1.2)*2.4, float64(z.Primary.Area), 1e-3)
}

// Toplit zones: 0.7 CH beyond the opening (open model of 90.1-2019); cut by what
// stands farther than 0.7 (CH - OH) (from memory), in IECC 2015 by what is taller
// than 0.7 CH (C405.2.3.3, adopted code text).
func TestZones_toplit(t *testing.T) {
	room := geom.Rectangle(0, 0, 12, 12)
	light := Rooflight{At: geom.Pt(6, 6), Width: 1.2, Length: 1.2}
	at := func(beyond float64, height units.Metres) []Obstruction {
		return []Obstruction{screen(0, 6.6+beyond, 12, 6.6+beyond, height)}
	}
	for _, c := range []struct {
		name, code string
		o          []Obstruction
		want       float64
	}{
		{"free", ashrae2013, nil, 29.16},
		{"partition at 1.0 m", ashrae2013, at(1.0, 1.8), 23.22},
		{"partition at 0.8 m", ashrae2013, at(0.8, 1.8), 29.16},
		{"partition at 0.84 m, the limit", ashrae2013, at(0.84, 1.8), 29.16},
		{"partition at 0.85 m", ashrae2013, at(0.85, 1.8), 5.4 * (2.1 + 1.2 + 0.85)},
		{"partition at 1.0 m", iecc2018, at(1.0, 1.8), 29.16},
		{"partition of 2.1 m, the limit", iecc2018, at(1.0, 2.1), 29.16},
		{"partition of 2.11 m", iecc2018, at(1.0, 2.11), 23.22},
	} {
		for _, turn := range []float64{0, 90, 180, 270} { // the square opening and its zone stay
			l := light
			l.Turn = turn
			s := Space{Outline: room, Ceiling: 3, Rooflights: []Rooflight{l}, Obstructions: c.o}
			z := zonesOf(t, c.code, &s)
			assert.InDelta(t, c.want, float64(z.Toplit.Area), 1e-3, "%s, %s, turned %g", c.name, c.code, turn)
		}
	}
	two := Space{Outline: geom.Rectangle(0, 0, 10, 10), Ceiling: 3, Rooflights: []Rooflight{{At: geom.Pt(3, 5), Width: 1.2, Length: 1.2}, {At: geom.Pt(7, 5), Width: 1.2, Length: 1.2}}}
	assert.InDelta(t, 50.76, float64(zonesOf(t, ashrae2013, &two).Toplit.Area), 1e-6)
}

// Toplit goes before primary (open model), or after it (Los Angeles A5.209).
func TestZones_orderOfOverlaps(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}, Rooflights: []Rooflight{{At: geom.Pt(5.5, 3.6), Width: 1.2, Length: 1.2}}}
	top := zonesOf(t, ashrae2013, &s) // toplit from y = 0.9 to 6.3, x from 2.8 to 8.2: as wide as the window's zone
	assert.InDelta(t, 29.16, float64(top.Toplit.Area), 1e-6)
	assert.InDelta(t, 5.4*0.9, float64(top.Primary.Area), 1e-6)
	assert.Zero(t, top.Secondary.Area)
	assert.True(t, top.Primary.Cut)
	side := zonesOf(t, losAngeles, &s)
	assert.InDelta(t, (3+2*0.6096)*2.4, float64(side.Primary.Area), 1e-6)
	assert.InDelta(t, 29.16-(3+2*0.6096)*1.5, float64(side.Toplit.Area), 1e-6)
}

// Four luminaires of 40 W hang 2.2 to 2.8 m from the glass, h is 2.4 m: 90.1
// counts what is "wholly or partly inside" (adopted code text), California what
// hangs inside by half or more (from memory).
func TestTally_straddling(t *testing.T) {
	s := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 3, Windows: []Window{southWindow(4, 7, 2.4)}}
	row := func(middle float64) (out []Luminaire) {
		for i := range 4 {
			out = append(out, Luminaire{Load: "l1", At: geom.Pt(3.5+float64(i), middle), Length: 0.6, Width: 0.6, Watts: 40, General: true})
		}
		return out
	}
	count := func(code string, middle float64) Tally {
		z := zonesOf(t, code, &s)
		return rulesOf(t, code).Tally(&z, row(middle))
	}
	us := count(ashrae2013, 2.5)
	assert.EqualValues(t, 160, us.Primary.Watts)
	assert.Equal(t, 4, us.Primary.Luminaires)
	assert.Zero(t, us.Secondary.Watts)
	ca := count(california, 2.5)
	assert.Zero(t, ca.Primary.Watts)
	assert.EqualValues(t, 160, ca.Secondary.Watts)
	assert.EqualValues(t, 160, count(california, 2.4).Primary.Watts, "exactly half")
	assert.Zero(t, count(california, 2.401).Primary.Watts)
	assert.EqualValues(t, 160, count(ashrae2013, 2.699).Primary.Watts)
	assert.Zero(t, count(ashrae2013, 2.7).Primary.Watts, "touches only")
	decorative := []Luminaire{{At: geom.Pt(5, 1), Watts: 40}}
	z := zonesOf(t, ashrae2013, &s)
	assert.Zero(t, rulesOf(t, ashrae2013).Tally(&z, decorative).Primary.Watts, "general lighting only")
	turned := Luminaire{At: geom.Pt(5, 2.4), Length: 1.2, Width: 0.3, Turn: 90}
	assert.InDelta(t, 0.5, z.Stands(&turned).Primary, 1e-9)
	assert.Equal(t, Straddles, WhereOf(z.Stands(&turned).Primary))
	assert.Equal(t, Inside, WhereOf(z.Stands(&Luminaire{At: geom.Pt(5, 2), Length: 0.6, Width: 0.6}).Primary))
	assert.Equal(t, Apart, WhereOf(z.Stands(&Luminaire{At: geom.Pt(5, 8)}).Primary))
}

// No floor is in two zones or outside of the room, and none gets a zone by an
// obstruction: measured by the sum of the parts and their union.
func TestZones_noAreaTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := func(name string) float64 { return rapid.Float64Range(0.2, 8).Draw(t, name) }
		outline := geom.Polygon{Outer: []geom.Point{{}, {X: 9}, {X: 9, Y: 5}, {X: 5, Y: 5}, {X: 5, Y: 8}, {Y: 8}}}
		s := Space{Outline: outline, Ceiling: 3, Windows: []Window{southWindow(0.5, 0.5+side("width"), 2.4), {A: geom.Pt(0, 7.5), B: geom.Pt(0, 7.4-min(7, side("second"))), Sill: 1, Head: 2.1}},
			Rooflights: []Rooflight{{At: geom.Pt(side("x"), side("y")), Width: 1, Length: 1.5, Turn: rapid.Float64Range(0, 90).Draw(t, "turn")}}}
		s.Windows[0].B.X = min(9, s.Windows[0].B.X)
		rules := rulesOf(t, rapid.SampledFrom([]string{ashrae2013, ashrae2010, iecc2018, california, losAngeles}).Draw(t, "code"))
		free, err := rules.Zones(&s)
		require.NoError(t, err)
		s.Obstructions = []Obstruction{screen(side("x0"), side("y0"), side("x1"), side("y1"), 2)}
		z, err := rules.Zones(&s)
		require.NoError(t, err)
		var all []geom.Polygon
		sum := 0.0
		for _, zone := range []Zone{z.Primary, z.Secondary, z.Toplit} {
			all, sum = append(all, zone.Parts...), sum+float64(zone.Area)
		}
		union, err := geom.Union(append(all, outline)...)
		require.NoError(t, err)
		require.InDelta(t, outline.Area(), geom.TotalArea(union), 0.002, "within the room")
		once, err := geom.Union(all...)
		require.NoError(t, err)
		require.InDelta(t, sum, geom.TotalArea(once), 0.002, "no floor twice")
		before := free.Primary.Area + free.Secondary.Area + free.Toplit.Area
		require.LessOrEqual(t, sum, float64(before)+0.002)
		if lamp := (Luminaire{At: geom.Pt(side("lx"), side("ly")), Length: 1.2, Width: 0.6, Turn: rapid.Float64Range(0, 180).Draw(t, "lt")}); true {
			st := z.Stands(&lamp)
			require.LessOrEqual(t, st.Primary+st.Secondary+st.Toplit, 1+1e-4)
			require.False(t, math.IsNaN(st.Primary))
		}
	})
}

func TestZones_refused(t *testing.T) {
	_, err := rulesOf(t, ashrae2013).Zones(&Space{})
	assert.ErrorContains(t, err, "no sound outline")
	blind := hall()
	blind.Windows[0].Head = blind.Windows[0].Sill
	assert.InDelta(t, 12.96, float64(zonesOf(t, ashrae2013, &blind).Primary.Area), 1e-6)
	tall := Space{Outline: geom.Rectangle(0, 0, 12, 9), Ceiling: 2.4, Windows: []Window{southWindow(4, 7, 2.9)}} // glass below the ceiling only
	assert.InDelta(t, 12.96, float64(zonesOf(t, ashrae2013, &tall).Primary.Area), 1e-6)
	assert.InDelta(t, 3*1.5, float64(tall.Glazing()), 1e-9)
	assert.NotEmpty(t, ZoneCodes())
}
