package dxf

// selfHolding gives the blocks that hold themselves, straight or through
// others, each with the count 0. It is found before anything is placed, for
// placing a part of such a block would mislead.
//
// A block is in a circle where it is in a strongly connected component of more
// than one, or inserts itself. Tarjan's algorithm with a stack of its own, so
// that a chain of a million blocks does not exhaust the program's.
func selfHolding(blocks map[string]*block) map[string]int {
	t := &tarjan{blocks: blocks, index: map[string]int{}, low: map[string]int{}, on: map[string]bool{}, found: map[string]int{}}
	for key := range blocks {
		if t.index[key] == 0 {
			t.walk(key)
		}
	}
	return t.found
}

type tarjan struct {
	blocks     map[string]*block
	index, low map[string]int // index counts from 1
	on         map[string]bool
	stack      []string
	found      map[string]int
}

type visit struct {
	key  string
	next int // placing to look at next
}

func (t *tarjan) open(key string) visit {
	n := len(t.index) + 1
	t.index[key], t.low[key] = n, n
	t.stack, t.on[key] = append(t.stack, key), true
	return visit{key: key}
}

func (t *tarjan) walk(root string) {
	work := []visit{t.open(root)}
	for len(work) > 0 {
		v := &work[len(work)-1]
		placings := t.blocks[v.key].holds.placings
		if v.next < len(placings) {
			to := placings[v.next].block
			v.next++
			switch {
			case t.blocks[to] == nil:
			case to == v.key:
				t.found[to] = 0
			case t.index[to] == 0:
				work = append(work, t.open(to))
			case t.on[to]:
				t.low[v.key] = min(t.low[v.key], t.index[to])
			}
			continue
		}
		key := v.key
		work = work[:len(work)-1]
		if t.low[key] == t.index[key] {
			t.shut(key)
		}
		if len(work) > 0 {
			above := work[len(work)-1].key
			t.low[above] = min(t.low[above], t.low[key])
		}
	}
}

// shut takes a finished component off the stack.
func (t *tarjan) shut(key string) {
	size := 0
	for {
		n := len(t.stack) - 1
		top := t.stack[n]
		t.stack, t.on[top] = t.stack[:n], false
		size++
		if size > 1 || top != key {
			t.found[top] = 0
		}
		if top == key {
			return
		}
	}
}
