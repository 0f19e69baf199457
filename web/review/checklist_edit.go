package review

import (
	"fmt"
	"net/http"
	"reflect"
	"slices"

	"scopewright/domain"
	"scopewright/web/edits"
)

// mostItems bounds a checklist.
const mostItems = 1000

// setItems stores one cell, or a pasted block of them, as one step.
func (s Screen) setItems(w http.ResponseWriter, r *http.Request) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.change(w, r, func(p *domain.Project) (string, error) {
		return edits.SetEach(cells, func(c edits.Cell) (string, error) { return setItem(p, c) })
	})
}

func setItem(p *domain.Project, c edits.Cell) (string, error) {
	id, name := splitItem(c.Path)
	at := itemAt(p, id)
	if at < 0 {
		return "", c.Gone("this question")
	}
	said, err := edits.SetField(domain.Env{Project: p}, domain.ChecklistFields, &p.Checklist[at], c, name, fmt.Sprintf("question %d", at+1))
	if err != nil {
		return "", err
	}
	if item := p.Checklist[at]; item.Text == "" || item.For == "" {
		return "", c.Refusef("a question needs its text and of whom it is asked: room or project")
	}
	return said, nil
}

func (s Screen) change(w http.ResponseWriter, r *http.Request, change func(*domain.Project) (string, error)) {
	outcome, err := s.desk().Apply(r, change)
	s.desk().Done(w, r, outcome, err, "")
}

// addItem adds a question after the last one of its subject.
func (s Screen) addItem(w http.ResponseWriter, r *http.Request) {
	s.change(w, r, func(p *domain.Project) (string, error) {
		if len(p.Checklist) >= mostItems {
			return "", edits.Refusef("the checklist holds %d questions; more do not fit", mostItems)
		}
		item := domain.ChecklistItem{ID: domain.NewID()}
		for _, f := range domain.ChecklistFields {
			if err := f.Set(domain.Env{Project: p}, &item, r.PostFormValue(f.Name)); err != nil {
				return "", edits.Refusef("%s: %w", f.Title, err)
			}
		}
		if item.Text == "" || item.For == "" {
			return "", edits.Refusef("a question needs its text and of whom it is asked: room or project")
		}
		at := len(p.Checklist)
		for i, c := range p.Checklist {
			if c.Subject == item.Subject && c.For == item.For {
				at = i + 1
			}
		}
		p.Checklist = slices.Insert(p.Checklist, at, item)
		renumber(p.Checklist)
		return fmt.Sprintf("added question %d to the checklist", at+1), nil
	})
}

// removeItem takes a question off the checklist. What was said to it stays on
// record, should it come back.
func (s Screen) removeItem(w http.ResponseWriter, r *http.Request) {
	_, id := edits.Row(r)
	s.change(w, r, func(p *domain.Project) (string, error) {
		at := itemAt(p, id)
		if at < 0 {
			return "", edits.Refusef("this question is no longer there: it may have been removed in another window")
		}
		p.Checklist = slices.Delete(p.Checklist, at, at+1)
		renumber(p.Checklist)
		return fmt.Sprintf("removed question %d from the checklist", at+1), nil
	})
}

// moveItem moves a question by one place.
func (s Screen) moveItem(by int) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		_, id := edits.Row(r)
		s.change(w, r, func(p *domain.Project) (string, error) {
			at := itemAt(p, id)
			if at < 0 {
				return "", edits.Refusef("this question is no longer there: it may have been removed in another window")
			}
			to := at + by
			if to < 0 || to >= len(p.Checklist) {
				return "nothing changed", nil
			}
			p.Checklist[at], p.Checklist[to] = p.Checklist[to], p.Checklist[at]
			renumber(p.Checklist)
			return fmt.Sprintf("moved question %d to place %d", at+1, to+1), nil
		})
	}
}

// startAnew puts the built-in checklist in place of the project's.
func (s Screen) startAnew(w http.ResponseWriter, r *http.Request) {
	s.change(w, r, func(p *domain.Project) (string, error) {
		fresh := domain.StartChecklist()
		if reflect.DeepEqual(fresh, p.Checklist) {
			return "nothing changed", nil
		}
		p.Checklist = fresh
		return fmt.Sprintf("put the starting checklist of %d questions in place", len(fresh)), nil
	})
}

// renumber keeps the order of the list: it is sorted by Seq when stored.
func renumber(list []domain.ChecklistItem) {
	for i := range list {
		list[i].Seq = i + 1
	}
}
