package propose_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
)

// drawFloor draws a room of some shape with up to 24 devices anywhere in it,
// some without a place, some wired to each other, linked at random.
func drawFloor(t *rapid.T) *floor {
	f := newFloor(0, 0)
	f.R.Outline = rapid.SampledFrom([]geom.Polygon{
		geom.Rectangle(0, 0, 30, 20),
		geom.Rectangle(0, 0, 30, 20).Rotate(geom.Pt(0, 0), 0.3),
		{Outer: points(0, 0, 30, 0, 30, 8, 11, 8, 11, 20, 0, 20)},
		{Outer: points(0, 0, 30, 0, 30, 20, 20, 20, 20, 7, 9, 7, 9, 20, 0, 20)},
		{Outer: points(0, 0, 30, 0, 30, 20, 0, 20), Holes: [][]geom.Point{points(10, 6, 10, 14, 20, 14, 20, 6)}},
	}).Draw(t, "shape")
	box := f.R.Outline.Bounds()
	spot := func() geom.Point {
		return geom.Pt(rapid.Float64Range(box.Min.X, box.Max.X).Draw(t, "x"), rapid.Float64Range(box.Min.Y, box.Max.Y).Draw(t, "y"))
	}
	d := &f.R.Design
	kinds := []string{"lc-2", "lc-2", "ps-ceiling", "st-4-mains", "st-2-battery", "ds-open", "rt-plug", "gw-room", "cn-2", "ps-wired"}
	for n := range rapid.IntRange(1, 24).Draw(t, "devices") {
		kind, id := rapid.SampledFrom(kinds).Draw(t, "kind"), domain.ID(fmt.Sprint("d", n))
		f.put(id, kind, spot())
		dev := d.Device(id)
		if rapid.IntRange(0, 4).Draw(t, "unplaced") == 0 {
			dev.At = nil
		}
		switch kind {
		case "lc-2":
			load := domain.ID(fmt.Sprint("l", n))
			d.Loads = append(d.Loads, domain.Load{ID: load, Tag: string(load), Kind: domain.Lighting, Controller: id, Output: 1})
			f.R.Fixtures = append(f.R.Fixtures, domain.Fixture{ID: load + "-f", Load: load, At: spot()})
			if rapid.Bool().Draw(t, "two loads") {
				second := load + "b"
				d.Loads = append(d.Loads, domain.Load{ID: second, Tag: string(second), Kind: domain.Lighting, Controller: id, Output: 2})
				f.R.Fixtures = append(f.R.Fixtures, domain.Fixture{ID: second + "-f", Load: second, At: spot()})
			}
		case "ps-wired":
			if i := slices.IndexFunc(d.Devices, func(o domain.Device) bool { return o.Type == "cn-2" }); i >= 0 {
				dev.FedBy = d.Devices[i].ID
			}
		case "ps-ceiling":
			if rapid.Bool().Draw(t, "says what it hears") {
				dev.Hears = []domain.ID{d.Devices[rapid.IntRange(0, len(d.Devices)-1).Draw(t, "hears")].ID, "gone"}
			}
		}
		for _, l := range d.Loads {
			if rapid.IntRange(0, 3).Draw(t, "linked") == 0 && kind != "lc-2" {
				f.act(id, l.ID)
			}
		}
	}
	small := func(id domain.LimitID, least, most int) domain.Limit {
		return domain.Limit{ID: id, Value: float64(rapid.IntRange(least, most).Draw(t, string(id))), Source: "test"}
	}
	f.P.Limits = domain.Limits{small(domain.DevicesPerRoom, 3, 12), small(domain.PresencePerRoom, 1, 4), small(domain.BatteryStations, 1, 3),
		small(domain.DaylightPerRoom, 1, 2), small(domain.GatewaysPerRoom, 1, 2), small(domain.ChildrenPerRouter, 1, 6)}
	return f
}

