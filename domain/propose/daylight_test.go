package propose_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/domain/units"
)

// daylitRoom gives a room with a window in the middle of its north wall and rows of
// luminaires of three loads, the first nearest to the glass.
func daylitRoom(w, h, glass float64, columns, rows int) *domaintest.Builder {
	b := domaintest.Room().Load("l1", "a", columns).Load("l2", "a", columns).Load("l3", "a", columns).Device("lc", "lc-4").Device("ds", "ds-open")
	r := b.R.Room
	r.Area, r.Outline = units.SquareMetres(w*h), geom.Rectangle(0, 0, w, h)
	corners := r.Outline.Outer
	b.R.Plan = &domain.Plan{ID: "s1"}
	for i, a := range corners {
		b.R.Plan.Walls = append(b.R.Plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", i)), Seq: i + 1, A: a, B: corners[(i+1)%4], Kind: domain.FullWall})
	}
	b.R.Plan.Walls[2].Openings = []domain.Opening{{ID: "g", Seq: 1, Kind: domain.Window, At: units.Metres((w - glass) / 2), Width: units.Metres(glass), Sill: 0.9, Head: 2.4}}
	for j := range rows {
		for i := range columns {
			at := geom.Pt(w*(float64(i)+0.5)/float64(columns), h-h*(float64(j)+0.5)/float64(rows))
			r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("f", i, "-", j)), Load: domain.ID(fmt.Sprint("l", min(3, j+1))), At: at})
		}
	}
	b.Link("ds", 0, "", "l1", "ACT")
	return b
}

// A window of 3 m in an empty room of 8 by 6 m: the sensor hangs 6 ft from its middle
// and faces it (common practice, no published source).
func TestPlace_openLoopInAnEmptyRoom(t *testing.T) {
	b := daylitRoom(8, 6, 3, 1, 0)
	room, ok := propose.NewDaylightRoom(b.P, b.R)
	require.True(t, ok)
	spot, ok := room.Place(daylight.Sensor{Height: 2.7, Loop: domain.OpenLoop}, nil)
	require.True(t, ok)
	assert.InDelta(t, 4, spot.At.X, 1e-3)
	assert.InDelta(t, 6-1.8288, spot.At.Y, 1e-3)
	assert.InDelta(t, 90, spot.Turn, 1e-9)
	assert.InDelta(t, 1.8288, float64(spot.Off), 1e-9)
}

// The facade that lights the loads counts, not the one with more glass.
func TestPlace_atTheFacadeOfItsLoads(t *testing.T) {
	b := daylitRoom(10, 8, 8, 4, 3)
	b.R.Plan.Walls[1].Openings = []domain.Opening{{ID: "e", Seq: 1, Kind: domain.Window, At: 0.5, Width: 2, Sill: 0.9, Head: 2.4}}
	for i := range b.R.Room.Fixtures {
		if f := &b.R.Room.Fixtures[i]; f.Load == "l1" {
			f.At = geom.Pt(9, 0.6+0.5*float64(i))
		}
	}
	room, _ := propose.NewDaylightRoom(b.P, b.R)
	spot, ok := room.Place(daylight.Sensor{Height: 2.7, Loop: domain.OpenLoop}, []domain.ID{"l1"})
	require.True(t, ok)
	assert.EqualValues(t, "e", room.Space.Windows[spot.Window].ID)
	assert.InDelta(t, 360, spot.Turn, 1e-9, "east")
	spot, ok = room.Place(daylight.Sensor{Height: 2.7, Loop: domain.OpenLoop}, []domain.ID{"l2"})
	require.True(t, ok)
	assert.EqualValues(t, "g", room.Space.Windows[spot.Window].ID)
}

