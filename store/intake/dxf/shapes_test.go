package dxf

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Areas here are by hand from the formulas of plane geometry; arcs are drawn as
// chords, at most 0.02 % smaller.
const arcShare = 2e-4

func TestOutlines_ofEveryKind(t *testing.T) {
	root2 := math.Sqrt2 / 2
	for name, c := range map[string]struct {
		draw func(s *sketch)
		area float64
	}{
		"light polyline": {func(s *sketch) { s.rectangle("R", 0, 0, 4, 3) }, 12},
		"bulge 1 is half a circle": {func(s *sketch) {
			s.add(0, "LWPOLYLINE", 8, "R", 90, 4, 70, 1, 10, 0, 20, 0, 42, 0, 10, 4, 20, 0, 42, 1, 10, 4, 20, 4, 10, 0, 20, 4)
		}, 16 + math.Pi*4/2},
		"negative bulge bites into it": {func(s *sketch) {
			s.add(0, "LWPOLYLINE", 8, "R", 90, 4, 70, 1, 10, 0, 20, 0, 10, 4, 20, 0, 42, -1, 10, 4, 20, 4, 10, 0, 20, 4)
		}, 16 - math.Pi*4/2},
		"two arcs make a circle": {func(s *sketch) {
			s.add(0, "LWPOLYLINE", 8, "R", 90, 2, 70, 1, 10, 0, 20, 0, 42, 1, 10, 6, 20, 0, 42, 1)
		}, math.Pi * 9},
		"heavy polyline": {func(s *sketch) {
			s.add(0, "POLYLINE", 8, "R", 66, 1, 70, 1)
			for _, p := range [][2]float64{{0, 0}, {5, 0}, {5, 2}, {0, 2}} {
				s.add(0, "VERTEX", 8, "R", 10, p[0], 20, p[1])
			}
			s.add(0, "SEQEND", 8, "R")
		}, 10},
		"polyline in space": {func(s *sketch) {
			s.add(0, "POLYLINE", 8, "R", 66, 1, 70, 9)
			for _, p := range [][2]float64{{0, 0}, {5, 0}, {5, 2}, {0, 2}} {
				s.add(0, "VERTEX", 8, "R", 10, p[0], 20, p[1], 30, 1, 70, 32)
			}
			s.add(0, "SEQEND", 8, "R")
		}, 10},
		"open polyline whose ends meet": {func(s *sketch) {
			s.add(0, "LWPOLYLINE", 8, "R", 90, 5, 70, 0, 10, 0, 20, 0, 10, 4, 20, 0, 10, 4, 20, 4, 10, 0, 20, 4, 10, 0, 20, 0)
		}, 16},
		"circle":  {func(s *sketch) { s.add(0, "CIRCLE", 8, "R", 10, 1, 20, 1, 40, 3) }, math.Pi * 9},
		"ellipse": {func(s *sketch) { s.add(0, "ELLIPSE", 8, "R", 10, 1, 20, 1, 11, 3, 21, 4, 40, 0.5) }, math.Pi * 5 * 2.5},
		"rational spline as a circle": {func(s *sketch) {
			// The nine-point circle of the textbooks, quadratic, weights 1 and
			// root two halves (from memory).
			g := []any{0, "SPLINE", 8, "R", 70, 5, 71, 2, 72, 12, 73, 9}
			for _, k := range []float64{0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4} {
				g = append(g, 40, k)
			}
			for i, p := range [][2]float64{{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}} {
				g = append(g, 10, 3*p[0], 20, 3*p[1], 41, []float64{1, root2}[i%2])
			}
			s.add(g...)
		}, math.Pi * 9},
		"hatch with a hole": {func(s *sketch) {
			s.add(0, "HATCH", 8, "R", 10, 0, 20, 0, 230, 1, 2, "SOLID", 70, 1, 71, 0, 91, 2,
				92, 3, 72, 0, 73, 1, 93, 4, 10, 0, 20, 0, 10, 10, 20, 0, 10, 10, 20, 10, 10, 0, 20, 10, 97, 0,
				92, 2, 72, 0, 73, 1, 93, 4, 10, 4, 20, 4, 10, 6, 20, 4, 10, 6, 20, 6, 10, 4, 20, 6, 97, 0,
				75, 0, 76, 1, 98, 1, 10, 5, 20, 5)
		}, 96},
		"hatch of edges with an arc": {func(s *sketch) {
			s.add(0, "HATCH", 8, "R", 10, 0, 20, 0, 230, 1, 2, "SOLID", 91, 1, 92, 1, 93, 4,
				72, 1, 10, 0, 20, 0, 11, 4, 21, 0,
				72, 2, 10, 4, 20, 2, 40, 2, 50, -90, 51, 90, 73, 1,
				72, 1, 10, 4, 20, 4, 11, 0, 21, 4,
				72, 1, 10, 0, 20, 4, 11, 0, 21, 0, 97, 0, 75, 0)
		}, 16 + math.Pi*4/2},
		"mirrored by its plane": {func(s *sketch) {
			s.add(0, "LWPOLYLINE", 8, "R", 90, 4, 70, 1, 210, 0, 220, 0, 230, -1, 10, 0, 20, 0, 10, 4, 20, 0, 42, 1, 10, 4, 20, 4, 10, 0, 20, 4)
		}, 16 + math.Pi*4/2},
	} {
		t.Run(name, func(t *testing.T) {
			s := newSketch("AC1015", 6)
			c.draw(s)
			got := rooms(t, s)
			require.Len(t, got, 1)
			share := arcShare
			if name == "rational spline as a circle" {
				share = 1e-3
			}
			assert.InEpsilon(t, c.area, float64(got[0].Area), share)
		})
	}
}

