package radio_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	. "scopewright/domain/radio"
	"scopewright/domain/units"
)

// placed gives a room with devices of types at places, by their IDs.
func placed(devices ...domain.Device) *domaintest.Builder {
	b := domaintest.Room()
	b.R.Design.Devices = append(b.R.Design.Devices, devices...)
	return b
}

func device(id domain.ID, typ string, x, y float64) domain.Device {
	at := geom.Pt(x, y)
	return domain.Device{ID: id, Tag: string(id), Type: typ, At: &at}
}

// A room looks only at the walls near its devices, and only at those that have
// devices on both sides: it must find what the field of the whole plan finds.
func TestRoom_findsWhatTheWholePlanFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := scattered(rapid.Uint64().Draw(t, "seed"), rapid.IntRange(1, 32).Draw(t, "devices"), rapid.IntRange(0, 80).Draw(t, "walls"))
		whole := b.R.Plan
		b.R.Plan = nil
		room := NewRoom(b.P, b.R.OnPlan(whole))
		if room == nil {
			return
		}
		places := make([]Place, len(room.Nodes))
		for i := range room.Nodes {
			places[i] = room.Nodes[i].Place
		}
		field := NewField(Obstacles(whole, room.Settings.Walls))
		prober := field.Prober()
		for _, pair := range field.Pairs(places, MeshMHz, 0, nil) {
			i, j := int(pair.A), int(pair.B)
			got := room.Loss(i, j)
			if !room.Nodes[i].Routes && !room.Nodes[j].Routes {
				if !math.IsNaN(got) {
					t.Fatalf("two devices that do not relay have a link")
				}
				continue
			}
			want := pair.Loss
			if room.Nodes[i].Above != room.Nodes[j].Above {
				want += 0.5
			}
			if math.Abs(got-want) > 1e-9 || got != room.Loss(j, i) {
				t.Fatalf("%d to %d: %g, by the whole plan %g", i, j, got, want)
			}
			why := room.Why(i, j)
			if math.Abs(why.Loss-want) > 1e-9 || math.Abs(why.Margin-room.Margin(i, j)) > 1e-9 {
				t.Fatalf("%d to %d: told as %g, is %g", i, j, why.Loss, want)
			}
			if crossed := prober.Crossed(places[i], places[j]); len(crossed) != len(why.Crossed) {
				t.Fatalf("%d to %d: tells %d walls, is %d", i, j, len(why.Crossed), len(crossed))
			}
		}
	})
}

// Which devices have a radio, where they hang, and what is assumed: heights of
// 9 ft less or more by the limits, radios of the generic book.
func TestNewRoom_nodes(t *testing.T) {
	b := placed(device("lc", "lc-4", 1, 1), device("ps", "ps-ceiling", 2, 1), device("st", "st-4-battery", 3, 1), device("wired", "ps-wired", 4, 1), device("gone", "no-such", 4, 2), domain.Device{ID: "rt", Type: "rt-plug"})
	b.P.Book.Find("st-4-battery").Sensitivity = 0
	r := NewRoom(b.P, b.R)
	require.Len(t, r.Nodes, 3)
	lc, ps, st := r.Nodes[0], r.Nodes[1], r.Nodes[2]
	assert.Equal(t, []bool{true, false, false}, []bool{lc.Routes, ps.Routes, st.Routes})
	assert.Equal(t, []bool{false, true, true}, []bool{lc.Battery, ps.Battery, st.Battery})
	assert.Equal(t, []bool{true, false, false}, []bool{lc.Above, ps.Above, st.Above}, "ceiling of 2.7 m")
	assert.InDelta(t, 2.7+0.3048, lc.Z, 1e-9)
	assert.InDelta(t, 1.2192, st.Z, 1e-9)
	assert.Equal(t, Radio{8, 0, -100}, lc.Radio)
	assert.Equal(t, Radio{0, 0, -95}, st.Radio, "the limits' assumed radio")
	assert.True(t, st.Assumed && !lc.Assumed)
	require.Len(t, r.Unplaced, 1)
	assert.False(t, r.Whole(), "a router is not on the plan")
	assert.Equal(t, 1, r.Find("ps"))
	assert.Equal(t, -1, r.Find("wired"))

	assert.Nil(t, NewRoom(b.P, placed(domain.Device{ID: "rt", Type: "rt-plug"}).R), "nothing stands on the plan")
	assert.Nil(t, NewRoom(b.P, placed(device("wired", "ps-wired", 4, 1)).R), "nothing with a radio does")
}

