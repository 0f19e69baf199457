package room

import (
	"net/http"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/webtest"
)

// Rooms 101 and 102 lie on one floor and 103 has the number 101 too: 101 tells of
// both, 102 of the plan, and the way leads to the page that shows it.
func TestElsewhere_namesWhatConcernsMoreThanTheRoom(t *testing.T) {
	scope := webtest.School()
	scope.Rooms[0].Outline, scope.Rooms[1].Outline = geom.Rectangle(0, 0, 6, 4), geom.Rectangle(0, 0, 6, 4)
	scope.Rooms[2].Number = "101"
	a := webtest.Open(t, func(a *webtest.App, r chi.Router) {
		judge := func(p *domain.Project, r *domain.Resolved) []rule.Finding { return validate.Room(p, r, a.Time) }
		Screen{Store: a.Store, Log: a.Log, Now: a.Now, Judge: judge}.Routes(r)
	}, scope)
	assert.Contains(t, a.Get("/projects/p1/rooms/r1").Body.String(), `hx-get="/projects/p1/rooms/r1/elsewhere"`)
	both := a.Ask(http.MethodGet, "/projects/p1/rooms/r1/elsewhere", nil).Body.String()
	assert.Contains(t, both, `href="/rules#plan-overlap"`)
	assert.Contains(t, both, `href="/projects/p1/storeys/s1/plan"`)
	assert.Contains(t, both, `href="/projects/p1#project-findings"`)
	one := a.Ask(http.MethodGet, "/projects/p1/rooms/r2/elsewhere", nil).Body.String()
	assert.Contains(t, one, `href="/rules#plan-overlap"`)
	assert.NotContains(t, one, "#project-findings")
	assert.Equal(t, http.StatusNotFound, a.Get("/projects/none/rooms/r2/elsewhere").Code)
}

func TestElsewhere_saysNothingWhereNothingIsFound(t *testing.T) {
	a := office(t)
	assert.NotContains(t, a.Ask(http.MethodGet, "/projects/p1/rooms/r1/elsewhere", nil).Body.String(), "Beyond this room")
	assert.NotContains(t, a.Get("/projects/p1/typicals/t1").Body.String(), "/elsewhere", "a typical stands in no storey")
}