func TestOutlines_mirroredPlaneTurnsXRound(t *testing.T) {
	s := newSketch("AC1015", 6)
	s.add(0, "LWPOLYLINE", 8, "R", 90, 4, 70, 1, 210, 0, 220, 0, 230, -1, 10, 1, 20, 0, 10, 5, 20, 0, 10, 5, 20, 4, 10, 1, 20, 4)
	b := rooms(t, s)[0].Outline.Bounds()
	assert.InDelta(t, -5, b.Min.X, 1e-9)
	assert.InDelta(t, -1, b.Max.X, 1e-9)
}

func TestExtruded_isPerpendicularForAnyNormal(t *testing.T) {
	// Seen straight on, a plane keeps areas; seen slanted, it shrinks them by
	// the cosine of the slant, which is the normal's z.
	rapid.Check(t, func(t *rapid.T) {
		lon, lat := rapid.Float64Range(-3, 3).Draw(t, "lon"), rapid.Float64Range(-1.5, 1.5).Draw(t, "lat")
		nx, ny, nz := math.Cos(lat)*math.Cos(lon), math.Cos(lat)*math.Sin(lon), math.Sin(lat)
		m := extruded(nx, ny, nz)
		if got := m.a*m.d - m.b*m.c; math.Abs(got-nz) > 1e-9 {
			t.Fatalf("area factor %g, normal's z %g", got, nz)
		}
	})
}

func TestInsert_placesScaledTurnedCopies(t *testing.T) {
	s := newSketch("AC1015", 6)
	// A block drawn on layer 0 takes the layer of its insertion.
	s.block("ROOM", 0, "LWPOLYLINE", 8, "0", 90, 4, 70, 1, 10, 0, 20, 0, 10, 2, 20, 0, 10, 2, 20, 1, 10, 0, 20, 1)
	s.add(0, "INSERT", 8, "R", 2, "room", 10, 10, 20, 0, 41, 2, 42, 3, 50, 90, 70, 3, 71, 2, 44, 5, 45, 8)
	got := rooms(t, s)
	require.Len(t, got, 6)
	for _, r := range got {
		assert.InDelta(t, 2*1*2*3, float64(r.Area), 1e-9)
	}
	// Turned by 90 degrees, columns go up and rows go left.
	b := got[0].Outline.Bounds()
	assert.InDelta(t, 7, b.Min.X, 1e-9)
	assert.InDelta(t, 4, b.Max.Y, 1e-9)
	last := got[5].Outline.Bounds()
	assert.InDelta(t, 7-8, last.Min.X, 1e-9)
	assert.InDelta(t, 4+2*5, last.Max.Y, 1e-9)
	keys := map[string]bool{}
	for _, r := range got {
		keys[r.Key] = true
	}
	assert.Len(t, keys, 6, "keys are unique")
}

