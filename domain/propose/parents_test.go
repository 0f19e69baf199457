package propose_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/propose"
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
