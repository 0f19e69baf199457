package intake

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"sync"
	"time"

	"scopewright/domain"
	"scopewright/store/intake/luminaires"
	"scopewright/store/intake/roomlist"
	"scopewright/store/intake/table"
)

// kind is what a file holds.
type kind string

const (
	isRooms      kind = "rooms"
	isLuminaires kind = "luminaires"
	isProject    kind = "project"
)

// parcel is a file between its arrival and its use. It is not changed once it
// lies on the shelf; reading it again makes another one under the same token.
type parcel struct {
	token   string
	project domain.ID
	name    string
	kind    kind
	data    []byte
	sheet   string    // worksheet to read; "" the first that holds something
	storey  domain.ID // for new rooms whose line names none

	table      *table.Table
	rooms      *roomlist.List
	luminaires *luminaires.List
	scope      *domain.Scope
}

// Bounds of the shelf: how long a file is kept, how many, and how large they
// may be together.
const (
	keepFor     = 30 * time.Minute
	mostParcels = 16
	mostKept    = 96 << 20 // bytes
)

// shelf keeps parcels in memory. What is old, or too much, goes: the oldest
// first.
type shelf struct {
	mu    sync.Mutex
	now   func() time.Time
	byKey map[string]*kept
}

type kept struct {
	*parcel
	at time.Time
}

func newShelf(now func() time.Time) *shelf { return &shelf{now: now, byKey: map[string]*kept{}} }

// put keeps a parcel and gives the token under which it lies.
func (s *shelf) put(p *parcel) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	if p.token == "" {
		var b [16]byte
		_, _ = rand.Read(b[:]) // never fails: crypto/rand ends the program first
		p.token = hex.EncodeToString(b[:])
	}
	s.byKey[p.token] = &kept{p, s.now()}
	s.forget()
	s.trim(p.token)
	return p.token
}

// errForgotten says that a file is no longer kept.
var errForgotten = errors.New("This file is no longer kept: a preview lasts for 30 minutes. Send the file again.")

func (s *shelf) get(project domain.ID, token string) (*parcel, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.forget()
	k := s.byKey[token]
	if k == nil || k.project != project {
		return nil, errForgotten
	}
	return k.parcel, nil
}

func (s *shelf) drop(token string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.byKey, token)
}

// forget drops what is old.
func (s *shelf) forget() {
	for token, k := range s.byKey {
		if s.now().Sub(k.at) > keepFor {
			delete(s.byKey, token)
		}
	}
}

// trim drops the oldest of what is too much, but for the one that came in.
func (s *shelf) trim(spare string) {
	for s.over() {
		oldest := ""
		for token, k := range s.byKey {
			if token != spare && (oldest == "" || k.at.Before(s.byKey[oldest].at)) {
				oldest = token
			}
		}
		if oldest == "" {
			return
		}
		delete(s.byKey, oldest)
	}
}

func (s *shelf) over() bool {
	size := 0
	for _, k := range s.byKey {
		size += len(k.data)
	}
	return len(s.byKey) > mostParcels || size > mostKept
}
