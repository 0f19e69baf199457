package intake

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"runtime/debug"
	"sync/atomic"
	"time"

	"scopewright/store/intake/building"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// reading is a file on its way from bytes to rooms, or to a picture, which can
// take a while and can be stopped.
type reading struct {
	words       func(done, total int64) string // say how far it is
	done, total atomic.Int64                   // bytes, or parts of a hundred
	cancel      context.CancelFunc
	finished    chan struct{}
}

// Reading a model takes memory: this many at a time.
const mostReading = 2

var readingSlots = make(chan struct{}, mostReading)

// shortWait is how long a request waits for a reading before it shows how far
// it is.
const shortWait = 1500 * time.Millisecond

// work makes of a parcel what its file holds. The parcel is its own.
type work func(ctx context.Context, into *parcel, progress building.Progress) error

// startReading reads a parcel's model by answers.
func (s Screen) startReading(p *parcel, a answers) *parcel {
	return s.start(p, modelWords(len(p.data)), func(ctx context.Context, into *parcel, progress building.Progress) (err error) {
		f, err := readModel(ctx, into.name, into.data, a, into.model, progress)
		if err == nil {
			into.model = f
		}
		return err
	})
}

// start lays a parcel on the shelf and works on it. What comes of it lies under
// the same token; until then the parcel says how far it is.
func (s Screen) start(p *parcel, words func(done, total int64) string, do work) *parcel {
	ctx, cancel := context.WithCancel(context.Background())
	p.reading = &reading{words: words, cancel: cancel, finished: make(chan struct{})}
	p.reading.total.Store(int64(len(p.data)))
	s.shelf.put(p)
	go func() {
		defer close(p.reading.finished)
		defer cancel()
		fresh := *p
		fresh.reading, fresh.wrong = nil, nil
		read := fresh
		if err := s.safely(ctx, p, &read, do); err != nil {
			fresh.wrong = err
		} else {
			fresh = read
		}
		s.shelf.swap(p, &fresh)
	}()
	return p
}

// safely keeps a fault of a reader from ending the program.
func (s Screen) safely(ctx context.Context, p, into *parcel, do work) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			s.Log.Error("reading a plan failed", "file", p.name, "fault", fault, "stack", string(debug.Stack()))
			err = edits.Sentence("The file could not be read: something in it, or in the program, is wrong. The log says more.")
		}
	}()
	select {
	case readingSlots <- struct{}{}:
		defer func() { <-readingSlots }()
	case <-ctx.Done():
		return errStopped
	}
	err = do(ctx, into, func(done, total int64) {
		p.reading.done.Store(done)
		p.reading.total.Store(max(done, total))
	})
	if errors.Is(err, context.Canceled) {
		return errStopped
	}
	return err
}

var errStopped = edits.Sentence("Reading was stopped; nothing was imported.")

// wait waits a moment for a reading, for most take less.
func (s Screen) wait(r *http.Request, g *reading) {
	select {
	case <-g.finished:
	case <-r.Context().Done():
	case <-time.After(s.patience):
	}
}

// stop ends a reading that nobody waits for any more.
func (p *parcel) stop() {
	if p.reading != nil {
		p.reading.cancel()
	}
}

// progressView says how far a reading is.
type progressView struct {
	Path, Name  string
	Done, Total int64
	Words       string
}

func newProgressView(p *parcel) progressView {
	v := progressView{Path: ui.ImportPreview(p.project, p.token), Name: p.name, Done: p.reading.done.Load(), Total: max(1, p.reading.total.Load())}
	v.Words = p.reading.words(v.Done, v.Total)
	return v
}

// modelWords say how far a model of so many bytes is read.
func modelWords(size int) func(done, total int64) string {
	return func(done, total int64) string {
		if done >= total {
			return "read; now rooms and walls are put together"
		}
		return fmt.Sprintf("%d %% of %s", 100*done/total, megabytes(int64(size)))
	}
}

func megabytes(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d KB", n>>10+1)
	}
	return fmt.Sprintf("%d MB", n>>20)
}

// progress is asked again and again by the page that waits.
func (s Screen) progress(w http.ResponseWriter, r *http.Request) {
	p, err := s.kept(r)
	if err != nil || p.reading == nil {
		w.Header().Set("HX-Redirect", ui.ImportPreview(edits.ProjectID(r), token(r)))
		w.WriteHeader(http.StatusOK)
		return
	}
	edits.Render(w, r, s.Log, http.StatusOK, progressPart(newProgressView(p)))
}
