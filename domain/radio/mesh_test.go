package radio_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	. "scopewright/domain/radio"
)

// named builds a mesh from pairs of letters, G first.
func named(letters string, pairs ...string) (*Mesh, []Edge) {
	at := func(b byte) int { return slices.Index([]byte(letters), b) }
	var edges []Edge
	for _, p := range pairs {
		edges = append(edges, Edge{at(p[0]), at(p[1]), 10})
	}
	return NewMesh(len(letters), edges), edges
}

// Each row was found by low-link search and by deletion, and by flow and by
// exhaustive packing of paths, apart from this program.
func TestMesh(t *testing.T) {
	grid := func(g int) (letters string, pairs []string) {
		cells := []byte("ABCDEFGHI")
		cells[6], cells[g] = cells[g], 'G'
		if g != 6 {
			cells[6] = 'X'
		}
		for i := range 9 {
			if i%3 < 2 {
				pairs = append(pairs, string([]byte{cells[i], cells[i+1]}))
			}
			if i < 6 {
				pairs = append(pairs, string([]byte{cells[i], cells[i+3]}))
			}
		}
		return string(cells), pairs
	}
	corner, cornerPairs := grid(0)
	center, centerPairs := grid(4)
	for _, row := range []struct {
		letters string
		pairs   []string
		cut     string
		bridges int
		ways    map[byte]int
		hops    map[byte]int
	}{
		{"GABC", []string{"GA", "AB", "BC"}, "AB", 3, map[byte]int{'A': 1, 'B': 1, 'C': 1}, map[byte]int{'A': 1, 'B': 2, 'C': 3}},
		{"GABC", []string{"GA", "AB", "BC", "CG"}, "", 0, map[byte]int{'A': 2, 'B': 2, 'C': 2}, map[byte]int{'A': 1, 'C': 1, 'B': 2}},
		{"GAXBC", []string{"GA", "AX", "XG", "XB", "BC", "CX"}, "X", 0, map[byte]int{'A': 2, 'X': 2, 'B': 1, 'C': 1}, map[byte]int{'B': 2, 'C': 2}},
		{"GAXYBC", []string{"GA", "AX", "XG", "XY", "YB", "BC", "CY"}, "XY", 1, map[byte]int{'A': 2, 'X': 2, 'Y': 1, 'B': 1, 'C': 1}, map[byte]int{'Y': 2, 'B': 3, 'C': 3}},
		{"GABC", []string{"GA", "GB", "GC", "AB", "AC", "BC"}, "", 0, map[byte]int{'A': 3, 'B': 3, 'C': 3}, map[byte]int{'A': 1, 'B': 1, 'C': 1}},
		{"GABCD", []string{"GA", "GB", "GC", "GD"}, "G", 4, map[byte]int{'A': 1, 'D': 1}, map[byte]int{'A': 1, 'D': 1}},
		{"GABCT", []string{"GA", "AT", "GB", "BT", "GC", "CT"}, "", 0, map[byte]int{'A': 2, 'B': 2, 'C': 2, 'T': 3}, map[byte]int{'T': 2}},
		{"GABCD", []string{"GA", "AB", "BG", "GC", "CD", "DG"}, "G", 0, map[byte]int{'A': 2, 'B': 2, 'C': 2, 'D': 2}, nil},
		{corner, cornerPairs, "", 0, map[byte]int{'B': 2, 'E': 2, 'I': 2}, map[byte]int{'I': 4}},
		{center, centerPairs, "", 0, map[byte]int{'A': 2, 'I': 2, 'B': 3, 'H': 3}, map[byte]int{'A': 2}},
		{"GABCD", []string{"GA", "AB", "BC", "CD"}, "ABC", 4, nil, nil},
		{"GABCDE", []string{"GA", "GB", "GC", "GD", "GE"}, "G", 5, nil, nil},
	} {
		m, _ := named(row.letters, row.pairs...)
		weak, cut := m.Weak(), ""
		for _, v := range weak.Nodes {
			cut += row.letters[v : v+1]
		}
		g := slices.Index([]byte(row.letters), 'G')
		assert.Equal(t, row.cut, cut, "%v", row.pairs)
		assert.Len(t, weak.Links, row.bridges, "%v", row.pairs)
		hops := m.Hops(g)
		for v, want := range row.ways {
			assert.Equal(t, want, m.Disjoint(slices.Index([]byte(row.letters), v), g), "%v: ways from %c", row.pairs, v)
		}
		for v, want := range row.hops {
			assert.Equal(t, want, hops[slices.Index([]byte(row.letters), v)], "%v: hops to %c", row.pairs, v)
		}
	}
}

// Against what the words mean: a node or link is weak if taking it out parts
// what hung together; the bottleneck is the best over all margins as thresholds.
func TestMesh_againstDeletion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "n")
		var edges []Edge
		for range rapid.IntRange(0, 14).Draw(t, "edges") {
			edges = append(edges, Edge{rapid.IntRange(0, n-1).Draw(t, "a"), rapid.IntRange(0, n-1).Draw(t, "b"), float64(rapid.IntRange(0, 5).Draw(t, "margin"))})
		}
		m := NewMesh(n, edges)
		parts := func(m *Mesh, without int) int {
			count, seen := 0, make([]bool, n)
			for v := range n {
				if v == without || seen[v] {
					continue
				}
				count++
				for u, h := range m.Hops(v) {
					seen[u] = seen[u] || h >= 0
				}
			}
			return count
		}
		var nodes, links []int
		for v := range n {
			var rest []Edge
			for _, e := range edges {
				if e.A != v && e.B != v {
					rest = append(rest, e)
				}
			}
			alone := 0
			if m.Neighbours(v) == 0 {
				alone = 1
			}
			if parts(NewMesh(n, rest), v) > parts(m, -1)-alone {
				nodes = append(nodes, v)
			}
		}
		for i, e := range edges {
			if e.A != e.B && parts(NewMesh(n, slices.Delete(slices.Clone(edges), i, i+1)), -1) > parts(m, -1) {
				links = append(links, i)
			}
		}
		weak := m.Weak()
		slices.Sort(weak.Links)
		if !slices.Equal(weak.Nodes, nodes) || !slices.Equal(weak.Links, links) {
			t.Fatalf("weak %v, by deletion nodes %v links %v", weak, nodes, links)
		}
		for v, got := range m.Bottlenecks(0) {
			want := math.Inf(-1)
			for _, margin := range []float64{0, 1, 2, 3, 4, 5} {
				var strong []Edge
				for _, e := range edges {
					if e.Margin >= margin {
						strong = append(strong, e)
					}
				}
				if NewMesh(n, strong).Hops(0)[v] >= 0 {
					want = margin
				}
			}
			if v != 0 && got != want {
				t.Fatalf("bottleneck of %d is %g, not %g", v, got, want)
			}
		}
		// Menger: what parts a node from the root takes as many nodes as there are ways.
		hops := m.Hops(0)
		for v := 1; v < n; v++ {
			if ways := m.Disjoint(v, 0); (ways > 0) != (hops[v] >= 0) || ways > m.Neighbours(v) {
				t.Fatalf("%d ways from %d with %d neighbors, hops %d", ways, v, m.Neighbours(v), hops[v])
			}
		}
	})
}
