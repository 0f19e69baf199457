package propose_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/domain/radio"
	"scopewright/domain/units"
)

// relays gives the problem of points that hear each other within a range.
func relays(within float64, routers, sites []geom.Point) propose.RelayProblem {
	p := propose.RelayProblem{Routers: len(routers), Sites: len(sites), Ways: 1}
	all := append(append([]geom.Point{}, routers...), sites...)
	for i := range all {
		p.Capacity = append(p.Capacity, 6)
		for j := range i {
			if all[i].Distance(all[j]) <= within {
				p.Links = append(p.Links, [2]int{j, i})
			}
		}
	}
	return p
}

func pts(xy ...float64) []geom.Point {
	var out []geom.Point
	for i := 0; i < len(xy); i += 2 {
		out = append(out, geom.Pt(xy[i], xy[i+1]))
	}
	return out
}

// The fewest relays of worked layouts, found apart by trying all sets. Sites go by
// letters: p q r s, m n o u, x y z w.
func TestRelays_worked(t *testing.T) {
	triangle, square, row := pts(0, 0, 30, 0, 15, 26), pts(0, 0, 20, 0, 0, 20, 20, 20), pts(0, 0, 12, 0, 24, 0, 36, 0)
	for _, c := range []struct {
		name    string
		problem propose.RelayProblem
		ways    int
		want    int
		chosen  [][]int // any of these; nil: not asked
	}{
		{"triangle, with the center q", relays(18, triangle, pts(15, 0, 15, 8.66, 22, 13, 8, 13)), 1, 1, [][]int{{1}}},
		{"triangle, without it", relays(18, triangle, pts(15, 0, 22, 13, 8, 13)), 1, 2, [][]int{{0, 1}, {0, 2}, {1, 2}}},
		{"square, with the middle m", relays(15, square, pts(10, 10, 10, 0, 0, 10, 20, 10)), 1, 1, [][]int{{0}}},
		{"square, without it", relays(15, square, pts(10, 0, 0, 10, 20, 10)), 1, 3, [][]int{{0, 1, 2}}},
		{"two ways along a row", relays(15, row, pts(6, 8, 18, 8, 30, 8, 12, 12)), 2, 3, [][]int{{0, 1, 2}}},
		{"one way along a row that has it", relays(15, row, pts(6, 8, 18, 8)), 1, 0, [][]int{nil}},
		{"on a line at 0, 10, 30, 70 with a range of 25", relays(25, pts(0, 0, 10, 0, 30, 0, 70, 0), alongLine(70)), 1, 1, nil},
		{"on a line at 0, 12, 60 with a range of 20", relays(20, pts(0, 0, 12, 0, 60, 0), alongLine(60)), 1, 2, nil},
		{"triangle of 30 with a range of 18: fewer than beads on its edges", relays(18, pts(0, 0, 30, 0, 15, 25.98), grid(30)), 1, 1, nil},
		{"square of 20 with a range of 15: fewer than beads on its edges", relays(15, square, grid(20)), 1, 1, nil},
	} {
		c.problem.Ways = c.ways
		got := c.problem.Solve()
		require.True(t, got.Found, c.name)
		assert.Len(t, got.Chosen, c.want, c.name)
		assert.True(t, got.Proved, c.name)
		assert.Equal(t, c.want, got.Bound, c.name)
		if c.chosen != nil {
			assert.Contains(t, c.chosen, got.Chosen, c.name)
		}
	}
}

func alongLine(to int) []geom.Point {
	var out []geom.Point
	for x := 1; x < to; x++ {
		out = append(out, geom.Pt(float64(x), 0))
	}
	return out
}

func grid(side float64) []geom.Point {
	var out []geom.Point
	for x := 0.0; x <= side; x += side / 10 {
		for y := 0.0; y <= side; y += side / 10 {
			out = append(out, geom.Pt(x, y))
		}
	}
	return out
}

