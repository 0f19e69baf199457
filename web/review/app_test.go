package review

import (
	"testing"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/export"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/webtest"
)

var today = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

// app is the screen on a real database with a project of two rooms: 101, a
// classroom without findings, and 102, which is empty.
type app struct{ *webtest.App }

func newApp(t *testing.T) *app {
	t.Helper()
	b := domaintest.Classroom()
	b.P.Checklist = []domain.ChecklistItem{
		{ID: "q1", Seq: 1, Subject: "Room", Text: "Is the area right?", For: domain.AskRoom},
		{ID: "q2", Seq: 2, Subject: "Control", Text: "Does each load have a way off?", For: domain.AskRoom},
		{ID: "q3", Seq: 3, Subject: "Paper", Text: "Is the cover complete?", For: domain.AskProject},
	}
	scope := &domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room, {ID: "r2", StoreyID: "s1", Number: "102", Name: "<script>alert(1)</script>", Use: "office-private", Area: 10}}}
	a := &app{webtest.Open(t, func(a *webtest.App, r chi.Router) {
		judge := func(p *domain.Project, r *domain.Resolved) []rule.Finding { return validate.Room(p, r, a.Time) }
		Screen{Store: a.Store, Log: a.Log, Now: a.Now, Hash: export.RoomHash(a.Now), Judge: judge}.Routes(r)
	}, scope)}
	a.Time, a.Who = today, "R. Reviewer"
	return a
}

const (
	project = "/projects/p1/review"
	room    = "/projects/p1/review/r1"
	list    = "/projects/p1/checklist"
)

// steps are what was said about the classroom.
func (a *app) steps() []domain.Review {
	a.T.Helper()
	steps, err := a.Store.Reviews(a.T.Context(), "p1", "r1")
	require.NoError(a.T, err)
	return steps
}

// edit changes the classroom's name, which its sheet prints.
func (a *app) edit(name string) {
	a.T.Helper()
	a.EditRoom("r1", "name of 101 is now "+name, func(r *domain.Resolved) { r.Name = name })
}
