package radio_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	. "scopewright/domain/radio"
)

// carrying lets all radios of a room carry so many meters in the open, and puts
// its devices at one height, so that links are those of the plan's distances.
func carrying(b *domaintest.Builder, meters float64) *Room {
	for i := range b.P.Book {
		b.P.Book[i].TxPower, b.P.Book[i].Gain, b.P.Book[i].Sensitivity = 0, 0, -10-LogDistance(1, MeshMHz, 2)-20*math.Log10(meters)
	}
	for i := range b.R.Design.Devices {
		b.R.Design.Devices[i].Height = 2.5
	}
	return NewRoom(b.P, b.R)
}

// net gives the mesh of routers at places, the first a gateway, by their names.
func net(meters float64, names string, places ...[2]float64) *Net {
	b := domaintest.Room()
	for i, p := range places {
		typ := "rt-plug"
		if names[i] == 'G' {
			typ = "gw-room"
		}
		b.R.Design.Devices = append(b.R.Design.Devices, device(domain.ID(names[i:i+1]), typ, p[0], p[1]))
	}
	return carrying(b, meters).Net()
}

func named2(names string, nodes []int) string {
	out := ""
	for _, n := range nodes {
		out += names[n : n+1]
	}
	return out
}

// Graphs of the published table, drawn as rooms: each row agreed between low-link
// search and deletion, computed apart.
func TestNet_worked(t *testing.T) {
	for name, c := range map[string]struct {
		names  string
		places [][2]float64
		cuts   string // "X cuts BC" as "X:BC "
		spans  string
		hops   []int
		ways   []int
	}{
		"path":    {"GABC", [][2]float64{{0, 0}, {9, 0}, {18, 0}, {27, 0}}, "A:BC B:C ", "GA:ABC AB:BC BC:C ", []int{0, 1, 2, 3}, []int{0, 1, 1, 1}},
		"ring":    {"GABC", [][2]float64{{0, 0}, {9, 0}, {9, 9}, {0, 9}}, "", "", []int{0, 1, 2, 1}, []int{0, 2, 2, 2}},
		"bow-tie": {"GAXBC", [][2]float64{{0, 0}, {0, 4}, {9, 2}, {18, 0}, {18, 4}}, "X:BC ", "", []int{0, 1, 1, 2, 2}, []int{0, 2, 2, 1, 1}},
		"barbell": {"GAXYBC", [][2]float64{{0, 0}, {0, 4}, {9, 2}, {18, 2}, {27, 0}, {27, 4}}, "X:YBC Y:BC ", "XY:YBC ", []int{0, 1, 1, 2, 3, 3}, []int{0, 2, 2, 1, 1, 1}},
		"star":    {"GABC", [][2]float64{{0, 0}, {9, 0}, {-6, 7}, {-6, -7}}, "", "GA:A GB:B GC:C ", []int{0, 1, 1, 1}, []int{0, 1, 1, 1}},
	} {
		n := net(10, c.names, c.places...)
		cuts, spans := "", ""
		for _, k := range n.Cuts {
			cuts += c.names[k.Node:k.Node+1] + ":" + named2(c.names, k.Off) + " "
		}
		for _, s := range n.Spans {
			spans += named2(c.names, []int{s.Near, s.Far}) + ":" + named2(c.names, s.Off) + " "
		}
		assert.Equal(t, c.cuts, cuts, name)
		assert.Equal(t, c.spans, spans, name)
		assert.Equal(t, c.hops, n.Hops, name)
		for i, want := range c.ways {
			assert.Equal(t, want, n.Ways(i), "%s: ways of %s", name, c.names[i:i+1])
		}
		assert.True(t, n.Gateway)
		assert.Len(t, n.Parts, 1)
	}
}