// Relays on one edge: ceil(L/R) - 1, worked for a range of 20 m.
func TestRelays_onOneEdge(t *testing.T) {
	for length, want := range map[float64]int{15: 0, 20: 0, 45: 2, 60: 2, 60.1: 3} {
		var sites []geom.Point
		for x := 0.5; x < length; x += 0.5 {
			sites = append(sites, geom.Pt(x, 0))
		}
		got := relays(20, pts(0, 0, length, 0), sites).Solve()
		assert.Len(t, got.Chosen, want, "%g m", length)
		assert.True(t, got.Proved)
	}
}

// Battery devices ask for room: at 6 each, 6, 7, 12, 13 and 25 of them want 1, 2, 2,
// 3 and 5 routers in all.
func TestRelays_capacity(t *testing.T) {
	for _, c := range []struct{ routers, children, want int }{{1, 6, 0}, {1, 7, 1}, {1, 9, 1}, {2, 13, 1}, {0, 1, 1}, {0, 6, 1}, {0, 7, 2}, {0, 12, 2}, {0, 13, 3}, {0, 25, 5}, {1, 25, 4}} {
		routers := make([]geom.Point, c.routers)
		for i := range routers {
			routers[i] = geom.Pt(float64(i), 0)
		}
		p := relays(100, routers, alongLine(9))
		all := make([]int, c.routers+8)
		for i := range all {
			all[i] = i
		}
		for range c.children {
			p.Children = append(p.Children, propose.RelayChild{Hears: all})
		}
		got := p.Solve()
		assert.Len(t, got.Chosen, c.want, "%+v", c)
		assert.True(t, got.Proved, "%+v", c)
	}
	none := relays(10, pts(0, 0, 50, 0), pts(5, 0)).Solve()
	assert.False(t, none.Found, "no site helps")
}

// Against trying every set: the fewest, for one way and for two, with devices that
// want room and routers to hear. A search that may not look at anything must still
// give sites that do, and a bound that holds.
func TestRelays_fewestOfAllSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		routers, sites := make([]geom.Point, r.IntN(4)), make([]geom.Point, 1+r.IntN(8))
		for i := range routers {
			routers[i] = geom.Pt(r.Float64()*30, r.Float64()*20)
		}
		for i := range sites {
			sites[i] = geom.Pt(r.Float64()*30, r.Float64()*20)
		}
		p := relays(12, routers, sites)
		p.Ways, p.Alike = 1+r.IntN(2), r.IntN(2) == 0
		for i := range p.Capacity {
			p.Capacity[i] = 1 + r.IntN(2)
		}
		for range r.IntN(4) {
			c, at := propose.RelayChild{Wants: 1 + r.IntN(2)}, geom.Pt(r.Float64()*30, r.Float64()*20)
			for i, o := range append(append([]geom.Point{}, routers...), sites...) {
				if o.Distance(at) < 12 {
					c.Hears = append(c.Hears, i)
				}
			}
			p.Children = append(p.Children, c)
		}
		fewest := -1
		for set := range 1 << len(sites) {
			if n := ones(set); (fewest < 0 || n < fewest) && enough(p, set) {
				fewest = n
			}
		}
		got := p.Solve()
		if got.Found != (fewest >= 0) {
			t.Fatalf("found %v, by all sets %d", got.Found, fewest)
		}
		if fewest < 0 {
			return
		}
		if len(got.Chosen) != fewest || !got.Proved {
			t.Fatalf("%v, by all sets %d", got, fewest)
		}
		p.Checks = 1
		quick := p.Solve()
		set := 0
		for _, i := range quick.Chosen {
			set |= 1 << i
		}
		if !enough(p, set) || quick.Bound > fewest || quick.Proved && len(quick.Chosen) != fewest {
			t.Fatalf("in a hurry %v, the fewest are %d", quick, fewest)
		}
	})
}

func ones(set int) (n int) {
	for ; set != 0; set &= set - 1 {
		n++
	}
	return n
}

