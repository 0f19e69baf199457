package sheets

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/export/findings"
	"scopewright/export/sheet"
	"scopewright/store"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// issueView is the page before a revision is frozen: what is in it.
type issueView struct {
	Path, Number string
	Changed      difference
	First        bool
	Errors       []openError
	MoreErrors   int
	Stale        []link
	Unsigned     string
	Purposes     []string
	Seen         string // stamp of the state that the page shows

	Author, Purpose, Note string
	Error, Field          string
}

type openError struct{ Room, Path, Rule, Text string }

// most lines of one list on this page.
const mostLines = 50

// prospect is a project as the next revision would freeze it.
type prospect struct {
	scope  *domain.Scope
	lines  []store.RevisionLine
	report *findings.Report
	stamp  string
}

func (s Screen) prospect(r *http.Request) (*prospect, error) {
	id := edits.ProjectID(r)
	scope, err := s.Store.Load(r.Context(), id)
	if err != nil {
		return nil, err
	}
	lines, err := s.Store.Revisions(r.Context(), id)
	if err != nil {
		return nil, err
	}
	report, err := findings.Run(scope, s.Now())
	if err != nil {
		return nil, err
	}
	stamp, err := stampOf(scope)
	return &prospect{scope, lines, report, stamp}, err
}

// stampOf tells two states of a project apart.
func stampOf(scope *domain.Scope) (string, error) {
	h := sha256.New()
	if err := json.NewEncoder(h).Encode(scope); err != nil {
		return "", fmt.Errorf("comparing states: %w", err)
	}
	return hex.EncodeToString(h.Sum(nil)[:12]), nil
}

func (p *prospect) next() int {
	if len(p.lines) == 0 {
		return 1
	}
	return p.lines[0].Number + 1
}

// showIssue says what the next revision would hold, and asks why it is issued.
func (s Screen) showIssue(w http.ResponseWriter, r *http.Request) {
	p, err := s.prospect(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.renderIssue(w, r, p, http.StatusOK, func(*issueView) {})
}

func (s Screen) renderIssue(w http.ResponseWriter, r *http.Request, p *prospect, status int, more func(*issueView)) {
	v, err := s.newIssueView(r, p)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	more(&v)
	title := "Issue revision " + v.Number
	edits.Render(w, r, s.Log, status, issuePage(frame(r, &p.scope.Project, title, title), v))
}

func (s Screen) newIssueView(r *http.Request, p *prospect) (issueView, error) {
	id := p.scope.Project.ID
	v := issueView{Path: ui.Issue(id), Number: strconv.Itoa(p.next()), First: len(p.lines) == 0, Purposes: sheet.Purposes(), Seen: p.stamp, Author: ui.Who(r)}
	if !v.First {
		d, _, err := s.between(r.Context(), id, p.lines[0].Number, 0)
		if err != nil {
			return v, err
		}
		v.Changed = newDifference(id, stateName(p.lines[0].Number), stateName(0), d)
	}
	for i := range p.report.Lines {
		v.addError(id, &p.report.Lines[i])
	}
	return v, s.addSignatures(r, id, &v)
}

func (v *issueView) addError(id domain.ID, l *findings.Line) {
	if l.Waived() || l.Severity != rule.Error {
		return
	}
	if len(v.Errors) == mostLines {
		v.MoreErrors++
		return
	}
	e := openError{Room: "Project", Path: ui.Project(id), Rule: l.Rule, Text: l.Message}
	if l.Room != nil {
		e.Room, e.Path = l.Room.Label(), ui.Room(id, l.Room.ID)
	}
	v.Errors = append(v.Errors, e)
}

func (s Screen) addSignatures(r *http.Request, id domain.ID, v *issueView) error {
	stale, _, err := s.Store.RoomLines(r.Context(), id, store.Filter{Review: store.StaleSigned, Limit: mostLines})
	if err != nil {
		return err
	}
	for _, l := range stale {
		room := domain.Room{Number: l.Number, Name: l.Name}
		v.Stale = append(v.Stale, link{room.Label(), ui.RoomReview(id, l.ID)})
	}
	_, unsigned, err := s.Store.RoomLines(r.Context(), id, store.Filter{Review: store.NotSigned, Limit: 1})
	if unsigned > 0 {
		v.Unsigned = domain.Count(unsigned, "room is", "rooms are") + " not signed."
	}
	return err
}

// issue freezes the project as the person saw it.
func (s Screen) issue(w http.ResponseWriter, r *http.Request) {
	p, err := s.prospect(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	in, field, err := readIssue(r)
	typed := func(v *issueView) {
		v.Author, v.Purpose, v.Note, v.Field = r.FormValue("author"), r.FormValue("purpose"), r.FormValue("note"), field
	}
	if err != nil {
		s.renderIssue(w, r, p, http.StatusUnprocessableEntity, func(v *issueView) { typed(v); v.Error = err.Error() })
		return
	}
	if r.FormValue("seen") != p.stamp {
		s.renderIssue(w, r, p, http.StatusConflict, func(v *issueView) {
			typed(v)
			v.Error = "The project changed while this page was open, so nothing was issued. This is how it stands now: look again, then issue."
		})
		return
	}
	if n := p.report.Errors; n > 0 {
		in.Note = joinSentences(in.Note, "Issued with "+domain.Count(n, "error", "errors")+" open")
	}
	line, err := s.Store.Issue(r.Context(), p.scope.Project.ID, in)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	http.Redirect(w, r, ui.Revision(p.scope.Project.ID, line.Number), http.StatusSeeOther)
}

// readIssue reads the form; an error names the field that it belongs to.
func readIssue(r *http.Request) (in store.IssueInput, field string, err error) {
	if in.Purpose, err = domain.CleanLine(r.FormValue("purpose"), domain.MaxName); err != nil {
		return in, "purpose", err
	}
	if in.Purpose == "" {
		return in, "purpose", edits.Sentence("Say what this revision is issued for, for example \"for review\".")
	}
	if in.Author, err = domain.CleanLine(r.FormValue("author"), domain.MaxName); err != nil {
		return in, "author", err
	}
	if in.Author == "" {
		return in, "author", edits.Sentence("Enter your name: a revision has a person as its author.")
	}
	if in.Note, err = domain.CleanText(r.FormValue("note"), domain.MaxText); err != nil {
		return in, "note", err
	}
	return in, "", nil
}

func joinSentences(a, b string) string {
	if a = strings.TrimRight(strings.TrimSpace(a), "."); a == "" {
		return b
	}
	return a + ". " + b
}