// Whatever the room, a place that is proposed keeps the numbers by themselves: its
// distance from the glass, no luminaire within 30 degrees, glass out of the view by
// similar triangles, and the zone and a seat within reach.
func TestPlace_keepsTheNumbers(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.Float64Range(2.5, 14).Draw(t, "w"), rapid.Float64Range(2.5, 14).Draw(t, "h")
		b := daylitRoom(w, h, w*rapid.Float64Range(0.2, 1).Draw(t, "glass"), rapid.IntRange(1, 6).Draw(t, "columns"), rapid.IntRange(1, 4).Draw(t, "rows"))
		for range rapid.IntRange(0, 3).Draw(t, "seats") {
			b.R.Sitting = append(b.R.Sitting, domain.Seat{ID: "s", At: geom.Pt(rapid.Float64Range(0, w).Draw(t, "x"), rapid.Float64Range(0, h).Draw(t, "y"))})
		}
		s := daylight.Sensor{Height: 2.7, Loop: rapid.SampledFrom([]domain.LoopKind{domain.OpenLoop, domain.ClosedLoop}).Draw(t, "loop"), View: rapid.SampledFrom([]float64{0, 30, 90}).Draw(t, "view")}
		room, ok := propose.NewDaylightRoom(b.P, b.R)
		require.True(t, ok)
		spot, ok := room.Place(s, []domain.ID{"l1"})
		if !ok {
			return
		}
		found++
		require.True(t, b.R.Outline.Contains(spot.At))
		window := room.Space.Windows[0]
		far := geom.Segment{A: window.A, B: window.B}.Distance(spot.At)
		if s.Loop == domain.OpenLoop {
			keepsOpen(t, b, &s, &spot, far)
			return
		}
		half := s.View / 2
		if half == 0 {
			half = 30
		}
		require.Greater(t, far, (2.7-0.9)*math.Tan(half*math.Pi/180)-0.002, "glass in view")
		near := math.Inf(1)
		for _, seat := range b.R.Sitting {
			near = min(near, seat.At.Distance(spot.At))
		}
		require.True(t, len(b.R.Sitting) == 0 || near <= 1.5241, "%g m from a seat", near)
		row := h - h*0.5/float64(max(1, rowsOf(b)))
		require.LessOrEqual(t, math.Abs(spot.At.Y-row), 1.5241, "from its row")
	})
	assert.Greater(t, found, 20)
}

func rowsOf(b *domaintest.Builder) int {
	var ys []float64
	for _, f := range b.R.Fixtures {
		if !slices.Contains(ys, f.At.Y) {
			ys = append(ys, f.At.Y)
		}
	}
	return len(ys)
}

func keepsOpen(t *rapid.T, b *domaintest.Builder, s *daylight.Sensor, spot *propose.DaylightSpot, far float64) {
	require.GreaterOrEqual(t, far, 1.2192-0.001)
	require.LessOrEqual(t, far, 2.4384+0.001)
	require.InDelta(t, 90, spot.Turn, 1e-9)
	half := s.View / 2
	if half == 0 {
		half = 30
	}
	for _, f := range b.R.Fixtures {
		to := f.At.Sub(spot.At)
		aside := math.Abs(math.Atan2(to.X, to.Y)) * 180 / math.Pi
		require.False(t, to.Y > 0 && math.Hypot(to.X, to.Y) < far-0.01 && aside < half-0.1, "luminaire %v aside %g", f.At, aside)
		require.Greater(t, math.Hypot(to.X, to.Y), 0.34, "on a luminaire")
	}
}

func TestHangDaylight(t *testing.T) {
	b := daylitRoom(8, 6, 6, 4, 3)
	at := geom.Pt(1, 1)
	b.R.Design.Device("ds").At = &at
	plan := b.R.Plan
	b.Do(propose.HangDaylight{Room: b.R, Device: "ds"})
	b.R.Plan = plan
	d := b.R.Design.Device("ds")
	assert.InDelta(t, 6-1.8288, d.At.Y, 1e-3)
	assert.InDelta(t, 90, d.Turn, 1e-9)
	assert.NotEqual(t, at, *d.At)
	kept := *d.At
	d.Turn = 200
	b.Do(propose.HangDaylight{Room: b.R, Device: "ds"})
	b.R.Plan = plan
	assert.Equal(t, kept, *b.R.Design.Device("ds").At, "turned where it hangs")
	assert.InDelta(t, 90, b.R.Design.Device("ds").Turn, 1e-9)
	_, err := propose.HangDaylight{Room: b.R, Device: "gone"}.Apply(edit.OfRoom(b.P, b.R))
	assert.ErrorContains(t, err, "reload")
	b.R.Plan = nil
	_, err = propose.HangDaylight{Room: b.R, Device: "ds"}.Apply(edit.OfRoom(b.P, b.R))
	assert.ErrorContains(t, err, "shows no window")
}

func BenchmarkPlace(b *testing.B) {
	r := daylitRoom(12, 9, 10, 6, 4)
	room, _ := propose.NewDaylightRoom(r.P, r.R)
	for b.Loop() {
		if _, ok := room.Place(daylight.Sensor{Height: 2.7, Loop: domain.OpenLoop}, []domain.ID{"l1"}); !ok {
			b.Fatal("no place")
		}
	}
}
