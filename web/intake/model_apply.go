package intake

import (
	"errors"
	"fmt"
	"net/http"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/store/intake/match"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// report is what an import did, for the page that tells it.
type report struct {
	view  previewView
	lines []line
	count map[action]int
	all   int
}

// applyModel carries out what the preview showed, as one edit that can be
// undone, and leads to the report.
func (s Screen) applyModel(w http.ResponseWriter, r *http.Request, p *parcel, seen string) {
	if p.report != nil || p.model == nil || p.reading != nil {
		http.Redirect(w, r, ui.ImportPreview(p.project, p.token), http.StatusSeeOther)
		return
	}
	if !p.model.ready() {
		s.renderPreview(w, r, p, http.StatusUnprocessableEntity, "A question about this file is still open: answer it first. Nothing was stored.")
		return
	}
	p, ok := s.withChoices(w, r, p)
	if !ok {
		return
	}
	var fit *match.Fit
	var project *domain.Project
	request := store.Request{ProjectID: p.project, Who: ui.Signed(r), Scope: store.ProjectSubject(p.project)}
	out, err := s.Store.Edit(r.Context(), request, func(tx *store.Tx) (said string, err error) {
		if fit, project, err = p.model.fitIn(tx, s.newID); err != nil {
			return "", err
		}
		if fitStamp(project, fit) != seen {
			return "", errOtherFit
		}
		return fmt.Sprintf("imported plan %s: %s", p.name, fitWords(fit)), carryOutFit(tx, fit, project)
	})
	if errors.Is(err, errOtherFit) {
		s.renderPreview(w, r, p, http.StatusConflict, err.Error())
		return
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	done := *p
	done.data = nil
	done.report = newReport(p, fit, project, out.Said)
	s.shelf.put(&done)
	http.Redirect(w, r, ui.ImportPreview(p.project, p.token), http.StatusSeeOther)
}

// errOtherFit says that the file would now do something else than was shown.
const errOtherFit = edits.Sentence("The project or the choices changed after this preview was made, and the file would now do something else; nothing was stored. This is how it stands now: look again, then apply it.")

const errChoices = edits.Sentence("The choices changed how the file is read; nothing was stored. Press \"Read it like this\" first, look at what would happen, then apply it.")

// withChoices takes the choices that are sent along with the file's use. Where
// they make it do something else than was shown, its stamp tells.
func (s Screen) withChoices(w http.ResponseWriter, r *http.Request, p *parcel) (*parcel, bool) {
	project, _, err := s.Store.Project(r.Context(), p.project)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return nil, false
	}
	a, again, err := p.model.answered(r, project)
	switch {
	case err != nil:
		edits.Refuse(w, r, s.Log, err)
		return nil, false
	case again:
		s.renderPreview(w, r, p, http.StatusConflict, errChoices.Error())
		return nil, false
	}
	fresh, model := *p, *p.model
	model.answers = a
	fresh.model = &model
	s.shelf.put(&fresh)
	return &fresh, true
}

func newReport(p *parcel, fit *match.Fit, project *domain.Project, said string) *report {
	out := &report{lines: fitLines(project, fit, true), count: map[action]int{}}
	for i := range out.lines {
		out.count[out.lines[i].Action]++
	}
	out.all = len(out.lines) - out.count[missing]
	v := previewView{Path: ui.ImportPreview(p.project, p.token), Name: p.name, Kind: "plan", Notes: p.model.model.Notes, Model: newModelView(p.model, project)}
	v.Model.Report = said
	after := *project
	after.Buildings = project.Buildings // carried out: the new storeys are in it
	v.Model.addStoreys(p.model, fit, &after)
	out.view = v
	return out
}
