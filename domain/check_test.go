package domain_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
)

func classroomScope() *domain.Scope {
	b := domaintest.Classroom()
	return &domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room.Clone()}}
}

func TestCheckAcceptsASoundScope(t *testing.T) {
	s := classroomScope()
	require.NotEmpty(t, s.Rooms[0].Design.Links)
	assert.Empty(t, s.Check())
}

func TestCheckLeavesToTheRulesWhatEditingCanReach(t *testing.T) {
	s := classroomScope()
	d := &s.Rooms[0].Design
	d.Devices = d.Devices[1:]                       // links and loads now name a device that is gone
	d.Loads[0].Luminaire, d.Loads[0].Tag = "q7", "" // a luminaire that is gone, a missing tag
	d.Devices[0].Type = "taken-out-of-the-book"
	s.Rooms = append(s.Rooms, domain.Room{ID: "r2", StoreyID: "s1", Number: "101"}) // the number again
	assert.Empty(t, s.Check())
}

func TestCheckNamesPlaceAndRemedy(t *testing.T) {
	for name, c := range map[string]struct {
		spoil      func(*domain.Scope)
		path, says string
	}{
		"NaN":          {func(s *domain.Scope) { s.Rooms[0].Area = units.SquareMetres(math.NaN()) }, "/rooms/0/area_m2", "out of range: use 0 to 100000"},
		"endless":      {func(s *domain.Scope) { s.Rooms[0].Design.Loads[1].Watts = units.Watts(math.Inf(1)) }, "/rooms/0/design/loads/1/watts", "out of range"},
		"negative":     {func(s *domain.Scope) { s.Project.Luminaires[0].Watts = -1 }, "/project/luminaires/0/watts", "out of range"},
		"bad UTF-8":    {func(s *domain.Scope) { s.Project.Client = "a\xff" }, "/project/client", "UTF-8"},
		"no units":     {func(s *domain.Scope) { s.Project.Units = "" }, "/project/units", "US or SI"},
		"odd units":    {func(s *domain.Scope) { s.Project.Units = "cubits" }, "/project/units", "use US or SI"},
		"no load kind": {func(s *domain.Scope) { s.Rooms[0].Design.Loads[0].Kind = "" }, "/rooms/0/design/loads/0/kind", "lighting or receptacle"},
		"scene 0":      {func(s *domain.Scope) { s.Rooms[0].Design.Scenes[0].Number = 0 }, "/rooms/0/design/scenes/0/number", "1 to 999"},
		"empty link":   {func(s *domain.Scope) { s.Rooms[0].Design.Links[0].Do.Verb = "" }, "/rooms/0/design/links/0/do/verb", "verb"},
		"shared storey": {func(s *domain.Scope) {
			b := s.Project.Buildings[0]
			b.ID = "b2"
			s.Project.Buildings = append(s.Project.Buildings, b)
		}, "/project/buildings/1/storeys/0/id", "ID of its own"},
		"waiver without reason": {func(s *domain.Scope) {
			s.Rooms[0].Waivers = []domain.Waiver{{ID: "w", Rule: "r", Name: "A", Date: "2026-01-01"}}
		}, "/rooms/0/waivers/0/reason", "reason"},
		"exception below a value": {func(s *domain.Scope) {
			s.Typicals = []domain.Typical{{ID: "t", Name: "T"}}
			s.Rooms[0] = domain.Room{ID: "r1", StoreyID: "s1", Number: "1", TypicalID: "t", Exceptions: delta.Changes{{Path: "loads/l1/tag/x", After: []byte(`1`)}}}
		}, "/rooms/0/exceptions/0", "below a value"},
	} {
		s := classroomScope()
		c.spoil(s)
		problems := s.Check()
		if assert.Len(t, problems, 1, name) {
			assert.Equal(t, c.path, problems[0].Path, name)
			assert.Contains(t, problems[0].Message, c.says, name)
		}
	}
}

func TestCheckStopsAfterAHundredProblems(t *testing.T) {
	s := classroomScope()
	for range 200 {
		s.Rooms = append(s.Rooms, domain.Room{ID: "Bad ID", StoreyID: "nowhere"})
	}
	assert.Len(t, s.Check(), domain.MostProblems)
}

func TestKindsThatEverythingHangsOnCannotBeBlanked(t *testing.T) {
	f, ok := domain.FieldNamed(domain.LoadFields, "kind")
	require.True(t, ok)
	l := domain.Load{Kind: domain.Lighting}
	for _, empty := range []string{"", " ", "-", "none"} {
		assert.ErrorContains(t, f.Set(domain.Env{}, &l, empty), "must be chosen")
	}
	require.NoError(t, f.Set(domain.Env{}, &l, "receptacle"))
	assert.Equal(t, domain.Receptacle, l.Kind)
}