func TestInsert_nestedMirroredKeepsArcs(t *testing.T) {
	s := newSketch("AC1015", 6)
	s.block("INNER", 0, "CIRCLE", 8, "0", 10, 0, 20, 0, 40, 1)
	s.block("OUTER", 0, "INSERT", 8, "0", 2, "INNER", 10, 5, 20, 0, 41, 2, 42, 1)
	s.add(0, "INSERT", 8, "R", 2, "OUTER", 10, 0, 20, 0, 41, -1)
	got := rooms(t, s)
	require.Len(t, got, 1)
	assert.InEpsilon(t, math.Pi*2, float64(got[0].Area), arcShare)
	assert.InDelta(t, -5, got[0].Outline.Bounds().Center().X, 1e-9)
}

func TestHidden_isReadOnlyWhenChosen(t *testing.T) {
	s := newSketch("AC1015", 6).layer("A-AREA", -7, 0).layer("A-ROOM", 7, 1).layer("A-SPACE", 7, 0)
	s.rectangle("A-AREA", 0, 0, 4, 4).rectangle("A-ROOM", 10, 0, 4, 4).rectangle("A-SPACE", 20, 0, 4, 4)
	s.add(0, "LWPOLYLINE", 8, "A-SPACE", 67, 1, 90, 4, 70, 1, 10, 40, 20, 0, 10, 44, 20, 0, 10, 44, 20, 4, 10, 40, 20, 4)
	s.add(0, "LWPOLYLINE", 8, "A-SPACE", 60, 1, 90, 4, 70, 1, 10, 50, 20, 0, 10, 54, 20, 0, 10, 54, 20, 4, 10, 50, 20, 4)
	c, err := Survey(context.Background(), s.bytes(), nil)
	require.NoError(t, err)
	assert.Equal(t, []string{"A-SPACE"}, c.Suggested().RoomLayers)
	assert.Len(t, read(t, s.bytes(), c.Suggested()).Storeys[0].Spaces, 1, "paper space and invisible ones are left out")
	assert.Len(t, read(t, s.bytes(), Options{RoomLayers: []string{"a-area", "A-ROOM"}}).Storeys[0].Spaces, 2)
	assert.InDelta(t, 20, c.Min.X, 1e-9, "extents are of what is shown")
}

func TestOutlines_drawnTwiceComeOnce(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4).rectangle("R", 4, 0, 4, 4)
	s.outline("R", 4, 4, 0, 4, 0, 0, 4, 0) // the first one, from another corner
	m := read(t, s.bytes(), inR)
	assert.Len(t, m.Storeys[0].Spaces, 2)
	assert.Contains(t, messages(m), "1 outline was taken only once")
}

func TestOutlines_inEachOtherAreTold(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 10, 2).rectangle("R", 1, 0.5, 1.9, 1)
	s.rectangle("R", 9, 1, 3, 4)
	s.text("T", 4, 1, 0.2, "CORRIDOR").text("T", 1.2, 1, 0.2, "CLOSET").text("T", 10, 3, 0.2, "STORE")
	m := read(t, s.bytes(), inR)
	assert.Contains(t, messages(m), "'CLOSET' lies inside 'CORRIDOR' (1.9 m2).")
	assert.Contains(t, messages(m), "overlap by 1.0 m2.")
}

func TestOutlines_theStoreysOwnIsUnassigned(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 12, 4)
	for i := range 3 {
		s.rectangle("R", float64(i)*4+0.1, 0.1, 3.8, 3.8)
	}
	m := read(t, s.bytes(), inR)
	require.Len(t, m.Storeys[0].Spaces, 4)
	assert.True(t, m.Storeys[0].Spaces[0].Unassigned)
	assert.False(t, m.Storeys[0].Spaces[1].Unassigned)
	assert.Contains(t, messages(m), "holds 3 of the other rooms")
}