// The first worked link of the multi-wall model, computed apart: 0 dBm and
// -95 dBm at (1,1,2.7) and (9,7,1.1), 10.127 m, FreeSpace 60.34 dB, two walls of
// 2.3 dB: 30.06 dB. Its walls stand here as assumed ones of 2.3 dB, and neither
// end hangs above the ceiling.
func TestWhy_workedLink(t *testing.T) {
	a, c := device("a", "rt-plug", 1, 1), device("c", "ps-ceiling", 9, 7)
	a.Height, c.Height = 2.7, 1.1
	b := placed(a, c)
	for i := range b.P.Book {
		b.P.Book[i].Sensitivity = 0
	}
	for i := range b.P.Limits {
		if b.P.Limits[i].ID == domain.AssumedWallLoss {
			b.P.Limits[i].Value = 2.3
		}
	}
	b.R.Plan = &domain.Plan{Walls: []domain.Wall{wall("far", 7, 0, 7, 9, "?"), wall("near", 3, 0, 3, 9, "?"), wall("aside", 0, 8, 2, 8, "?")}}
	l := NewRoom(b.P, b.R).Why(0, 1)
	assert.InDelta(t, 10.127, float64(l.Distance), 0.0005)
	assert.InDelta(t, 60.34, l.FreeSpace, 0.0051)
	assert.InDelta(t, 4.6, l.Walls, 1e-9)
	assert.InDelta(t, 30.06, l.Margin, 0.0051)
	require.Len(t, l.Crossed, 2)
	assert.Equal(t, []domain.ID{"near", "far"}, []domain.ID{l.Crossed[0].Wall, l.Crossed[1].Wall})
	assert.InDelta(t, 3, l.Crossed[0].At.At.X, 1e-9)
	assert.InDelta(t, 2.5, l.Crossed[0].At.At.Y, 1e-9)
	assert.InDelta(t, 2.7-0.25*1.6, l.Crossed[0].At.Z, 1e-9)
	assert.Equal(t, 10.0, l.Needed)
	assert.False(t, l.ByProbability, "z(95 %) 5 dB is 8.22 dB, less than 10")
	assert.InDelta(t, Up(30.06, 5), l.Up, 1e-6)
	assert.Zero(t, l.Ceilings)
}

// z(95 %) is 1.6449: at a shadowing of 10 dB a link needs 16.45 dB, which is more
// than the margin of 10 dB; at 5.01 dB it needs 8.24, which is less.
func TestNeeded(t *testing.T) {
	s := SettingsOf(domaintest.Room().P)
	s.Sigma = 10
	db, by := s.Needed()
	assert.InDelta(t, 16.45, db, 0.0051)
	assert.True(t, by)
	s.Sigma = 5.01
	db, by = s.Needed()
	assert.Equal(t, 10.0, db)
	assert.False(t, by)
	assert.True(t, s.Holds(10) && s.Holds(10.01) && !s.Holds(9.99))
	s.Probability = 1
	db, by = s.Needed()
	assert.Equal(t, 10.0, db, "no margin makes it certain")
	assert.False(t, by)
}

// A device above the ceiling hears one below it through the ceiling, once, and
// another above it past the tiles.
func TestRoom_ceilings(t *testing.T) {
	b := placed(device("lc", "lc-4", 1, 1), device("rt", "rt-plug", 5, 1), device("ps", "ps-ceiling", 9, 1))
	r := NewRoom(b.P, b.R)
	assert.Equal(t, 1, r.Why(0, 2).Ceilings)
	assert.Equal(t, 0.5, r.Why(0, 2).Ceiling)
	assert.Zero(t, r.Why(0, 1).Ceilings)
	assert.InDelta(t, FreeSpace(4, MeshMHz), r.Loss(0, 1), 1e-9)
}

// ITU-R P.1238 beside a loss. At 20 m the older form gives 78.8 dB in an office,
// sigma 10; the row of P.1238-13 behind walls 70.56 dB, sigma 5.01, the row in
// sight 61.52 dB, sigma 3.76 (secondary sources).
func TestBandOf(t *testing.T) {
	for _, c := range []struct {
		loss       float64
		walls      bool
		old, newer bool
	}{{70.56 + 10.01, true, true, true}, {70.56 + 10.03, true, true, false}, {70.56 - 10.01, true, true, true}, {70.56 - 10.03, true, true, false},
		{78.81 + 19.98, true, true, false}, {78.81 + 20.02, true, false, false}, {61.52 + 7.51, false, true, true}, {61.52 + 7.53, false, true, false}} {
		b := BandOf(20, 0, c.walls, false, c.loss)
		assert.InDelta(t, 78.8, b.Old, 0.051)
		assert.Equal(t, c.old, b.OldHolds, "%+v", c)
		assert.Equal(t, c.newer, b.NewHolds, "%+v", c)
		assert.True(t, b.InRange)
		assert.Equal(t, c.old || c.newer, b.Plausible())
	}
	assert.Equal(t, "office, in sight", BandOf(20, 0, false, false, 60).Row)
	assert.Equal(t, "corridor, in sight", BandOf(100, 0, false, true, 60).Row)
	assert.True(t, BandOf(100, 0, false, true, 60).InRange)
	for _, c := range []struct {
		d     float64
		walls bool
		in    bool
	}{{3.99, true, false}, {4, true, true}, {30, true, true}, {30.01, true, false}, {27.01, false, false}} {
		assert.Equal(t, c.in, BandOf(units.Metres(c.d), 0, c.walls, false, 60).InRange, "%+v", c)
	}
	floor := BandOf(20, 1, true, false, 93.8)
	assert.InDelta(t, 93.8, floor.Old, 0.051)
	assert.False(t, floor.InRange, "the newer rows are for one storey")
	assert.True(t, floor.Plausible())
}

func BenchmarkRoom(b *testing.B) {
	for name, one := range map[string]*domaintest.Builder{"32 devices, 50 walls between them": scattered(1, 32, 50), "20 devices, 20 walls": scattered(2, 20, 20)} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				NewRoom(one.P, one.R)
			}
		})
	}
	one := scattered(1, 32, 50)
	r := NewRoom(one.P, one.R)
	b.Run("why", func(b *testing.B) {
		for b.Loop() {
			r.Why(3, 11)
		}
	})
}
