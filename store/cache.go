package store

import (
	"container/list"
	"sync"
	"sync/atomic"

	"scopewright/domain"
)

// kind is what a document is.
type kind byte

const (
	aProject kind = iota
	aTypical
	aRoom
	aPlan // its ID is that of the storey
)

type key struct {
	kind kind
	id   domain.ID
}

// entry is one decoded document at one revision. Its values are shared and
// never changed. A revision of a subject never stands for two contents, so an
// entry is right wherever its revision is.
type entry struct {
	key
	revision int64
	size     int // of the document, bytes
	project  *domain.Project
	typical  *domain.Typical
	room     *domain.Room
	plan     *domain.Plan
	resolved atomic.Pointer[resolvedAt] // of a room

	pending bool // written and not yet committed; only the writer looks at it
}

type resolvedAt struct {
	typicalRevision, planRevision int64
	value                         *domain.Resolved
}

// resolve gives the room with its typical, on the plan of its storey; either
// may be nil.
func (e *entry) resolve(typical, plan *entry) (*domain.Resolved, error) {
	t, typicalRevision := typical.typicalAt()
	p, planRevision := plan.planAt()
	known := e.resolved.Load()
	var value *domain.Resolved
	switch {
	case known == nil || known.typicalRevision != typicalRevision:
		var err error
		if value, err = domain.Resolve(e.room, t); err != nil {
			return nil, err
		}
	case known.planRevision == planRevision:
		return known.value, nil
	default:
		value = known.value
	}
	value = value.OnPlan(p)
	// A committed room must not remember what is not committed yet: the edit may
	// still fail.
	if e.pending || !typical.isPending() && !plan.isPending() {
		e.resolved.Store(&resolvedAt{typicalRevision, planRevision, value})
	}
	return value, nil
}

func (e *entry) typicalAt() (*domain.Typical, int64) {
	if e == nil {
		return nil, 0
	}
	return e.typical, e.revision
}

func (e *entry) planAt() (*domain.Plan, int64) {
	if e == nil {
		return nil, 0
	}
	return e.plan, e.revision
}

func (e *entry) isPending() bool { return e != nil && e.pending }

// cache keeps the decoded documents that were used last, up to a number of
// bytes of their JSON.
type cache struct {
	mu    sync.Mutex
	most  int
	held  int
	byKey map[key]*list.Element // of *entry
	order *list.List            // most recently used first
}

func newCache(most int) *cache {
	return &cache{most: most, byKey: map[key]*list.Element{}, order: list.New()}
}

// get gives the entry at exactly that revision, nil where it is not held.
func (c *cache) get(k key, revision int64) *entry {
	c.mu.Lock()
	defer c.mu.Unlock()
	at := c.byKey[k]
	if at == nil || at.Value.(*entry).revision != revision {
		return nil
	}
	c.order.MoveToFront(at)
	return at.Value.(*entry)
}

// put keeps the entry, unless a newer or the same one is held: it gives the one
// to use. A reader on an older snapshot so never pushes out what is newer.
func (c *cache) put(e *entry) *entry {
	c.mu.Lock()
	defer c.mu.Unlock()
	if at := c.byKey[e.key]; at != nil {
		held := at.Value.(*entry)
		if held.revision == e.revision {
			return held
		}
		if held.revision > e.revision {
			return e
		}
		c.drop(at)
	}
	c.byKey[e.key] = c.order.PushFront(e)
	c.held += e.size
	for c.held > c.most && c.order.Len() > 1 {
		c.drop(c.order.Back())
	}
	return e
}

func (c *cache) drop(at *list.Element) {
	e := c.order.Remove(at).(*entry)
	delete(c.byKey, e.key)
	c.held -= e.size
}

func (c *cache) remove(k key) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if at := c.byKey[k]; at != nil {
		c.drop(at)
	}
}