// enough tells by the words' meaning that some sites do: all routers hang together,
// and with two ways still do when any other one is gone; devices hear enough and
// find room, by trying all places.
func enough(p propose.RelayProblem, set int) bool {
	in := func(v int) bool { return v < p.Routers || set>>(v-p.Routers)&1 == 1 }
	start := 0
	for start < p.Routers+p.Sites && !in(start) {
		start++
	}
	joined := func(without int, cut [2]int) map[int]bool {
		seen := map[int]bool{start: in(start)}
		for changed := true; changed; {
			changed = false
			for _, l := range p.Links {
				if l == cut || !in(l[0]) || !in(l[1]) || l[0] == without || l[1] == without {
					continue
				}
				if seen[l[0]] != seen[l[1]] {
					seen[l[0]], seen[l[1]], changed = true, true, true
				}
			}
		}
		return seen
	}
	whole := joined(-1, [2]int{-1, -1})
	for v := range p.Routers {
		if !whole[v] {
			return false
		}
		if p.Ways < 2 || v == 0 {
			continue
		}
		for x := 1; x < p.Routers+p.Sites; x++ {
			if x != v && in(x) && !joined(x, [2]int{-1, -1})[v] {
				return false
			}
		}
		if !joined(-1, [2]int{0, v})[v] {
			return false
		}
	}
	if p.Alike && p.Ways > 1 && p.Routers > 1 {
		start = 1
		for v, rest := 1, joined(0, [2]int{-1, -1}); v < p.Routers; v++ {
			if !rest[v] {
				return false
			}
		}
	}
	used := make([]int, p.Routers+p.Sites)
	var place func(c int) bool
	place = func(c int) bool {
		if c == len(p.Children) {
			return true
		}
		for _, r := range p.Children[c].Hears {
			if whole[r] && used[r] < p.Capacity[r] {
				used[r]++
				if place(c + 1) {
					return true
				}
				used[r]--
			}
		}
		return false
	}
	for _, c := range p.Children {
		n := 0
		for _, r := range c.Hears {
			if whole[r] {
				n++
			}
		}
		if n < c.Wants {
			return false
		}
	}
	return place(0)
}

// onPlan gives a room of devices at places with radios that carry so far.
func onPlan(meters float64, devices ...domain.Device) (*domain.Project, *domain.Resolved) {
	b := domaintest.Room()
	for i := range b.P.Book {
		b.P.Book[i].TxPower, b.P.Book[i].Gain, b.P.Book[i].Sensitivity = 0, 0, -10-radio.FreeSpace(units.Metres(meters), radio.MeshMHz)
	}
	for i := range b.P.Limits {
		if id := b.P.Limits[i].ID; id == domain.LinkMarginAdvice || id == domain.CeilingLoss {
			b.P.Limits[i].Value = 0
		}
	}
	b.R.Design.Devices = devices
	return b.P, b.R
}

func dev(id domain.ID, typ string, x, y float64) domain.Device {
	at := geom.Pt(x, y)
	return domain.Device{ID: id, Tag: string(id), Type: typ, At: &at, Height: 2.5}
}

func newIDs(i int) domain.ID { return domain.ID(fmt.Sprint("new", i)) }

