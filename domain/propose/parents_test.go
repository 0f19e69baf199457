package propose_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/propose"
	"scopewright/domain/radio"
	"scopewright/domain/units"
)

// room gives a design of routers r0, r1, ... and battery sensors b0, b1, ...
// Each sensor hears the routers of its list; an empty list means all.
func room(routers int, hears ...[]int) *domain.Design {
	d := &domain.Design{}
	for i := range routers {
		d.Devices = append(d.Devices, domain.Device{ID: domain.ID(fmt.Sprint("r", i)), Type: "rt-plug"})
	}
	for i, list := range hears {
		dev := domain.Device{ID: domain.ID(fmt.Sprint("b", i)), Type: "ps-ceiling"}
		for _, r := range list {
			dev.Hears = append(dev.Hears, domain.ID(fmt.Sprint("r", r)))
		}
		d.Devices = append(d.Devices, dev)
	}
	return d
}

func all(n int) [][]int { return make([][]int, n) }

func only(n, router int) [][]int {
	out := make([][]int, n)
	for i := range out {
		out[i] = []int{router}
	}
	return out
}

// Cases P1 to P7 at 6 battery devices per router (common practice). Without
// geometry short = max(0, battery - 6 routers); P7 is the one that counting
// alone misses: 24 devices on 4 routers, 7 of which hear the first alone, is a
// maximum flow of 6 + 17 = 23.
func TestParents_casesP1ToP7(t *testing.T) {
	p := domaintest.Project(units.SI)
	for name, c := range map[string]struct {
		design          *domain.Design
		capacity, short int
		near            []domain.ID
	}{
		"P1 six on one":                 {room(1, all(6)...), 6, 0, nil},
		"P2 seven on one":               {room(1, all(7)...), 6, 1, []domain.ID{"r0"}},
		"P3 nine on one":                {room(1, all(9)...), 6, 3, []domain.ID{"r0"}},
		"P4 thirteen on two":            {room(2, all(13)...), 12, 1, []domain.ID{"r0", "r1"}},
		"P5 one and no router":          {room(0, all(1)...), 0, 1, nil},
		"P6 twenty-eight on four":       {room(4, all(28)...), 24, 4, []domain.ID{"r0", "r1", "r2", "r3"}},
		"P7 counts fit, reach does not": {room(4, append(all(17), only(7, 0)...)...), 24, 1, []domain.ID{"r0"}},
	} {
		got := propose.Parents(p, c.design)
		assert.Equal(t, c.capacity, got.Capacity, name)
		assert.Len(t, got.Short, c.short, name)
		assert.Equal(t, c.near, got.Near, name)
		assert.Len(t, got.Parent, got.Children-c.short, name)
	}
}

// In P7 the devices that hear everything stand first and take the first router;
// they must make way for those that hear nothing else.
func TestParents_makesWayForThoseWithoutAChoice(t *testing.T) {
	got := propose.Parents(domaintest.Project(units.SI), room(2, append(all(6), only(6, 0)...)...))
	assert.Empty(t, got.Short)
	for i := 6; i < 12; i++ {
		assert.Equal(t, domain.ID("r0"), got.Parent[domain.ID(fmt.Sprint("b", i))])
	}
}

func TestParents_keepsWhatTheDesignerChose(t *testing.T) {
	d := room(2, all(4)...)
	for i := range d.Devices {
		if d.Devices[i].Type == "ps-ceiling" {
			d.Devices[i].Parent = "r1"
		}
	}
	got := propose.Parents(domaintest.Project(units.SI), d)
	for _, parent := range got.Parent {
		assert.Equal(t, domain.ID("r1"), parent)
	}
}

func TestParents_aTypeMayTakeMoreThanTheLimit(t *testing.T) {
	p := domaintest.Project(units.SI)
	p.Book.Find("rt-plug").Children = 7
	assert.Empty(t, propose.Parents(p, room(1, all(7)...)).Short)
	assert.Len(t, propose.Parents(p, room(1, all(8)...)).Short, 1)
}

func TestParents_hearingOnlyWhatIsGoneIsShort(t *testing.T) {
	d := room(1, nil)
	d.Devices[1].Hears = []domain.ID{"gone"}
	got := propose.Parents(domaintest.Project(units.SI), d)
	assert.Equal(t, []domain.ID{"b0"}, got.Short)
	assert.Empty(t, got.Near)
}

