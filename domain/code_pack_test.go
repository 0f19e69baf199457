package domain_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
)

func TestCodePack_isChosenByItsNameOrID(t *testing.T) {
	p := domaintest.Project("US")
	env := domain.Env{Project: p}
	f, ok := domain.FieldNamed(domain.ProjectFields, "code_pack")
	require.True(t, ok)
	for _, k := range domain.CodePacks() {
		require.NoError(t, f.Set(env, p, k.Name))
		assert.Equal(t, k.ID, p.CodePack)
		assert.Equal(t, k.Name, f.Show(env, p))
		assert.Equal(t, k.Name, p.CodePack.Name())
		require.NoError(t, f.Set(env, p, string(k.ID)))
		assert.Equal(t, k.ID, p.CodePack)
	}
	assert.ErrorContains(t, f.Set(env, p, "a code of ours"), `energy code checked by is not "a code of ours": use none chosen, ASHRAE 90.1-2019`)
	for _, none := range []string{"", "none", "none chosen"} {
		p.CodePack = "iecc-2021"
		require.NoError(t, f.Set(env, p, none))
		assert.Empty(t, p.CodePack)
		assert.Equal(t, "none chosen", f.Show(env, p))
	}
}

func TestSpaceType_isChosenByItsNameOrID(t *testing.T) {
	env, r := domain.Env{Project: domaintest.Project("US")}, domain.Room{}
	f, ok := domain.FieldNamed(domain.RoomFields, "space_type")
	require.True(t, ok)
	for _, k := range domain.SpaceTypes() {
		require.NoError(t, f.Set(env, &r, k.Name))
		assert.Equal(t, k.Type, r.Space)
		assert.Equal(t, k.Name, f.Show(env, &r))
		assert.Equal(t, k.Name, r.Space.Name())
	}
	assert.Error(t, f.Set(env, &r, "dungeon"))
	for _, none := range []string{"", "none", "as proposed"} {
		r.Space = "corridor"
		require.NoError(t, f.Set(env, &r, none))
		assert.Empty(t, r.Space)
		assert.Equal(t, "as proposed", f.Show(env, &r))
	}
}

func TestCheck_refusesAnUnknownCodeOrKindOfSpace(t *testing.T) {
	s := &domain.Scope{Project: *domaintest.Project("US"), Rooms: []domain.Room{{ID: "r1", StoreyID: "s1", Number: "101", Space: "corridor"}}}
	s.Project.CodePack = "iecc-2021"
	require.Empty(t, s.Check())
	s.Project.CodePack, s.Rooms[0].Space = "iecc-1066", "dungeon"
	problems := s.Check()
	require.Len(t, problems, 2)
	slices.SortFunc(problems, func(a, b domain.Problem) int { return strings.Compare(a.Path, b.Path) })
	assert.Equal(t, "/project/code_pack", problems[0].Path)
	assert.Equal(t, `"iecc-1066" is not known: use ashrae-90.1-2019, ashrae-90.1-2022, iecc-2018, iecc-2021 or california-2022`, problems[0].Message)
	assert.Equal(t, "/rooms/0/space_type", problems[1].Path)
	assert.Contains(t, problems[1].Message, `"dungeon" is not known: use office_enclosed_le_150ft2, `)
}

func TestCompare_namesTheCodeAndTheKindOfSpace(t *testing.T) {
	scope := func() *domain.Scope {
		return &domain.Scope{Project: *domaintest.Project("US"), Rooms: []domain.Room{{ID: "r1", StoreyID: "s1", Number: "101"}}}
	}
	older, newer := scope(), scope()
	newer.Project.CodePack, newer.Rooms[0].Space = "ashrae-90.1-2019", "stairwell"
	d, err := domain.Compare(older, newer)
	require.NoError(t, err)
	assert.Equal(t, []string{"energy code checked by none chosen -> ASHRAE 90.1-2019"}, d.Project)
	assert.Equal(t, []string{"kind of space as proposed -> stairwell"}, d.Room("r1").Lines)
}
