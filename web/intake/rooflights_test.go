package intake

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/match"
)

// The preview tells what of a file's glass comes, and what goes.
func TestStoreyFacts_ofGlass(t *testing.T) {
	from := &building.Storey{Spaces: []building.Space{{Area: 40}}}
	facts := func(w match.WallCounts) string {
		return strings.Join(storeyFacts(&match.Storey{Into: "s1", Walls: w}, from, units.SI), "; ")
	}
	assert.Equal(t, "1 space, 40 m2; 2 new walls; 3 windows, 0 doors; 1 window gives on another room; 2 rooflights; 1 rooflight is not in the file and would go",
		facts(match.WallCounts{New: 2, Windows: 3, Indoors: 1, Rooflights: 2, LightsGone: 1}))
	assert.NotContains(t, facts(match.WallCounts{New: 2, Windows: 3}), "rooflight")
}

func TestThumbnail_drawsRooflights(t *testing.T) {
	storey := &building.Storey{Spaces: []building.Space{{Outline: geom.Rectangle(0, 0, 10, 8)}}}
	without := newThumbnail(&match.Storey{Name: "L"}, storey)
	storey.Rooflights = []building.Rooflight{{At: geom.Pt(5, 4), Width: 1, Length: 2}}
	with := newThumbnail(&match.Storey{Name: "L"}, storey)
	assert.Equal(t, 3, strings.Count(with.Walls, "M")-strings.Count(without.Walls, "M"), "a rectangle and its cross")
}
