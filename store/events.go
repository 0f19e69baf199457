package store

import (
	"sync"

	"scopewright/domain"
)

// Event tells what a commit changed. Subjects are "project:ID", "typical:ID"
// and "room:ID" with their revisions now; 0 stands for what was removed. Rooms
// that follow a typical are not listed with it.
type Event struct {
	ProjectID domain.ID
	Subjects  map[string]int64
	Who       string
}

// heldEvents are kept for a slow reader; beyond them the oldest are dropped,
// as a reader fetches the newest state anyway.
const heldEvents = 64

type hub struct {
	mu   sync.Mutex
	subs map[chan Event]struct{}
	over bool
}

// Subscribe gives the events of all commits from now on, until cancel is
// called or the store is closed; then the channel is closed.
func (s *Store) Subscribe() (events <-chan Event, cancel func()) {
	ch := make(chan Event, heldEvents)
	h := &s.events
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.over {
		close(ch)
		return ch, func() {}
	}
	if h.subs == nil {
		h.subs = map[chan Event]struct{}{}
	}
	h.subs[ch] = struct{}{}
	return ch, func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		if _, on := h.subs[ch]; on {
			delete(h.subs, ch)
			close(ch)
		}
	}
}

// send never waits: the writer must not hang on a reader.
func (h *hub) send(e Event) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for ch := range h.subs {
		for sent := false; !sent; {
			select {
			case ch <- e:
				sent = true
			default:
				select {
				case <-ch:
				default:
				}
			}
		}
	}
}

func (h *hub) close() {
	h.mu.Lock()
	defer h.mu.Unlock()
	for ch := range h.subs {
		close(ch)
	}
	h.subs, h.over = nil, true
}
