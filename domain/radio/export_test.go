package radio

// LossByEach tests each obstacle, for comparison.
func (f *Field) LossByEach(a, b Place) float64 {
	sum := 0.0
	for i := range f.strips {
		if f.strips[i].crosses(a, b) {
			sum += f.strips[i].loss
		}
	}
	return sum
}

// OffWithout gives, for each node but the first, the nodes that have a way to the
// first only through it.
func OffWithout(m *Mesh, n int) [][]int {
	out := make([][]int, n)
	all := m.reach(0, -1, make([]bool, n))
	for v := 1; v < n; v++ {
		seen := make([]bool, n)
		m.reach(0, v, seen)
		out[v] = []int{}
		for _, i := range all {
			if !seen[i] && i != v {
				out[v] = append(out[v], i)
			}
		}
	}
	return out
}
