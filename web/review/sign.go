package review

import (
	"errors"
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// errChangedMeanwhile says that the room is not what the person looked at.
const errChangedMeanwhile = edits.Sentence("The room changed while this page was open, so nothing was signed. Look at what is new, then sign again.")

// sign puts a person's name under the room as it is now.
func (s Screen) sign(w http.ResponseWriter, r *http.Request) {
	p, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	o, err := s.newSignOff(r, p)
	if err == nil {
		_, err = s.Store.SignOff(r.Context(), p.project.ID, o)
	}
	toast := ""
	if err == nil {
		toast = "Signed by " + o.Name + "."
	}
	s.answerPanel(w, r, p, err, toast)
}

func (s Screen) newSignOff(r *http.Request, p *place) (domain.SignOff, error) {
	o := domain.SignOff{ID: domain.NewID(), RoomID: p.roomID(), At: s.Now().UTC().Format(timeFormat), Hash: p.hash}
	for _, f := range []struct {
		into  *string
		name  string
		empty string
	}{{&o.Name, "name", "Enter your name: a sign-off is a person's."}, {&o.Role, "role", "Say as what you sign, for example Reviewer."}} {
		text, err := domain.CleanLine(r.FormValue(f.name), domain.MaxName)
		if err == nil && text == "" {
			err = errors.New(f.empty)
		}
		if err != nil {
			return o, edits.Refusef("%s", err.Error())
		}
		*f.into = text
	}
	comment, err := domain.CleanText(r.FormValue("comment"), domain.MaxText)
	if err != nil {
		return o, edits.Refusef("%s", err.Error())
	}
	o.Comment = comment
	if r.FormValue("hash") != p.hash {
		return o, errChangedMeanwhile
	}
	counted, _ := s.roomPanel(r, p)
	if len(counted.Doubts) > 0 && comment == "" {
		return o, edits.Refusef("There is %s. Settle that first, or say in the comment why you sign all the same.", strings.Join(counted.Doubts, ", "))
	}
	return o, nil
}

// withdraw takes a sign-off back. It stays on record as withdrawn.
func (s Screen) withdraw(w http.ResponseWriter, r *http.Request) {
	p, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	id := domain.ID(r.FormValue("row"))
	err = edits.Refusef("This sign-off is not one of this room: reload the page.")
	for _, o := range p.signOffs {
		if o.ID == id && o.Withdrawn == "" {
			err = s.Store.WithdrawSignOff(r.Context(), p.project.ID, id, ui.Signed(r))
		}
	}
	s.answerPanel(w, r, p, err, "Sign-off withdrawn.")
}

// answerPanel brings the sign-offs anew; after a refusal with the sentence and
// what was typed.
func (s Screen) answerPanel(w http.ResponseWriter, r *http.Request, p *place, failed error, toast string) {
	if !ui.IsFragment(r) {
		if failed != nil {
			edits.Refuse(w, r, s.Log, failed)
			return
		}
		http.Redirect(w, r, p.path(), http.StatusSeeOther)
		return
	}
	fresh, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	v, err := s.roomPanel(r, fresh)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	if failed == nil {
		edits.Render(w, r, s.Log, http.StatusOK, panelPart(v), seenHashPart(v.Hash), ui.Toast(toast), ui.Notice("", ""))
		return
	}
	status, sentence := edits.Status(failed)
	if errors.Is(failed, errChangedMeanwhile) {
		status, sentence = http.StatusConflict, failed.Error()
	}
	if status >= 500 {
		s.Log.Error("sign-off not stored", "path", r.URL.Path, "error", failed)
	}
	v.Error, v.Name, v.Role, v.Comment = sentence, r.FormValue("name"), r.FormValue("role"), r.FormValue("comment")
	edits.Render(w, r, s.Log, status, panelPart(v), seenHashPart(v.Hash))
}
