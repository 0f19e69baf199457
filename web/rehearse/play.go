package rehearse

import (
	"encoding/json"
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/web/edits"
)

// answer is what follows from a rehearsal's steps, from the start to a good way
// beyond the moment that the page shows: the page plays it without asking.
// Times are seconds since the start, levels percent.
type answer struct {
	Until  float64     `json:"until"` // how far it reaches
	Wall   []wallPiece `json:"wall"`
	Tracks []track     `json:"tracks"`
	Log    []entry     `json:"log"`
	States []textAt    `json:"states"` // the room's mode and so on
	Why    []linesAt   `json:"why"`    // causes of one load's level
	Faults []string    `json:"faults"` // of the design, that cannot be run
}

// track is the output of a load: straight between two points, two points at the
// same time are a jump.
type track struct {
	Load   domain.ID    `json:"load"`
	Points [][2]float64 `json:"points"`
	Words  []textAt     `json:"words"` // "locked", "warning"; empty for nothing of the kind
}

// entry is one line of the timeline.
type entry struct {
	At     float64  `json:"at"`
	What   string   `json:"what"`
	Why    string   `json:"why"`
	Own    bool     `json:"own"`    // a step, not a consequence
	Levels []change `json:"levels"` // loads that it sends somewhere
}

// change is a load with the level that it goes to; these pairs are arrays in
// JSON, as the page's script reads them.
type change struct {
	Load  domain.ID
	Level float64
}

type textAt struct {
	At   float64
	Text string
}

type linesAt struct {
	At    float64
	Lines []string
}

// wallPiece says what the wall clock shows from a time on: milliseconds since
// 1970 that read as UTC. A further piece begins where summer time does or ends.
type wallPiece struct {
	At float64
	MS int64
}

func (c change) MarshalJSON() ([]byte, error)    { return json.Marshal([2]any{c.Load, c.Level}) }
func (t textAt) MarshalJSON() ([]byte, error)    { return json.Marshal([2]any{t.At, t.Text}) }
func (l linesAt) MarshalJSON() ([]byte, error)   { return json.Marshal([2]any{l.At, l.Lines}) }
func (p wallPiece) MarshalJSON() ([]byte, error) { return json.Marshal([2]any{p.At, p.MS}) }

// play answers with what follows from the steps.
func (s Screen) play(w http.ResponseWriter, r *http.Request) {
	b, err := s.read(r)
	if err != nil {
		s.refusePlay(w, r, err)
		return
	}
	x, err := readRehearsal(w, r, b)
	if err != nil {
		s.refusePlay(w, r, err)
		return
	}
	s.send(w, r, http.StatusOK, b.play(x))
}

// refusePlay says in a sentence why steps are not played.
func (s Screen) refusePlay(w http.ResponseWriter, r *http.Request, err error) {
	status, sentence := edits.Status(err)
	if status >= http.StatusInternalServerError {
		s.Log.Error("request failed", "method", r.Method, "path", r.URL.Path, "error", err)
	}
	s.send(w, r, status, map[string]string{"error": strings.TrimSuffix(upper(sentence), ".") + "."})
}

func (s Screen) send(w http.ResponseWriter, r *http.Request, status int, what any) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	if err := json.NewEncoder(w).Encode(what); err != nil {
		s.Log.Warn("answer not sent", "path", r.URL.Path, "error", err)
	}
}