// A gateway and a controller 25 m apart with radios of 14 m want one router
// between, a sensor 30 m out from both one more, and then it has a parent.
func TestMoreRouters(t *testing.T) {
	p, r := onPlan(14, dev("gw", "gw-room", 0, 0), dev("lc", "lc-1", 25, 0))
	r.Outline = geom.Rectangle(-2, -3, 30, 6)
	plan, ok := propose.MoreRouters(p, r, propose.RouterWish{}, newIDs)
	require.True(t, ok)
	assert.Len(t, plan.At, 1)
	assert.True(t, plan.Proved)
	assert.Equal(t, 1, plan.Bound)
	assert.InDelta(t, 12.5, plan.At[0].X, 1.5)
	assert.Equal(t, "rt-plug", plan.Type.ID)
	assert.True(t, r.Outline.Contains(plan.At[0]))

	p, r = onPlan(14, dev("gw", "gw-room", 0, 0), dev("lc", "lc-1", 12, 0), dev("ps", "ps-ceiling", 35, 0))
	plan, ok = propose.MoreRouters(p, r, propose.RouterWish{}, newIDs)
	require.True(t, ok)
	assert.Len(t, plan.At, 1)
	assert.Equal(t, domain.ID("new0"), plan.Parents["ps"], "within 14 m of both")

	_, ok = propose.MoreRouters(p, r, propose.RouterWish{Hears: 2, Ways: 2}, newIDs)
	assert.True(t, ok)
	p, r = onPlan(14, dev("gw", "gw-room", 0, 0), dev("lc", "lc-1", 12, 0))
	_, ok = propose.MoreRouters(p, r, propose.RouterWish{}, newIDs)
	assert.False(t, ok, "nothing is wanted")
	for i := range r.Design.Devices {
		r.Design.Devices[i].At = nil
	}
	_, ok = propose.MoreRouters(p, r, propose.RouterWish{}, newIDs)
	assert.False(t, ok, "nothing stands on the plan")
}

// What is proposed does what was wished for, whatever the room.
func TestMoreRouters_doesWhatWasWished(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		devices := []domain.Device{dev("gw", "gw-room", 0, 0)}
		for i := range 2 + r.IntN(6) {
			typ := "lc-1"
			if r.IntN(2) == 0 {
				typ = "ps-ceiling"
			}
			devices = append(devices, dev(domain.ID(fmt.Sprint("d", i)), typ, r.Float64()*40, r.Float64()*20))
		}
		p, room := onPlan(13, devices...)
		wish := propose.RouterWish{Ways: 1 + r.IntN(2), Hears: 1 + r.IntN(2)}
		plan, ok := propose.MoreRouters(p, room, wish, newIDs)
		if !ok {
			return
		}
		for i, at := range plan.At {
			room.Design.Devices = append(room.Design.Devices, domain.Device{ID: newIDs(i), Type: plan.Type.ID, At: &at})
		}
		after := radio.NewRoom(p, room)
		net := after.Net()
		if len(net.Parts) != 1 || len(plan.At) < plan.Bound {
			t.Fatalf("%d parts with %d routers more, bound %d", len(net.Parts), len(plan.At), plan.Bound)
		}
		for i := range devices {
			n := after.Find(devices[i].ID)
			if after.Nodes[n].Routes {
				if n != net.Root && net.Ways(n) < wish.Ways {
					t.Fatalf("%s has %d ways", devices[i].ID, net.Ways(n))
				}
				continue
			}
			if reached, _ := after.Reached(n); len(reached) < wish.Hears {
				t.Fatalf("%s hears %d routers", devices[i].ID, len(reached))
			}
			if up := after.Find(plan.Parents[devices[i].ID]); up < 0 || !after.Hears(n, up) {
				t.Fatalf("%s has no parent that it hears", devices[i].ID)
			}
		}
	})
}

func BenchmarkMoreRouters(b *testing.B) {
	r := rand.New(rand.NewPCG(4, 4))
	devices := []domain.Device{dev("gw", "gw-room", 0, 0)}
	for i := range 31 {
		typ := "lc-1"
		if i%2 == 0 {
			typ = "ps-ceiling"
		}
		devices = append(devices, dev(domain.ID(fmt.Sprint("d", i)), typ, r.Float64()*40, r.Float64()*20))
	}
	p, room := onPlan(9, devices...)
	for name, wish := range map[string]propose.RouterWish{"one way": {}, "two ways": {Ways: 2, Hears: 2}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				propose.MoreRouters(p, room, wish, newIDs)
			}
		})
	}
}
