package review

import (
	"errors"
	"net/http"

	"scopewright/domain"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// giveVerdict stores what a reviewer says to one question.
func (s Screen) giveVerdict(w http.ResponseWriter, r *http.Request) {
	s.speak(w, r, func(o *domain.Opinion) (domain.Review, error) {
		comment, err := domain.CleanText(r.FormValue("comment"), domain.MaxText)
		if err != nil {
			return domain.Review{}, edits.Refusef("%s", err.Error())
		}
		step := domain.Review{Verdict: domain.Verdict(r.FormValue("verdict")), Comment: comment}
		switch {
		case !step.Verdict.Known():
			return step, edits.Refusef("Choose agree, object or not applicable.")
		case step.Verdict == domain.Object && comment == "":
			return step, edits.Refusef("An objection needs a comment: say what is wrong, so that the designer can answer.")
		case o.By != nil && o.By.Verdict == step.Verdict && o.By.Comment == comment:
			return domain.Review{}, nil
		}
		return step, nil
	})
}

// giveAnswer stores what the designer says to a verdict.
func (s Screen) giveAnswer(w http.ResponseWriter, r *http.Request) {
	s.speak(w, r, func(o *domain.Opinion) (domain.Review, error) {
		answer, err := domain.CleanText(r.FormValue("answer"), domain.MaxText)
		switch {
		case err != nil:
			return domain.Review{}, edits.Refusef("%s", err.Error())
		case answer == "":
			return domain.Review{}, edits.Refusef("The answer is empty: say what was changed, or why it stays.")
		case o.By == nil:
			return domain.Review{}, edits.Refusef("There is no verdict to answer yet.")
		case o.Answer != nil && o.Answer.Answer == answer:
			return domain.Review{}, nil
		}
		return domain.Review{Answer: answer}, nil
	})
}

// speak adds a step to the talk about one item, unless the talk has moved on
// since the page was made. A step that says nothing new is left out.
func (s Screen) speak(w http.ResponseWriter, r *http.Request, say func(*domain.Opinion) (domain.Review, error)) {
	p, err := s.load(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	item := domain.ID(r.FormValue("item"))
	step, err := s.next(p, r, item, say)
	if err == nil && (step.Verdict != "" || step.Answer != "") {
		if _, err = s.Store.AddReview(r.Context(), p.project.ID, step); err == nil {
			p, err = s.load(r)
		}
	}
	s.answerItem(w, r, p, item, err)
}

func (s Screen) next(p *place, r *http.Request, item domain.ID, say func(*domain.Opinion) (domain.Review, error)) (domain.Review, error) {
	o := p.opinion(item)
	if o == nil {
		return domain.Review{}, edits.Refusef("This question is no longer on the checklist: reload the page.")
	}
	name := ui.Who(r)
	if name == "" {
		return domain.Review{}, errNoName
	}
	if domain.ID(r.FormValue("seen")) != o.Last() {
		return domain.Review{}, errMeanwhile
	}
	step, err := say(o)
	step.ID, step.RoomID, step.ItemID, step.Name = domain.NewID(), p.roomID(), item, name
	step.At = s.Now().UTC().Format(timeFormat)
	return step, err
}

// answerItem brings the item anew, with the counts and the sign-off that hang
// on it; after a refusal with the sentence beside it.
func (s Screen) answerItem(w http.ResponseWriter, r *http.Request, p *place, item domain.ID, failed error) {
	o := p.opinion(item)
	if failed != nil && (o == nil || !ui.IsFragment(r)) {
		if errors.Is(failed, errMeanwhile) {
			edits.Render(w, r, s.Log, http.StatusConflict, ui.Wrong(ui.NewPage(r, "Not stored"), "Not stored", failed.Error()))
			return
		}
		edits.Refuse(w, r, s.Log, failed)
		return
	}
	if !ui.IsFragment(r) {
		http.Redirect(w, r, p.path()+"#item-"+string(item), http.StatusSeeOther)
		return
	}
	status, line := http.StatusOK, newItem(p, o)
	if failed != nil {
		status, line.Error = edits.Status(failed)
		if errors.Is(failed, errMeanwhile) {
			status, line.Error = http.StatusConflict, failed.Error()
		} else if typed := domain.Verdict(r.FormValue("verdict")); typed.Known() {
			line.Verdict = typed // as the person left it
		}
		if status >= 500 {
			s.Log.Error("review step not stored", "path", r.URL.Path, "error", failed)
		}
		line.TypedComment, line.TypedAnswer = r.FormValue("comment"), r.FormValue("answer")
	}
	v, err := s.roomPanel(r, p)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	edits.Render(w, r, s.Log, status, itemPart(line), tallyPart(newTally(p)), panelPart(v), ui.Notice("", ""))
}