func TestOutlines_crossingItselfIsRepairedAndTold(t *testing.T) {
	// A bow tie: triangles of 4 and 1 m2 meeting at (4, 2).
	s := newSketch("AC1015", 6).outline("R", 0, 0, 6, 3, 6, 1, 0, 4)
	m := read(t, s.bytes(), inR)
	require.Len(t, m.Storeys[0].Spaces, 1)
	// Lines y = x/2 and y = 4 - x/2 meet at (4, 2): left part 4*4/2 = 8 m2.
	assert.InDelta(t, 8, float64(m.Storeys[0].Spaces[0].Area), 0.01)
	assert.Contains(t, messages(m), "crosses itself near (4.00, 2.00) m. Its largest part (8.0 m2)")
}

func TestWalls_fromLinesPolylinesAndArcs(t *testing.T) {
	s := newSketch("AC1015", 6)
	s.add(0, "LINE", 8, "W", 10, 0, 20, 0, 11, 5, 21, 0)
	s.add(0, "LINE", 8, "W", 10, 5, 20, 0, 11, 0, 21, 0) // again, turned round
	s.add(0, "LINE", 8, "W", 10, 5, 20, 0, 11, 5, 21, 0) // no length
	s.add(0, "ARC", 8, "W", 10, 0, 20, 0, 40, 2, 50, 0, 51, 90)
	s.rectangle("W", 10, 10, 2, 3)
	m := read(t, s.bytes(), Options{WallLayers: []string{"W"}, Storey: "Level 1", Level: 3})
	length := 0.0
	for _, w := range m.Storeys[0].Walls {
		length += w.A.Distance(w.B)
	}
	assert.InEpsilon(t, 5+10+math.Pi, length, 1e-3)
	assert.Equal(t, "Level 1", m.Storeys[0].Name)
	assert.Contains(t, messages(m), "1 wall line was left out for having no length.")
	assert.Contains(t, messages(m), "1 wall line was taken only once")
}

func TestEnclose_findsRoomsBetweenDoubleWalls(t *testing.T) {
	// Two rooms of 4 x 3 m side by side, walls 0.2 m thick drawn as two lines.
	s := newSketch("AC1015", 6)
	s.rectangle("W", 0, 0, 8.6, 3.4).rectangle("W", 0.2, 0.2, 4, 3).rectangle("W", 4.4, 0.2, 4, 3)
	s.text("T", 2, 1, 0.2, "101").text("T", 6, 1, 0.2, "102")
	m := read(t, s.bytes(), Options{WallLayers: []string{"W"}, Enclose: 0.01})
	spaces := m.Storeys[0].Spaces
	require.Len(t, spaces, 2)
	assert.InDelta(t, 12, float64(spaces[0].Area), 0.001)
	assert.Equal(t, FromWalls, spaces[0].OutlineFrom)
	assert.ElementsMatch(t, []string{"101", "102"}, []string{spaces[0].Number, spaces[1].Number})
}

func TestBinary_saysTheSameAsText(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := newSketch("AC1015", 6).layer("R", 7, 0)
		n := rapid.IntRange(1, 5).Draw(rt, "rooms")
		side := rapid.Float64Range(1, 20)
		for i := range n {
			s.rectangle("R", float64(i)*25, 0, side.Draw(rt, "w"), side.Draw(rt, "h"))
			s.text("T", float64(i)*25+0.5, 0.5, 0.1, rapid.StringMatching(`[A-Z]{3,9}`).Draw(rt, "name"))
		}
		want := read(t, s.bytes(), inR)
		for _, short := range []bool{true, false} {
			got := read(t, s.binary(short), inR)
			if len(got.Storeys[0].Spaces) != n {
				rt.Fatalf("%d rooms", len(got.Storeys[0].Spaces))
			}
			for i, r := range got.Storeys[0].Spaces {
				w := want.Storeys[0].Spaces[i]
				if r.Name != w.Name || r.Area != w.Area {
					rt.Fatalf("%s %g, in text %s %g", r.Name, r.Area, w.Name, w.Area)
				}
			}
		}
	})
}

