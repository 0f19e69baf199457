package radio_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	. "scopewright/domain/radio"
)

var types = []string{"rt-plug", "lc-4", "st-4-mains", "gw-room", "ps-ceiling", "st-2-battery", "ps-wired"}

// scattered gives a room of devices at random places among random walls.
func scattered(seed uint64, devices, walls int) *domaintest.Builder {
	r := rand.New(rand.NewPCG(seed, 7))
	b := domaintest.Room()
	b.R.Outline = geom.Rectangle(0, 0, 20, 15)
	plan := &domain.Plan{ID: "s1"}
	for i := range walls {
		a := geom.Pt(r.Float64()*30-5, r.Float64()*25-5)
		w := domain.Wall{ID: domain.ID(fmt.Sprint("w", i)), Seq: i + 1, A: a, B: a.Add(geom.Pt(r.Float64()*8-4, r.Float64()*8-4)), Kind: domain.FullWall, Material: domain.StudWall}
		switch r.IntN(4) {
		case 0:
			w.Kind, w.Height = domain.Partition, 1.65
		case 1:
			w.Openings = []domain.Opening{{ID: "o1", Kind: domain.Door, At: 0.5, Width: 0.9, Head: 2.1}, {ID: "o2", Kind: domain.Window, At: 2, Width: 1, Sill: 0.9, Head: 2.1}}
		case 2:
			w.Material, w.B = domain.Concrete100, geom.Pt(w.B.X, a.Y)
		}
		plan.Walls = append(plan.Walls, w)
	}
	for i := range devices {
		at := geom.Pt(r.Float64()*20, r.Float64()*15)
		b.R.Design.Devices = append(b.R.Design.Devices, domain.Device{ID: domain.ID(fmt.Sprint("d", i)), Seq: i + 1, Tag: fmt.Sprint("D-", i), Type: types[r.IntN(len(types))], At: &at})
	}
	b.R.Plan = plan
	return b
}

// The map must say of each cell what a link to a device in its middle says.
func TestCoverage_isThatOfSingleLinks(t *testing.T) {
	for seed := range uint64(30) {
		b := scattered(seed, 10, 25)
		room := NewRoom(b.P, b.R)
		m := room.Coverage(b.P, 0.5, nil)
		require.Equal(t, 40*30, len(m.Best))
		prober := NewField(Obstacles(b.R.Plan, room.Settings.Walls)).Prober()
		for row := range m.Rows {
			for column := range m.Columns {
				at := Place{At: geom.Pt(m.X(column), m.Y(row)), Z: m.Z}
				best, reached := math.Inf(-1), 0
				for _, s := range m.Sources {
					margin := Margin(s.Radio, m.Child, FreeSpace(s.Distance(at), MeshMHz)+prober.Loss(s.Place, at)+s.Ceiling)
					best = math.Max(best, margin)
					if margin >= m.Needed {
						reached++
					}
				}
				cell := row*m.Columns + column
				if len(m.Sources) == 0 {
					require.EqualValues(t, -1, m.By[cell])
					continue
				}
				require.InDelta(t, best, float64(m.Best[cell]), 1e-4, "seed %d, cell %d,%d", seed, column, row)
				require.EqualValues(t, reached, m.Reached[cell])
			}
		}
	}
}

// Moving a device makes its layer anew, and nothing else may differ from a map
// that is made from nothing.
func TestCoverage_takesUpAnEarlierMap(t *testing.T) {
	b := scattered(3, 12, 25)
	before := NewRoom(b.P, b.R).Coverage(b.P, 0.5, nil)
	for i := range b.R.Design.Devices {
		d := &b.R.Design.Devices[i]
		at := geom.Pt(d.At.X*0.9+1, d.At.Y*0.9+1)
		d.At = &at
		room := NewRoom(b.P, b.R)
		fresh, again := room.Coverage(b.P, 0.5, nil), room.Coverage(b.P, 0.5, before)
		require.Equal(t, fresh.Best, again.Best)
		require.Equal(t, fresh.Reached, again.Reached)
		before = again
	}
	b.R.Plan = &domain.Plan{ID: "s1"}
	room := NewRoom(b.P, b.R)
	assert.Equal(t, room.Coverage(b.P, 0.5, nil).Best, room.Coverage(b.P, 0.5, before).Best, "other walls, other map")
}

// In the open the margin is that of free space: +8 dBm to a device of 0 dBm and
// -97 dBm, which is heard at -100 dBm: 100 - 40.23 - 20 lg d. At 10 m that is
// 39.77 dB, less the ceiling's 0.5 dB.
func TestCoverage_inTheOpen(t *testing.T) {
	b := domaintest.Room()
	b.R.Outline = geom.Rectangle(0, 0, 10.5, 1)
	b.Device("lc", "lc-1").Device("ps", "ps-ceiling")
	router, sensor := geom.Pt(0.5, 0.5), geom.Pt(5, 0.5)
	b.R.Design.Device("lc").At, b.R.Design.Device("ps").At = &router, &sensor
	b.R.Design.Device("lc").Height = 2.8
	m := NewRoom(b.P, b.R).Coverage(b.P, 1, nil)
	require.Equal(t, []int{11, 1}, []int{m.Columns, m.Rows})
	assert.Equal(t, Radio{0, 0, -97}, m.Child)
	d := math.Hypot(10, 2.8-1.2192)
	assert.InDelta(t, 100-40.23-20*math.Log10(d)-0.5, float64(m.Best[10]), 0.01)
	assert.Equal(t, 1.0, m.Share(1))
	assert.Equal(t, 0.0, m.Share(2))
}

func BenchmarkCoverage(b *testing.B) {
	one := scattered(1, 32, 50)
	room := NewRoom(one.P, one.R)
	b.Run("room of 32 devices, 50 walls, 0.5 m", func(b *testing.B) {
		for b.Loop() {
			room.Coverage(one.P, 0.5, nil)
		}
	})
	m := room.Coverage(one.P, 0.5, nil)
	moved := one.R.Design.Clone()
	for i := range moved.Devices {
		if moved.Devices[i].Type == "rt-plug" {
			moved.Devices[i].At.X += 0.3
			break
		}
	}
	r := *one.R
	r.Design = moved
	after := NewRoom(one.P, &r)
	b.Run("one router moved", func(b *testing.B) {
		for b.Loop() {
			after.Coverage(one.P, 0.5, m)
		}
	})
}

// BenchmarkSurvey maps a storey of 90 by 60 m with 2,000 walls.
func BenchmarkSurvey(b *testing.B) {
	obstacles, places := storey(2000, 40)
	s := Survey{Box: geom.Box{Max: geom.Pt(90, 60)}, Step: 0.5, Z: 1.2, Plan: &domain.Plan{}, Child: Radio{Sensitivity: -97}, Settings: SettingsOf(domaintest.Room().P)}
	for i, o := range obstacles {
		s.Plan.Walls = append(s.Plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint(i)), A: o.A, B: o.B, Kind: domain.FullWall, Material: domain.StudWall})
	}
	for i := range places {
		s.Sources = append(s.Sources, Source{ID: domain.ID(fmt.Sprint(i)), Place: places[i], Radio: Radio{8, 0, -100}})
	}
	before := s.Map(nil)
	s.Sources = append([]Source{}, s.Sources...)
	b.Run("one of 40 routers moved", func(b *testing.B) {
		for b.Loop() {
			s.Sources[7].At.X += 0.01
			before = s.Map(before)
		}
	})
}
