package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Two rooflights of 1 by 1 m: their middles 1 m apart they touch. A millimeter is no
// fault.
func TestRooflightOverlap_limit(t *testing.T) {
	for apart, fires := range map[float64]int{0: 1, 0.5: 1, 0.998: 1, 0.999: 0, 1: 0, 1.001: 0, 3: 0} {
		assert.Len(t, RooflightOverlap.CheckStorey(roofed(geom.Pt(2, 2), geom.Pt(2+apart, 2))), fires, "%g m along", apart)
		assert.Len(t, RooflightOverlap.CheckStorey(roofed(geom.Pt(2, 2+apart), geom.Pt(2, 2))), fires, "%g m across", apart)
	}
}

// By Pythagoras a square of 1 m turned by 45 degrees reaches 0.7071 m from its middle,
// so that beside a straight one it touches at 1.2071 m; a corner of less than a square
// centimeter is no area (geom.NoArea).
func TestRooflightOverlap_turned(t *testing.T) {
	for apart, fires := range map[float64]int{1.19: 1, 1.207: 0, 1.21: 0} {
		f := roofed(geom.Pt(2, 2), geom.Pt(2+apart, 2))
		f.Plan.Rooflights[1].Turn = 45
		assert.Len(t, RooflightOverlap.CheckStorey(f), fires, "%g m", apart)
	}
}

func TestRooflightOverlap_namesBothAndWhere(t *testing.T) {
	found := RooflightOverlap.CheckStorey(roofed(geom.Pt(4, 2), geom.Pt(2, 2), geom.Pt(2, 2)))
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "Rooflights 2 and 3 on the plan of Ground overlap")
	assert.Equal(t, "s1/l2/l3", found[0].Key)
	require.Len(t, found[0].Places, 1)
	assert.InDelta(t, 0, found[0].Places[0].Distance(geom.Pt(2, 2)), 0.01)
	many := roofed()
	for i := range 2 * mostFindings {
		many.Plan.Rooflights = append(many.Plan.Rooflights, domain.Rooflight{ID: domain.ID(rune('a' + i)), At: geom.Pt(2, 2), Width: 1, Length: 1})
	}
	assert.Len(t, RooflightOverlap.CheckStorey(many), mostFindings)
	empty := roofed(geom.Pt(2, 2), geom.Pt(2, 2))
	empty.Plan.Rooflights[0].Width = 0
	assert.Empty(t, RooflightOverlap.CheckStorey(empty), "no glass")
}

// A rooflight of 1 m in a room of 6 by 4 m: its middle at 5.5 m it ends at the outline.
func TestRooflightBeyond_limit(t *testing.T) {
	for x, says := range map[float64]string{
		3: "", 5.499: "", 5.5: "", 5.5005: "", 5.502: "reaches beyond room 101", 5.9: "reaches beyond room 101",
		6.2: "its middle is over none", 6.498: "its middle is over none", 6.5: "", 7: "",
	} {
		found := RooflightBeyond.CheckStorey(roofed(geom.Pt(x, 2)))
		if says == "" {
			assert.Empty(t, found, "%g m", x)
			continue
		}
		require.Len(t, found, 1, "%g m", x)
		assert.Contains(t, found[0].Message, says, "%g m", x)
		assert.Equal(t, []geom.Point{geom.Pt(x, 2)}, found[0].Places)
	}
}

// Across the wall between two rooms it lights one of them alone.
func TestRooflightBeyond_acrossTwoRooms(t *testing.T) {
	f := roofed(geom.Pt(6.2, 2))
	f.Rooms = append(f.Rooms, &domain.Room{ID: "r2", StoreyID: "s1", Number: "102", Outline: geom.Rectangle(6, 0, 6, 4)})
	found := RooflightBeyond.CheckStorey(f)
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "reaches beyond room 102")
	f.Rooms[0].Outline, f.Rooms[1].Outline = geom.Polygon{}, geom.Polygon{Outer: []geom.Point{{X: 0, Y: 0}, {X: 9, Y: 9}, {X: 9, Y: 0}, {X: 0, Y: 9}}}
	assert.Empty(t, RooflightBeyond.CheckStorey(f), "no sound outline")
}
