package intake

import (
	"crypto/rand"
	"encoding/hex"
	"sync"
	"time"

	"scopewright/domain"
	"scopewright/store/intake/luminaires"
	"scopewright/store/intake/pdfpage"
	"scopewright/store/intake/roomlist"
	"scopewright/store/intake/table"
	"scopewright/web/edits"
)

// kind is what a file holds.
type kind string

const (
	isRooms      kind = "rooms"
	isLuminaires kind = "luminaires"
	isProject    kind = "project"
	isModel      kind = "model"   // a building model or a drawing
	isPages      kind = "pages"   // a PDF of which one page goes beneath a storey
	isPicture    kind = "picture" // for beneath a storey
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
	model      *modelFile
	pages      *pdfpage.Contents
	picture    *pictureFile
	reading    *reading // while the file is being read
	wrong      error    // why the file could not be read, or not by its answers
	report     *report  // once it has been carried out
}

// Bounds of the shelf: how long a file is kept, how many, and how large they
// may be together.
const (
	keepFor     = 30 * time.Minute
	mostParcels = 16
	mostKept    = 160 << 20 // bytes: a model of the largest size, and more
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
const errForgotten = edits.Sentence("This file is no longer kept: a preview lasts for 30 minutes. Send the file again.")

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
	s.remove(token)
}

func (s *shelf) remove(token string) {
	if k := s.byKey[token]; k != nil {
		k.stop()
	}
	delete(s.byKey, token)
}

// swap lays fresh in place of old, unless old no longer lies there.
func (s *shelf) swap(old, fresh *parcel) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if k := s.byKey[old.token]; k != nil && k.parcel == old {
		s.byKey[old.token] = &kept{fresh, s.now()}
	}
}

// forget drops what is old.
func (s *shelf) forget() {
	for token, k := range s.byKey {
		if s.now().Sub(k.at) > keepFor {
			s.remove(token)
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
		s.remove(oldest)
	}
}

func (s *shelf) over() bool {
	size := 0
	for _, k := range s.byKey {
		size += len(k.data)
		if k.picture != nil && k.picture.from != fromItself {
			size += len(k.picture.Data)
		}
	}
	return len(s.byKey) > mostParcels || size > mostKept
}
