// Package live tells open windows what changed in a project, after it is
// committed and never before. A window then fetches what it shows of it.
package live

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
)

// keepAlive is how often a silent stream sends a comment, so that a dead
// connection is noticed.
const keepAlive = 25 * time.Second

// Change is what a window is told: which subjects are now at which revision.
type Change struct {
	Subjects map[string]int64 `json:"subjects"`
	Who      string           `json:"who"`
}

// Stream serves the changes of one project as server-sent events until the
// window goes away or done closes.
func Stream(s *store.Store, done <-chan struct{}) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		project := domain.ID(chi.URLParam(r, "project"))
		flusher, ok := w.(http.Flusher)
		if !ok {
			http.Error(w, "This connection cannot stream.", http.StatusInternalServerError)
			return
		}
		events, cancel := s.Subscribe()
		defer cancel()
		w.Header().Set("Content-Type", "text/event-stream")
		w.Header().Set("Cache-Control", "no-store")
		w.WriteHeader(http.StatusOK)
		fmt.Fprint(w, ": open\n\n")
		flusher.Flush()
		tick := time.NewTicker(keepAlive)
		defer tick.Stop()
		for {
			select {
			case <-done:
				return
			case <-r.Context().Done():
				return
			case <-tick.C:
				fmt.Fprint(w, ": still here\n\n")
			case e, open := <-events:
				if !open {
					return
				}
				if e.ProjectID != project {
					continue
				}
				body, err := json.Marshal(Change{e.Subjects, e.Who})
				if err != nil {
					return
				}
				fmt.Fprintf(w, "event: changed\ndata: %s\n\n", body)
			}
			flusher.Flush()
		}
	}
}