// The bottleneck of a way is its weakest link: 20 lg(10/9) over 10 dB for 9 m.
func TestNet_bottleneckAndParts(t *testing.T) {
	n := net(10, "GABC", [2]float64{0, 0}, [2]float64{5, 0}, [2]float64{14, 0}, [2]float64{24.1, 0})
	assert.InDelta(t, 10+20*math.Log10(10.0/5), n.Bottleneck[1], 1e-9)
	assert.InDelta(t, 10+20*math.Log10(10.0/9), n.Bottleneck[2], 1e-9)
	assert.True(t, math.IsInf(n.Bottleneck[3], -1))
	assert.Equal(t, [][]int{{0, 1, 2}, {3}}, n.Parts)
	assert.Equal(t, []int{0, 1, 2, -1}, n.Hops)
	assert.Equal(t, 1, n.Neighbours(2))
}

// A room without a gateway is counted from its first router, which is no better
// than others: what hangs together only by it is told.
func TestNet_withoutAGateway(t *testing.T) {
	n := net(10, "ABC", [2]float64{9, 0}, [2]float64{0, 0}, [2]float64{18, 0})
	assert.False(t, n.Gateway)
	assert.Equal(t, 0, n.Root)
	require.Len(t, n.Cuts, 1)
	assert.Equal(t, Cut{Node: 0, Off: []int{2}}, n.Cuts[0])

	b := domaintest.Room()
	b.R.Design.Devices = append(b.R.Design.Devices, device("ps", "ps-ceiling", 1, 1))
	none := NewRoom(b.P, b.R).Net()
	assert.Equal(t, -1, none.Root)
	assert.Equal(t, []int{-1}, none.Hops)
}

// Battery devices hang on the mesh by their parents where they hear them, else by
// the router with the fewest hops.
func TestNet_childrenCountTheirParent(t *testing.T) {
	b := placed(device("G", "gw-room", 0, 0), device("A", "rt-plug", 9, 0), device("B", "rt-plug", 18, 0), device("by", "ps-ceiling", 9, 1), device("of", "ps-ceiling", 17, 1), device("lost", "ps-ceiling", 17, 20))
	b.R.Design.Device("of").Parent = "B"
	b.R.Design.Device("by").Parent = "gone"
	r := carrying(b, 10)
	n := r.Net()
	assert.Equal(t, []int{0, 1, 2, 1, 3, -1}, n.Hops, "by hears the gateway itself, of has B for its parent")
	reached, best := r.Reached(r.Find("of"))
	assert.Equal(t, []int{2, 1}, reached, "the best one first")
	assert.InDelta(t, r.Margin(4, 2), best, 1e-9)
	reached, best = r.Reached(5)
	assert.Empty(t, reached)
	assert.Less(t, best, 10.0)
}

// meshes are random graphs with what gonum v0.17.0 says of them: articulation
// points and bridges by counting topo.ConnectedComponents without each node and
// link, what hangs on a node by flow.Dominators from node 0, and ways by
// network.MaxFlowDinic with each node split. Recorded once, from seed 2450, 6.
type meshes []struct {
	N       int
	Edges   [][2]int
	Cuts    []int
	Off     [][]int
	Bridges []int
	Ways    []int
}

func TestMesh_asAGraphLibraryHasIt(t *testing.T) {
	text, err := os.ReadFile("testdata/meshes.json")
	require.NoError(t, err)
	var all meshes
	require.NoError(t, json.Unmarshal(text, &all))
	require.Len(t, all, 120)
	for i, g := range all {
		var edges []Edge
		for _, e := range g.Edges {
			edges = append(edges, Edge{A: e[0], B: e[1], Margin: 10})
		}
		m := NewMesh(g.N, edges)
		weak := m.Weak()
		slices.Sort(weak.Links)
		assert.Equal(t, g.Cuts, append([]int{}, weak.Nodes...), "graph %d", i)
		assert.Equal(t, g.Bridges, append([]int{}, weak.Links...), "graph %d", i)
		for v, want := range g.Ways {
			assert.Equal(t, want, m.Disjoint(v, 0), "graph %d, node %d", i, v)
		}
		off := OffWithout(m, g.N)
		for v := 1; v < g.N; v++ {
			assert.Equal(t, g.Off[v], off[v], "graph %d, node %d", i, v)
		}
	}
}