func TestInsert_areaGrowsWithTheProductOfItsScales(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sx, sy := rapid.Float64Range(0.5, 4).Draw(rt, "sx"), rapid.Float64Range(0.5, 4).Draw(rt, "sy")
		if rapid.Bool().Draw(rt, "mirror") {
			sx = -sx
		}
		turn := rapid.Float64Range(0, 360).Draw(rt, "turn")
		s := newSketch("AC1015", 6)
		s.block("B", 0, "LWPOLYLINE", 8, "0", 90, 4, 70, 1, 10, 1, 20, 1, 10, 4, 20, 1, 42, 0.5, 10, 4, 20, 3, 10, 1, 20, 3)
		s.rectangle("R", 500, 0, 3, 3)
		s.add(0, "INSERT", 8, "R", 2, "B", 10, 30, 20, 40, 41, sx, 42, sy, 50, turn)
		got := rooms(t, s)
		// Bulge 0.5 over a chord of 2: sagitta 0.5, radius 1.25, angle 4 atan 0.5;
		// segment r^2 (angle - sin angle) / 2.
		angle := 4 * math.Atan(0.5)
		want := (6 + 1.25*1.25*(angle-math.Sin(angle))/2) * math.Abs(sx*sy)
		if got := float64(got[1].Area); math.Abs(got-want) > arcShare*want {
			rt.Fatalf("area %g, want %g", got, want)
		}
	})
}

func TestPairWalls_facesBecomeOneWallWithThickness(t *testing.T) {
	// A room of 4 x 3 m inside, walls drawn with two lines: each wall is as
	// long as its inner face, whatever the thickness and turn.
	rapid.Check(t, func(rt *rapid.T) {
		thick := rapid.Float64Range(0.06, 0.45).Draw(rt, "thickness")
		turn := rapid.Float64Range(0, 180).Draw(rt, "turn")
		s := newSketch("AC1015", 6)
		s.block("ROOM",
			0, "LWPOLYLINE", 8, "0", 90, 4, 70, 1, 10, 0, 20, 0, 10, 4, 20, 0, 10, 4, 20, 3, 10, 0, 20, 3,
			0, "LWPOLYLINE", 8, "0", 90, 4, 70, 1, 10, -thick, 20, -thick, 10, 4+thick, 20, -thick, 10, 4+thick, 20, 3+thick, 10, -thick, 20, 3+thick)
		s.add(0, "INSERT", 8, "W", 2, "ROOM", 10, 100, 20, 50, 50, turn)
		m := read(t, s.bytes(), Options{WallLayers: []string{"W"}, PairWalls: true})
		walls := m.Storeys[0].Walls
		if len(walls) != 4 {
			rt.Fatalf("%d walls", len(walls))
		}
		length := 0.0
		for _, w := range walls {
			if math.Abs(float64(w.Thickness)-thick) > 1e-6 {
				rt.Fatalf("thickness %g, want %g", w.Thickness, thick)
			}
			length += w.A.Distance(w.B)
		}
		if math.Abs(length-14) > 1e-6 {
			rt.Fatalf("length %g", length)
		}
	})
}

func TestPairWalls_keepsWhatFacesNothing(t *testing.T) {
	s := newSketch("AC1015", 6)
	s.add(0, "LINE", 8, "W", 10, 0, 20, 0, 11, 10, 21, 0)
	s.add(0, "LINE", 8, "W", 10, 2, 20, 0.15, 11, 6, 21, 0.15)
	s.add(0, "LINE", 8, "W", 10, 0, 20, 5, 11, 10, 21, 5)
	s.add(0, "LINE", 8, "W", 10, 2, 20, 0, 11, 2, 21, 0.15) // a wall's end
	walls := read(t, s.bytes(), Options{WallLayers: []string{"W"}, PairWalls: true}).Storeys[0].Walls
	paired, single := 0.0, 0.0
	for _, w := range walls {
		if w.Thickness > 0 {
			paired += w.A.Distance(w.B)
			assert.InDelta(t, 0.15, float64(w.Thickness), 1e-9)
			assert.InDelta(t, 0.075, w.A.Y, 1e-9)
		} else {
			single += w.A.Distance(w.B)
		}
	}
	assert.InDelta(t, 4, paired, 1e-9)
	assert.InDelta(t, 2+4+10, single, 1e-9)
}
