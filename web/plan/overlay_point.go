package plan

import (
	"fmt"
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// pointView tells the daylight factor at a point.
type pointView struct {
	At      string // the point, for the page's script
	Title   string
	Text    string // beside the point
	Said    string // read aloud
	Steps   []whyStep
	Nothing string // why there is nothing to tell
}

// light tells the daylight factor at a point: at=x,y in meters, of the room where one
// is shown alone, have the state that the page shows.
func (s Screen) light(w http.ResponseWriter, r *http.Request) {
	v, err := s.lightAt(r)
	if err != nil {
		status, sentence := edits.Status(err)
		http.Error(w, sentence, status)
		return
	}
	w.Header().Set("Cache-Control", "no-store")
	edits.Render(w, r, s.Log, http.StatusOK, pointLight(*v))
}

func (s Screen) lightAt(r *http.Request) (*pointView, error) {
	q := r.URL.Query()
	var at geom.Point
	if n, err := fmt.Sscanf(q.Get("at"), "%g,%g", &at.X, &at.Y); err != nil || n != 2 || !at.Finite() {
		return nil, edits.Refusef("%.40q is no point: name it by x and y in meters", q.Get("at"))
	}
	// A pointer that moves asks often: what is kept of the page's state spares reading.
	now := s.kept.find(storeyKey{edits.ProjectID(r), storeyID(r)}, q.Get("have"))
	if now == nil {
		st, err := s.read(r)
		if err != nil {
			return nil, err
		}
		if now, err = s.current(r.Context(), st); err != nil {
			return nil, err
		}
	}
	return now.lightAt(at, domain.ID(q.Get("room"))), nil
}

// lightAt tells the daylight factor at a point of a state; room is "" for any.
func (s *shown) lightAt(at geom.Point, room domain.ID) *pointView {
	v := &pointView{At: lookAt(at), Title: "Nothing here", Nothing: "The point lies in no room that is drawn."}
	for i := len(s.order) - 1; i >= 0; i-- { // of rooms that overlap the last, as on the page
		r := s.order[i]
		if room != "" && r.ID != room || r.Outline.Empty() || !r.Outline.Contains(at) {
			continue
		}
		one := s.rooms[r]
		v.tell(one.project, r, one.over.dayRoom(r, one.project), at)
		return v
	}
	if room != "" {
		v.Nothing = "The point lies outside of the room that is shown."
	}
	return v
}

// dayRoom gives a room as daylight sees it, made where nobody asked before.
func (o *overlays) dayRoom(r *domain.Resolved, p *domain.Project) *dayRoom {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.day == nil {
		o.day = dayOf(p, r, nil)
	}
	return o.day
}

func (v *pointView) tell(p *domain.Project, r *domain.Resolved, day *dayRoom, at geom.Point) {
	d := &dayDrawing{p, r, day, look{}}
	v.Title, v.Nothing = r.Label(), d.dark()
	switch {
	case v.Nothing != "":
		return
	case d.err != nil:
		v.Nothing = edits.SentenceOf(d.err)
		return
	}
	f, sys := d.light.At(at), p.Units
	v.Text = factorText(f.Total()) + ", " + lightOf(f.Total(), sys)
	v.Title = "Daylight factor " + factorText(f.Total()) + " in " + r.Label()
	v.Said = fmt.Sprintf("Daylight factor %s: sky %s, from outside %s, inside %s", factorText(f.Total()), factorText(f.Sky), factorText(f.Facing), factorText(f.Inside))
	step := func(what string, percent float64, sum bool) whyStep {
		return whyStep{What: what, Value: factorText(percent), Sum: sum}
	}
	v.Steps = []whyStep{
		step("Straight from the sky", f.Sky, false), step("From what stands outside", f.Facing, false), step("Reflected inside, the room's mean", f.Inside, false),
		step("Daylight factor", f.Total(), true), {What: "Light under " + units.Light(outdoors, sys) + " outdoors", Value: lightOf(f.Total(), sys)},
		{What: "At", Value: strings.Join([]string{units.Offset(units.Metres(at.X), sys), units.Offset(units.Metres(at.Y), sys)}, ", ")},
		{What: "Height above the floor", Value: units.PlainLength(d.in.WorkPlane, sys)},
	}
}
