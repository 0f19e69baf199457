package energycode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/energycode"
)

// What a project and a room may name is what the packs hold, by the same names.
func TestDomain_namesThePacksAndTheirSpaces(t *testing.T) {
	var packs []domain.NamedPack
	for _, p := range energycode.Packs() {
		packs = append(packs, domain.NamedPack{ID: domain.CodePack(p.ID), Name: p.Title})
		var spaces []domain.NamedSpace
		for _, s := range p.Spaces {
			spaces = append(spaces, domain.NamedSpace{Type: domain.SpaceType(s.ID), Name: s.Name})
		}
		assert.Equal(t, domain.SpaceTypes(), spaces, p.ID)
	}
	assert.Equal(t, domain.CodePacks(), packs)
}

func TestSpaceOf_theDesignersWordCounts(t *testing.T) {
	p := pack(t, old)
	r := domain.Resolved{Room: &domain.Room{Use: "office-private", Space: "exam_treatment"}}
	got, confirmed := p.SpaceOf(&r, 23)
	assert.True(t, confirmed)
	assert.Equal(t, "exam_treatment", got.Space)
	r.Space = ""
	got, confirmed = p.SpaceOf(&r, 23) // 247.6 ft2: Table 9.6.1 of 90.1-2019, rows of enclosed offices (published lighting tables)
	assert.False(t, confirmed)
	assert.Equal(t, "office_enclosed_151_250ft2", got.Space)
	assert.Contains(t, got.Why, "Confirm it.")
	r.Space = "dungeon"
	got, confirmed = p.SpaceOf(&r, 23)
	assert.False(t, confirmed, "a kind that the pack does not list is none")
	assert.Equal(t, "office_enclosed_151_250ft2", got.Space)
	r.Typical = &domain.Typical{Name: "EX", Space: "exam_treatment"}
	r.Space = ""
	got, confirmed = p.SpaceOf(&r, 23)
	assert.True(t, confirmed, "a typical carries the kind for rooms that state none")
	assert.Equal(t, "exam_treatment", got.Space)
	assert.Contains(t, got.Why, "EX")
	r.Typical = nil
	r.Use, r.Space = "other", ""
	got, _ = p.SpaceOf(&r, 23)
	assert.Empty(t, got.Space)
}