// The reference is Edmonds and Karp's search for shortest augmenting paths
// (1972) over an explicit network, written here on its own.
func TestParents_isAMaximumFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := domaintest.Project(units.SI)
		each := rapid.IntRange(0, 3).Draw(t, "each")
		for i := range p.Limits {
			if p.Limits[i].ID == domain.ChildrenPerRouter {
				p.Limits[i].Value = float64(each)
			}
		}
		routers := rapid.IntRange(0, 4).Draw(t, "routers")
		hears := make([][]int, rapid.IntRange(0, 9).Draw(t, "children"))
		for i := range hears {
			for r := range routers {
				if rapid.Bool().Draw(t, "hears") {
					hears[i] = append(hears[i], r)
				}
			}
		}
		d := room(routers, hears...)
		for i := range d.Devices {
			if d.Devices[i].Type == "ps-ceiling" && routers > 0 && rapid.Bool().Draw(t, "chosen") {
				d.Devices[i].Parent = domain.ID(fmt.Sprint("r", rapid.IntRange(0, routers-1).Draw(t, "parent")))
			}
		}
		got := propose.Parents(p, d)
		require.Equal(t, flow(routers, each, hears), len(got.Parent))
		require.Equal(t, len(hears), len(got.Parent)+len(got.Short))

		used := map[domain.ID]int{}
		for child, parent := range got.Parent {
			used[parent]++
			dev := d.Device(child)
			require.True(t, len(dev.Hears) == 0 || contains(dev.Hears, parent), "%s does not hear %s", child, parent)
		}
		for router, n := range used {
			require.LessOrEqual(t, n, each, router)
		}
	})
}

func contains(list []domain.ID, id domain.ID) bool {
	for _, x := range list {
		if x == id {
			return true
		}
	}
	return false
}

// flow gives the maximum flow from children over reach to routers.
func flow(routers, each int, hears [][]int) int {
	n := len(hears)
	source, sink := n+routers, n+routers+1
	room := make([][]int, n+routers+2)
	for i := range room {
		room[i] = make([]int, n+routers+2)
	}
	for c, list := range hears {
		room[source][c] = 1
		for r := range routers {
			if len(list) == 0 {
				room[c][n+r] = 1
			}
		}
		for _, r := range list {
			room[c][n+r] = 1
		}
	}
	for r := range routers {
		room[n+r][sink] = each
	}
	total := 0
	for {
		from := make([]int, len(room))
		for i := range from {
			from[i] = -1
		}
		from[source] = source
		queue := []int{source}
		for len(queue) > 0 && from[sink] < 0 {
			at := queue[0]
			queue = queue[1:]
			for to := range room {
				if room[at][to] > 0 && from[to] < 0 {
					from[to] = at
					queue = append(queue, to)
				}
			}
		}
		if from[sink] < 0 {
			return total
		}
		for at := sink; at != source; at = from[at] {
			room[from[at]][at]--
			room[at][from[at]]++
		}
		total++
	}
}

// price of an assignment as the words say: children on weak links, parents that
// were left, crowding, loss, and then the worst link.
func byWords(p *domain.Project, room *radio.Room, d *domain.Design, parents map[domain.ID]domain.ID) [5]float64 {
	var out [5]float64
	used := map[domain.ID]float64{}
	for i := range d.Devices {
		c := &d.Devices[i]
		up, some := parents[c.ID]
		if !some {
			continue
		}
		a, b := room.Find(c.ID), room.Find(up)
		if room.Margin(a, b) < room.Settings.Advice {
			out[0]++
		}
		if c.Parent != up {
			out[1]++
		}
		used[up]++
		out[3] += room.Loss(a, b)
		out[4] = max(out[4], room.Loss(a, b))
	}
	for _, n := range used {
		out[2] += n * n
	}
	return out
}

// Of all assignments that place the most, none may be better: tried one by one.
func TestParentsBy_isTheBestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
		var devices []domain.Device
		for i := range 1 + r.IntN(3) {
			devices = append(devices, dev(domain.ID(fmt.Sprint("r", i)), "rt-plug", float64(r.IntN(20)), float64(r.IntN(10))))
		}
		routers := len(devices)
		for i := range 1 + r.IntN(6) {
			c := dev(domain.ID(fmt.Sprint("c", i)), "ps-ceiling", float64(r.IntN(20)), float64(r.IntN(10)))
			if r.IntN(3) == 0 {
				c.Parent = devices[r.IntN(routers)].ID
			}
			devices = append(devices, c)
		}
		p, resolved := onPlan(12, devices...)
		for i := range p.Limits {
			switch p.Limits[i].ID {
			case domain.ChildrenPerRouter:
				p.Limits[i].Value = float64(1 + r.IntN(3))
			case domain.LinkMarginAdvice:
				p.Limits[i].Value = 14
			}
		}
		room := radio.NewRoom(p, resolved)
		got := propose.ParentsBy(p, &resolved.Design, room)
		most, best := -1, [5]float64{}
		each(p, room, &resolved.Design, func(parents map[domain.ID]domain.ID) {
			price := byWords(p, room, &resolved.Design, parents)
			if n := len(parents); n > most || n == most && less(price, best) {
				most, best = n, price
			}
		})
		mine := byWords(p, room, &resolved.Design, got.Parent)
		if len(got.Parent) != most || less(best, mine) {
			t.Fatalf("places %d at %v, the best of all %d at %v", len(got.Parent), mine, most, best)
		}
		if short := propose.Short(p, &resolved.Design, room); short != got.Children-most {
			t.Fatalf("%d short, not %d", short, got.Children-most)
		}
		if got.ByRadio != got.Children {
			t.Fatalf("%d of %d by radio", got.ByRadio, got.Children)
		}
	})
}

