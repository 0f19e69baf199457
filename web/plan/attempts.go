package plan

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"sync"

	"scopewright/domain"
)

const (
	mostToken = 64   // bytes of the token that an open page gives a gesture
	mostTries = 4096 // gestures that are remembered; a page sends an unanswered one again within minutes
)

// attempts remembers which gestures were stored. An open page that got no answer
// cannot know whether its gesture was stored and sends it again under the same
// token. After a restart of the program the versions that the gesture was based
// on, and the IDs of rooms that are made of the token, keep it from being carried
// out twice.
type attempts struct {
	mu    sync.Mutex
	known map[string]*attempt
	order []string // the oldest first
}

type attempt struct {
	key    string
	ended  chan struct{}
	stored bool
}

func newAttempts() *attempts { return &attempts{known: map[string]*attempt{}} }

// begin gives an attempt to carry out and end, or nil where the gesture was
// stored already. It waits for an earlier attempt that is still going on.
func (a *attempts) begin(path, token string) *attempt {
	if token == "" {
		return &attempt{}
	}
	key := path + " " + token
	for {
		a.mu.Lock()
		earlier := a.known[key]
		if earlier == nil {
			now := &attempt{key: key, ended: make(chan struct{})}
			a.known[key] = now
			a.order = append(a.order, key)
			a.forget()
			a.mu.Unlock()
			return now
		}
		a.mu.Unlock()
		<-earlier.ended
		if earlier.stored {
			return nil
		}
	}
}

// forget drops the oldest attempts that are over.
func (a *attempts) forget() {
	for len(a.order) > mostTries {
		delete(a.known, a.order[0])
		a.order = a.order[1:]
	}
}

// end says how the attempt went. One that was refused may be tried again.
func (a *attempts) end(t *attempt, stored bool) {
	if t.key == "" {
		return
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if t.stored = stored; !stored && a.known[t.key] == t {
		delete(a.known, t.key)
	}
	close(t.ended)
}

var tokenCoding = base32.NewEncoding("0123456789abcdefghjkmnpqrstvwxyz").WithPadding(base32.NoPadding)

// roomIDs gives the IDs of rooms that the gesture makes, the same ones each time
// that it is sent: the store refuses a room that is there already.
func (g *wire) roomIDs() func() domain.ID {
	if g.token == "" {
		return domain.NewID
	}
	n := 0
	return func() domain.ID {
		n++
		sum := sha256.Sum256(fmt.Appendf(nil, "%s %d", g.token, n))
		return domain.ID(tokenCoding.EncodeToString(sum[:10]))
	}
}
