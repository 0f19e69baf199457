package geom

import (
	"math"
	"sort"
)

// Faces gives the areas that lines enclose, as rooms between walls: each
// smallest area once, with holes where other lines stand free inside it,
// largest first. Lines within tolerance meters of meeting count as meeting,
// crossings cut both, loose ends are left out. Areas under NoArea are dropped.
func Faces(lines []Segment, tolerance float64) ([]Polygon, error) {
	if len(lines) > maxVertices {
		return nil, ErrTangled
	}
	points, chains, err := cutAtNodes(lines, tolerance)
	if err != nil {
		return nil, err
	}
	edges := undirected(chains)
	return nest(withoutBridges(points, edges, walkCycles(points, edges)), points), nil
}

func undirected(chains []chain) map[[2]int]bool {
	edges := map[[2]int]bool{}
	for _, c := range chains {
		for i := 1; i < len(c); i++ {
			edges[[2]int{min(c[i-1], c[i]), max(c[i-1], c[i])}] = true
		}
	}
	return edges
}

// withoutBridges takes the bridges out of edges and walks the cycles again.
func withoutBridges(points []Point, edges map[[2]int]bool, cycles [][]int) [][]int {
	found := bridges(cycles)
	if len(found) == 0 {
		return cycles
	}
	for e := range found {
		delete(edges, e)
	}
	return walkCycles(points, edges)
}

func ringOf(cycle []int, points []Point) []Point {
	ring := make([]Point, len(cycle))
	for i, n := range cycle {
		ring[i] = points[n]
	}
	return ring
}

// walkCycles walks every edge once in each direction, turning as far left as
// it can at each node, and so goes once around each area: counterclockwise
// inside it, clockwise around a whole cluster of lines.
func walkCycles(points []Point, edges map[[2]int]bool) [][]int {
	around := make([][]int, len(points))
	for e := range edges {
		around[e[0]], around[e[1]] = append(around[e[0]], e[1]), append(around[e[1]], e[0])
	}
	for i := range around {
		sortBy(around[i], func(j int) float64 { return bearing(points[i], points[j]) })
	}
	next := map[[2]int]int{} // after going from, to: on to which node
	for at, neighbors := range around {
		for k, from := range neighbors {
			next[[2]int{from, at}] = neighbors[(k+len(neighbors)-1)%len(neighbors)]
		}
	}
	var cycles [][]int
	seen := map[[2]int]bool{}
	for from, neighbors := range around {
		for _, to := range neighbors {
			var cycle []int
			for step := [2]int{from, to}; !seen[step]; step = [2]int{step[1], next[step]} {
				seen[step] = true
				cycle = append(cycle, step[0])
			}
			if len(cycle) > 0 {
				cycles = append(cycles, cycle)
			}
		}
	}
	return cycles
}

// bridges gives the edges that one cycle walks both ways: loose ends, and lines
// that tie an island to its surroundings.
func bridges(cycles [][]int) map[[2]int]bool {
	found := map[[2]int]bool{}
	for _, cycle := range cycles {
		walked := map[[2]int]bool{}
		for i, from := range cycle {
			to := cycle[(i+1)%len(cycle)]
			if walked[[2]int{to, from}] {
				found[[2]int{min(from, to), max(from, to)}] = true
			}
			walked[[2]int{from, to}] = true
		}
	}
	return found
}

// nest makes faces of the counterclockwise cycles and puts each clockwise one,
// the rim of a cluster, as a hole into the smallest face around it.
func nest(cycles [][]int, points []Point) []Polygon {
	var faces []Polygon
	var rims [][]Point
	for _, cycle := range cycles {
		ring := ringOf(cycle, points)
		switch area := SignedArea(ring); {
		case area >= NoArea:
			faces = append(faces, Polygon{Outer: ring})
		case area <= -NoArea:
			rims = append(rims, ring)
		}
	}
	sortBy(faces, func(p Polygon) float64 { return -SignedArea(p.Outer) })
	for _, rim := range rims {
		if home := smallestAround(faces, rim); home >= 0 {
			faces[home].Holes = append(faces[home].Holes, rim)
		}
	}
	for i := range faces {
		faces[i] = faces[i].Simplify(Coincident / 10)
	}
	sortBy(faces, func(p Polygon) float64 { return -p.Area() })
	return faces
}

// smallestAround presumes faces sorted by outer area, largest first. A rim
// shares no node with the face around it, so any of its corners decides.
func smallestAround(faces []Polygon, rim []Point) int {
	size := math.Abs(SignedArea(rim))
	for i := len(faces) - 1; i >= 0; i-- {
		f := faces[i]
		if SignedArea(f.Outer) > size+NoArea && f.Bounds().Contains(rim[0]) && crossesOdd(f.Outer, rim[0]) {
			return i
		}
	}
	return -1
}

func sortBy[T any](items []T, key func(T) float64) {
	sort.SliceStable(items, func(i, j int) bool { return key(items[i]) < key(items[j]) })
}
