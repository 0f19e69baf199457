package edit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
)

func TestDrop_takesAwayOneCell(t *testing.T) {
	b := domaintest.Classroom().Spoil(func(d *domain.Design) {
		d.Links = append(d.Links, domain.Link{ID: "lost:l1", Device: "lost", Load: "l1", Do: domain.Action{Verb: domain.Acts}})
		d.Scenes[0].Levels = append(d.Scenes[0].Levels, domain.SceneLevel{ID: "lost", Level: 50})
	})
	links, levels := len(b.R.Design.Links), len(b.R.Design.Scenes[0].Levels)
	b.Do(edit.Drop{Path: "links/lost:l1"}, edit.Drop{Path: "scenes/s1/levels/lost"})
	assert.Len(t, b.R.Design.Links, links-1)
	assert.Len(t, b.R.Design.Scenes[0].Levels, levels-1)
	assert.Nil(t, b.R.Design.Scenes[0].LevelOf("lost"))
}

func TestDrop_saysWhatIsNotThere(t *testing.T) {
	b := domaintest.Classroom()
	for _, path := range []string{"links/lost:l1", "scenes/s1/levels/lost", "scenes/lost/levels/l1", "loads/l1", "", "links"} {
		_, err := edit.Drop{Path: path}.Apply(edit.OfRoom(b.P, b.R))
		require.Error(t, err, path)
	}
}