func less(a, b [5]float64) bool {
	for i := range a {
		if d := a[i] - b[i]; d > 1e-7 || d < -1e-7 {
			return d < 0
		}
	}
	return false
}

// each visits all assignments within reach and room.
func each(p *domain.Project, room *radio.Room, d *domain.Design, visit func(map[domain.ID]domain.ID)) {
	most := int(p.Limits.Value(domain.ChildrenPerRouter))
	parents, used := map[domain.ID]domain.ID{}, map[domain.ID]int{}
	var from func(i int)
	from = func(i int) {
		if i == len(d.Devices) {
			visit(parents)
			return
		}
		from(i + 1)
		c := &d.Devices[i]
		if c.Type != "ps-ceiling" {
			return
		}
		for k := range d.Devices {
			if up := &d.Devices[k]; up.Type == "rt-plug" && used[up.ID] < most && room.Hears(room.Find(c.ID), room.Find(up.ID)) {
				parents[c.ID] = up.ID
				used[up.ID]++
				from(i + 1)
				used[up.ID]--
				delete(parents, c.ID)
			}
		}
	}
	from(0)
}

// Eight sensors and a station under two routers that hear all: 5 and 4, not 6 and 3.
func TestParents_areEven(t *testing.T) {
	got := propose.Parents(domaintest.Project(units.SI), room(2, all(9)...))
	used := map[domain.ID]int{}
	for _, up := range got.Parent {
		used[up]++
	}
	assert.ElementsMatch(t, []int{5, 4}, []int{used["r0"], used["r1"]})
}

// With reach from the plan, a router out of reach is none; what the designer says
// of a device goes before the plan; a device without a place hears all.
func TestParentsBy_reachOfThePlan(t *testing.T) {
	far := dev("said", "ps-ceiling", 30, 1)
	far.Hears = []domain.ID{"r0"}
	p, r := onPlan(10, dev("r0", "rt-plug", 0, 0), dev("r1", "rt-plug", 9, 0), dev("near", "ps-ceiling", 1, 1), dev("gone", "ps-ceiling", 30, 0), far, domain.Device{ID: "list", Type: "ps-ceiling"})
	got := propose.ParentsBy(p, &r.Design, radio.NewRoom(p, r))
	assert.Equal(t, []domain.ID{"gone"}, got.Short)
	assert.Equal(t, domain.ID("r0"), got.Parent["said"])
	assert.Contains(t, got.Parent, domain.ID("list"))
	assert.Equal(t, 2, got.ByRadio)
	assert.Empty(t, propose.Parents(p, &r.Design).Short, "by count alone all fit")
}

// placements were recorded from network.MaxFlowDinic of gonum v0.17.0, seed 2450, 6.
type placements []struct {
	Each, Routers int
	Hears         [][]int
	Placed        int
}

func TestParents_asAGraphLibraryHasIt(t *testing.T) {
	text, err := os.ReadFile("testdata/parents.json")
	require.NoError(t, err)
	var cases placements
	require.NoError(t, json.Unmarshal(text, &cases))
	require.Len(t, cases, 80)
	for i, c := range cases {
		p := domaintest.Project(units.SI)
		p.Book.Find("rt-plug").Children = c.Each
		for k, list := range c.Hears {
			if len(list) == 0 { // an empty list would mean all
				c.Hears[k] = []int{c.Routers}
			}
		}
		assert.Len(t, propose.Parents(p, room(c.Routers, c.Hears...)).Parent, c.Placed, "case %d", i)
	}
}

func BenchmarkParentsBy(b *testing.B) {
	r := rand.New(rand.NewPCG(9, 9))
	var devices []domain.Device
	for i := range 32 {
		typ := "rt-plug"
		if i >= 8 {
			typ = "ps-ceiling"
		}
		devices = append(devices, dev(domain.ID(fmt.Sprint("d", i)), typ, r.Float64()*20, r.Float64()*15))
	}
	p, resolved := onPlan(12, devices...)
	room := radio.NewRoom(p, resolved)
	b.Run("24 children, 8 routers", func(b *testing.B) {
		for b.Loop() {
			propose.ParentsBy(p, &resolved.Design, room)
		}
	})
}
