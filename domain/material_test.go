package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/units"
)

func TestFindMaterial_readsNamesAndPlainWords(t *testing.T) {
	for _, m := range domain.Materials() {
		found, ok := domain.FindMaterial(m.Name, 0)
		require.True(t, ok, m.Name)
		assert.Equal(t, m.Name, found.Name)
	}
	for _, c := range []struct {
		text string
		wall units.Metres
		want string
	}{
		{"brick", 0.1, domain.Brick110}, {"Brick", 0.3, domain.Brick215}, {"brick", 0, domain.Brick215},
		{"concrete", 0.05, domain.Concrete100}, {" CONCRETE ", 0.16, domain.Concrete150}, {"concrete", 0, domain.Concrete200},
		{"plasterboard", 0.12, domain.StudWall}, {"gypsum  board", 0, domain.StudWall}, {"wood", 0.06, domain.TimberPanel}, {"steel", 0, domain.MetalSheet},
	} {
		found, ok := domain.FindMaterial(c.text, c.wall)
		assert.True(t, ok, c.text)
		assert.Equal(t, c.want, found.Name, "%s of %v m", c.text, c.wall)
	}
	for _, text := range []string{"", "straw", "brick 300 mm"} {
		_, ok := domain.FindMaterial(text, 0.2)
		assert.False(t, ok, text)
	}
}

func TestReadMaterial_refusesWhatIsNotOnTheList(t *testing.T) {
	name, err := domain.ReadMaterial("-", 0.2)
	require.NoError(t, err)
	assert.Empty(t, name)
	_, err = domain.ReadMaterial("straw", 0.2)
	assert.ErrorContains(t, err, `material is not "straw"`)
	assert.ErrorContains(t, err, domain.StudWall)
}
