package review

import (
	"net/http"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// place is what is reviewed: a room, or the project where room is nil.
type place struct {
	project  *domain.Project
	room     *store.RoomState
	opinions []domain.Opinion
	signOffs []domain.SignOff // of the room, in the order in which they were made
	findings []rule.Finding   // of the room
	hash     string           // what the room's sheet prints now
}

func roomID(r *http.Request) domain.ID { return domain.ID(chi.URLParam(r, "room")) }

// load reads the place that a request names.
func (s Screen) load(r *http.Request) (*place, error) {
	id, room := edits.ProjectID(r), roomID(r)
	p := &place{}
	asked := domain.AskProject
	var err error
	if room == "" {
		p.project, _, err = s.Store.Project(r.Context(), id)
	} else {
		asked = domain.AskRoom
		err = s.loadRoom(r, p, id, room)
	}
	if err != nil {
		return nil, err
	}
	steps, err := s.Store.Reviews(r.Context(), id, room)
	if err != nil {
		return nil, err
	}
	p.opinions = domain.Opinions(p.project.Checklist, asked, steps)
	return p, nil
}

func (s Screen) loadRoom(r *http.Request, p *place, id, room domain.ID) error {
	state, err := s.Store.Room(r.Context(), room)
	if err != nil {
		return err
	}
	if state.ProjectID != id {
		return &store.Failure{Kind: store.ErrNotFound, Sentence: "There is no such room in this project: it may have been removed."}
	}
	p.room, p.project = state, state.Project
	p.hash = s.Hash(state.Project, state.Resolved)
	p.findings = s.Judge(state.Project, state.Resolved)
	p.signOffs, err = s.Store.SignOffs(r.Context(), id, room)
	return err
}

func (p *place) roomID() domain.ID {
	if p.room == nil {
		return ""
	}
	return p.room.Resolved.ID
}

// path is where the place's page lies.
func (p *place) path() string {
	if p.room == nil {
		return ui.Review(p.project.ID)
	}
	return ui.RoomReview(p.project.ID, p.roomID())
}

func (p *place) opinion(item domain.ID) *domain.Opinion {
	for i := range p.opinions {
		if p.opinions[i].Item.ID == item {
			return &p.opinions[i]
		}
	}
	return nil
}

var errNoName = edits.Refusef("Enter your name first, at the top right of the page: a second opinion needs a person's name.")

// errMeanwhile says that someone else spoke about the item first.
const errMeanwhile = edits.Sentence("Someone else spoke about this question meanwhile; nothing was stored. Read the newer step and decide again.")