// Whatever the room, a division that fits is one: each part in one area, the
// areas tile the outline, and each is within all limits, counted anew.
func TestDivide_whatFitsIsSound(t *testing.T) {
	fits := 0
	rapid.Check(t, func(t *rapid.T) {
		f := drawFloor(t)
		before := len(f.R.Design.Devices)
		d := propose.Divide(f.P, f.R)
		require.Len(t, f.R.Design.Devices, before)
		require.Equal(t, d.Fits, d.Why == "")
		if !d.Fits {
			require.Empty(t, d.Areas)
			return
		}
		fits++
		gateways := slices.ContainsFunc(f.R.Design.Devices, func(d domain.Device) bool { return d.Type == "gw-room" })
		soundParts(t, f.R, d)
		for _, a := range d.Areas {
			withinLimits(t, f.P, f.R, a, gateways)
		}
	})
	require.NotZero(t, fits)
}

// spots are devices without wires on a plain floor, with links between sensors
// and the loads of controllers: what can be divided by trying everything. Sensors
// stay where they hang, so that lines alone decide what is parted.
type spots struct {
	at    []geom.Point
	links map[[2]int]int
	most  int // devices an area
}

func (s *spots) parted(low, high []int) (n int) {
	for _, a := range low {
		for _, b := range high {
			n += s.links[[2]int{min(a, b), max(a, b)}]
		}
	}
	return n
}

// fewestCut tries every way to cut a set into k areas by lines across either
// axis, one after the other, and gives the fewest links parted.
func (s *spots) fewestCut(set []int, k int) int {
	if k == 1 {
		if len(set) > s.most {
			return math.MaxInt
		}
		return 0
	}
	best := math.MaxInt
	for axis := range 2 {
		at := func(i int) float64 {
			if axis == 0 {
				return s.at[i].X
			}
			return s.at[i].Y
		}
		order := slices.Clone(set)
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(at(a), at(b)) })
		for n := 1; n < len(order); n++ {
			if at(order[n])-at(order[n-1]) < 0.01 {
				continue
			}
			for low := 1; low < k; low++ {
				a, b := s.fewestCut(order[:n], low), s.fewestCut(order[n:], k-low)
				if a < math.MaxInt && b < math.MaxInt {
					best = min(best, a+b+s.parted(order[:n], order[n:]))
				}
			}
		}
	}
	return best
}

func TestDivide_isTheBestOfAllOnSmallRooms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, s := newFloor(0, 0), &spots{links: map[[2]int]int{}, most: rapid.IntRange(2, 4).Draw(t, "limit")}
		f.R.Outline = geom.Rectangle(0, 0, 20, 10)
		line := rapid.Bool().Draw(t, "in a line") // cut into strips
		d := &f.R.Design
		for n := range rapid.IntRange(s.most+1, 9).Draw(t, "devices") {
			p := geom.Pt(rapid.Float64Range(0.1, 19.9).Draw(t, "x"), 5)
			if !line {
				p.Y = rapid.Float64Range(0.1, 9.9).Draw(t, "y")
			}
			id := domain.ID(fmt.Sprint("d", n))
			s.at = append(s.at, p)
			f.put(id, rapid.SampledFrom([]string{"lc-2", "ps-wired"}).Draw(t, "kind"), p)
			if d.Devices[n].Type == "lc-2" {
				d.Loads = append(d.Loads, domain.Load{ID: "of-" + id, Kind: domain.Lighting, Controller: id})
			}
		}
		for i := range d.Devices {
			for j := range d.Devices {
				if d.Devices[i].Type == "ps-wired" && d.Devices[j].Type == "lc-2" && rapid.Bool().Draw(t, "linked") {
					f.act(d.Devices[i].ID, "of-"+d.Devices[j].ID)
					s.links[[2]int{min(i, j), max(i, j)}]++
				}
			}
		}
		f.P.Limits = domain.Limits{{ID: domain.DevicesPerRoom, Value: float64(s.most)}}
		got := propose.Divide(f.P, f.R)
		all := make([]int, len(s.at))
		for i := range all {
			all[i] = i
		}
		for k := (len(all) + s.most - 1) / s.most; k <= len(all); k++ {
			if want := s.fewestCut(all, k); want < math.MaxInt {
				require.True(t, got.Fits, got.Why)
				require.True(t, got.Fewest && got.Best)
				require.Len(t, got.Areas, k, "as few areas as can be")
				require.Len(t, got.Cut, want, "as few links as can be")
				return
			}
		}
		require.False(t, got.Fits)
	})
}
