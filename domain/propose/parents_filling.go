package propose

// filling asks how many children find no router with room, whoever goes where:
// what is left of them after a maximum flow (augmenting paths, Ford and Fulkerson,
// 1956). It is what a search asks again and again.
type filling struct {
	hears [][]int // by child: routers
	room  []int   // by router

	by   [][]int // by router: its children
	seen []bool  // routers on the way
}

func (f *filling) short() (n int) {
	for r := range f.by {
		f.by[r] = f.by[r][:0]
	}
	for c := range f.hears {
		if f.put(c) {
			continue
		}
		clear(f.seen)
		if !f.move(c) {
			n++
		}
	}
	return n
}

// put gives a child a router that has room.
func (f *filling) put(c int) bool {
	for _, r := range f.hears[c] {
		if len(f.by[r]) < f.room[r] {
			f.by[r] = append(f.by[r], c)
			return true
		}
	}
	return false
}

// move finds room for a child by moving others along.
func (f *filling) move(c int) bool {
	for _, r := range f.hears[c] {
		if f.seen[r] || f.room[r] == 0 {
			continue
		}
		f.seen[r] = true
		if len(f.by[r]) < f.room[r] {
			f.by[r] = append(f.by[r], c)
			return true
		}
		for k, other := range f.by[r] {
			if f.move(other) {
				f.by[r][k] = c
				return true
			}
		}
	}
	return false
}
