package plan

import (
	"fmt"
	"slices"
	"sync"
	"time"

	"scopewright/domain"
)

// storeyKey names a storey of a project.
type storeyKey struct{ project, storey domain.ID }

// kept holds what open pages show of the storeys that were looked at last, so
// that an answer can say what is new to a page. What it has forgotten, a page is
// sent as a whole.
type kept struct {
	mu     sync.Mutex
	start  string // of this run: a page may have stayed open since another
	count  int
	states map[storeyKey][]*shown // the newest last
	order  []storeyKey            // looked at last at the end
}

// Bounds: a storey of 300 rooms and 3,000 devices takes some 8 MB, its further
// states little.
const (
	mostStoreys = 6
	mostStates  = 12
)

func newKept() *kept {
	return &kept{start: fmt.Sprintf("%x", time.Now().UnixNano()), states: map[storeyKey][]*shown{}}
}

// newest gives the newest state of a storey, nil for none.
func (k *kept) newest(at storeyKey) *shown {
	k.mu.Lock()
	defer k.mu.Unlock()
	if list := k.states[at]; len(list) > 0 {
		return list[len(list)-1]
	}
	return nil
}

func (k *kept) find(at storeyKey, name string) *shown {
	k.mu.Lock()
	defer k.mu.Unlock()
	for _, s := range k.states[at] {
		if s.name == name {
			return s
		}
	}
	return nil
}

// keep names a state and keeps it; it gives the newest one instead where that
// shows the same.
func (k *kept) keep(at storeyKey, now *shown) *shown {
	if last := k.newest(at); last != nil && now.sameAs(last) {
		return last
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	k.count++
	now.name = fmt.Sprintf("%s-%d", k.start, k.count)
	list := append(k.states[at], now)
	k.states[at] = list[max(0, len(list)-mostStates):]
	k.order = append(slices.DeleteFunc(k.order, func(o storeyKey) bool { return o == at }), at)
	for len(k.order) > mostStoreys {
		delete(k.states, k.order[0])
		k.order = k.order[1:]
	}
	return now
}
