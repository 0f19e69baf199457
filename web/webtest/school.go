package webtest

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
)

// School has a classroom 101, an empty room 102 whose name is HTML, a typical
// CR-1 with the classroom's design, and room 103 that follows it; the second
// storey is empty.
func School() *domain.Scope {
	b := domaintest.Classroom()
	scope := &domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room}}
	scope.Typicals = []domain.Typical{{ID: "t1", Seq: 1, Name: "CR-1", Title: "Classroom", Use: "classroom", Design: b.R.Design.Clone()}}
	scope.Project.Buildings[0].Storeys = append(scope.Project.Buildings[0].Storeys, domain.Storey{ID: "s2", Seq: 2, Name: "Level 2"})
	scope.Rooms = append(scope.Rooms,
		domain.Room{ID: "r2", StoreyID: "s1", Number: "102", Name: "<b>Meeting</b> & co", Use: "conference", Area: 30, Ceiling: 2.7},
		domain.Room{ID: "r3", StoreyID: "s1", Number: "103", Name: "Classroom B", Use: "classroom", Area: 40, Ceiling: 2.7, Windows: true, TypicalID: "t1"})
	return scope
}
