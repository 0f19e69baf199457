package plan

import (
	"encoding/json"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/daylight"
	"scopewright/domain/radio"
	"scopewright/web/edits"
)

// overlay is what a page shows of physics beneath the devices. Each page chooses
// its own, so that it is no part of the state that pages share.
type overlay struct {
	room domain.ID // "": all rooms of the storey
	look
}

// showing is what an overlay is about.
type showing string

const (
	ofMargin   showing = "margin"   // of radio links
	ofSight    showing = "sight"    // of presence sensors
	ofDaylight showing = "daylight" // zones, factors, sensors: aspects of it
)

// look is what an overlay shows of a room.
type look struct {
	show   showing
	small  bool   // of sight: small motion; false: a person who walks
	aspect aspect // of daylight
	code   string // of daylight zones: by whose rules where the project names none
	whole  bool   // one room of a whole storey that is shown: in less detail
}

// overlayHeader tells with each request which overlay a page shows: the name of
// the state that it was made for, a space, and the choice as a query.
const overlayHeader = "X-Overlay"

// readOverlay reads a choice: show=margin, sight or daylight, room, motion=walk or
// small, view=zones, factor or sensors, code.
func readOverlay(query string) (overlay, error) {
	q, err := url.ParseQuery(query)
	if err != nil {
		return overlay{}, edits.Refusef("the overlay could not be read: reload the page and try again")
	}
	o := overlay{room: domain.ID(q.Get("room")), look: look{show: showing(q.Get("show"))}}
	o.whole = o.room == ""
	switch o.show {
	case ofMargin:
	case ofSight:
		o.small = q.Get("motion") == "small"
	case ofDaylight:
		if o.aspect, o.code, err = readAspect(q); err != nil {
			return overlay{}, err
		}
	default:
		return overlay{}, edits.Refusef("the plan knows no overlay %.40q", o.show)
	}
	return o, nil
}

// overlayNews is what is new of an overlay, for static/js/plan/overlay.js.
type overlayNews struct {
	Of       string             `json:"of"`   // the choice, as the page put it
	From     string             `json:"from"` // the state that it goes on from; "": all of it is here
	Now      string             `json:"now"`
	Sections map[string]changes `json:"sections"`
}

// showOverlay answers with an overlay as a whole.
func (s Screen) showOverlay(w http.ResponseWriter, r *http.Request) {
	news, err := s.wholeOverlay(r)
	if err != nil {
		status, sentence := edits.Status(err)
		http.Error(w, sentence, status)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	if err := json.NewEncoder(w).Encode(news); err != nil {
		s.Log.Warn("answer not sent", "path", r.URL.Path, "error", err)
	}
}

func (s Screen) wholeOverlay(r *http.Request) (*overlayNews, error) {
	o, err := readOverlay(r.URL.RawQuery)
	if err != nil {
		return nil, err
	}
	st, err := s.read(r)
	if err != nil {
		return nil, err
	}
	now, err := s.current(r.Context(), st)
	if err != nil {
		return nil, err
	}
	return now.overlaid(o, nil, r.URL.RawQuery), nil
}

// overlayNews gives what is new of the overlay that a page says it shows, nil
// where it shows none.
func (s Screen) overlayNews(storey storeyKey, now *shown, header string) *overlayNews {
	have, query, told := strings.Cut(header, " ")
	if !told {
		return nil
	}
	o, err := readOverlay(query)
	if err != nil {
		return nil
	}
	return now.overlaid(o, s.kept.find(storey, have), query)
}

// overlaid gives an overlay as a later state shows it beside an earlier one,
// which may be nil.
func (s *shown) overlaid(o overlay, before *shown, query string) *overlayNews {
	out := &overlayNews{Of: query, Now: s.name, Sections: map[string]changes{}}
	var was []section
	if before != nil {
		out.From, was = before.name, before.overlay(o, nil)
	}
	for i, to := range s.overlay(o, before) {
		if before == nil {
			out.Sections[to.name] = changes{All: to.all()}
		} else if c := to.changes(&was[i]); c.All != nil || len(c.Put)+len(c.Gone) > 0 {
			out.Sections[to.name] = c
		}
	}
	return out
}

// overlay gives the sections of an overlay. What a room's devices gave before
// spares reckoning all of it anew after one has moved.
func (s *shown) overlay(o overlay, before *shown) []section {
	cells, lines, list := section{name: "svg:overlay-cells"}, section{name: "svg:overlay-lines"}, section{name: "html:overlay-list"}
	var project *domain.Project
	for _, r := range s.order {
		one := s.rooms[r]
		project = one.project
		if o.room != "" && o.room != r.ID {
			continue
		}
		drawn := one.over.of(r, one.project, o.look, before.models(r.ID))
		cells.groups, lines.groups, list.groups = append(cells.groups, drawn.cells), append(lines.groups, drawn.lines), append(list.groups, drawn.list)
	}
	if o.whole && o.show == ofDaylight && !slices.ContainsFunc(list.groups, func(g *group) bool { return len(*g) > 0 }) {
		list.groups = append(list.groups, rows(overlayRow{ID: "none", Title: noDaylight(o.aspect)}))
	}
	words := one("html:overlay-legend", "")
	if project != nil {
		words = one("html:overlay-legend", asMarkup(overlayLegend(legendOf(project, o.look))))
	}
	return []section{cells, lines, list, words}
}

// roomOverlay is what an overlay shows of one room.
type roomOverlay struct{ cells, lines, list *group }

// overlays are those of one room that somebody looked at. They are made when
// they are first asked for.
type overlays struct {
	mu    sync.Mutex
	drawn map[look]roomOverlay
	models
}

// models are what a room's overlays are drawn from; nil where nobody asked.
type models struct {
	fine, coarse *radio.Map // of the room shown alone, and among others
	sight        *coverage.Room
	day          *dayRoom
	zones        *dayZones
	factors      *daylight.Grid
}

// models gives those of a room in a state, which may be nil.
func (s *shown) models(id domain.ID) models {
	if s == nil {
		return models{}
	}
	for r, one := range s.rooms {
		if r.ID == id {
			one.over.mu.Lock()
			defer one.over.mu.Unlock()
			return one.over.models
		}
	}
	return models{}
}

func (o *overlays) of(r *domain.Resolved, p *domain.Project, l look, before models) roomOverlay {
	o.mu.Lock()
	defer o.mu.Unlock()
	if drawn, done := o.drawn[l]; done {
		return drawn
	}
	if o.drawn == nil {
		o.drawn = map[look]roomOverlay{}
	}
	var drawn roomOverlay
	switch l.show {
	case ofSight:
		if o.sight == nil {
			o.sight = before.sight.Again(p, r)
		}
		drawn = sightOverlay(p, r, o.sight, l)
	case ofDaylight:
		drawn = dayOverlay(p, r, l, &o.models, before)
	default:
		drawn = marginOverlay(p, r, l, &o.models, before)
	}
	o.drawn[l] = drawn
	return drawn
}
