package room

import (
	"fmt"
	"net/http"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/propose"
	"scopewright/web/edits"
)

// starting is what a person may start from: intents that fit the room's use and
// its matrix, of kinds that it has none of yet.
type starting struct {
	Use     string // "Classroom", or what stands for rooms without a use
	Named   bool   // the room says what it is for
	Intents []domain.Intent
}

func (b *bench) starting() starting {
	use := b.use()
	info, known := use.Info()
	s := starting{Use: "any room", Named: known && use != "other"}
	if s.Named {
		s.Use = info.Name
	}
	s.Intents = propose.MissingKinds(propose.StartingIntents(b.project, use, b.design), b.design)
	return s
}

func (b *bench) use() domain.Use {
	if b.isTypical() {
		return b.typical.Use
	}
	return b.room.Use
}

// start adds those of the proposed intents that the person ticked, as one step.
// The base version says that they are the ones which the page showed.
func (s Screen) start(w http.ResponseWriter, r *http.Request) {
	if err := r.ParseForm(); err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	b, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	list := b.starting().Intents
	var take edit.StartIntents
	for _, text := range r.PostForm["take"] {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n >= len(list) {
			edits.Refuse(w, r, s.Log, &edit.Refused{Err: fmt.Errorf("the intents to start from have changed: reload the page and tick them again")})
			return
		}
		in := list[n]
		in.ID = domain.NewID()
		take.Intents = append(take.Intents, in)
	}
	outcome, err := s.apply(r, take)
	s.done(w, r, outcome, err)
}
