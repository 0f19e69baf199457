package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// A wall of 0.12 m and the limit of 0.3 m: 0.36 m from the center line. What lies
// within 1 mm of an outline lies on it.
func TestWindowIndoors_limit(t *testing.T) {
	for from, fires := range map[float64]bool{0: true, 0.35: true, 0.36: true, 0.362: false, 1: false} {
		assert.Len(t, WindowIndoors.CheckStorey(besideWindow(from)), map[bool]int{true: 1}[fires], "%g m", from)
	}
	own := besideWindow(0.5)
	own.Project.Limits = domain.Limits{{ID: domain.RoomBesideWindow, Title: "x", Value: 0.5, Unit: "m", Source: "test"}}
	assert.Len(t, WindowIndoors.CheckStorey(own), 1, "the project's own limit counts")
}

func TestWindowIndoors_namesTheRoomsAndMendsTheMark(t *testing.T) {
	north, south := geom.Rectangle(0, 0, 6, 4), geom.Rectangle(0, -4, 6, 4)
	for name, c := range map[string]struct {
		outlines []geom.Polygon
		marked   bool
		says     string
		now      bool
	}{
		"between, not marked": {[]geom.Polygon{north, south}, false, "A window in wall 1 on the plan of Ground stands between rooms 101 and 102 and is not marked", true},
		"between, marked":     {[]geom.Polygon{north, south}, true, "", true},
		"within one room":     {[]geom.Polygon{geom.Rectangle(-1, -3, 8, 7)}, false, "stands within room 101 and is not marked", true},
		"outer, marked":       {[]geom.Polygon{north}, true, "is marked as giving on another room, but a room lies on the side of room 101 alone", false},
		"outer, not marked":   {[]geom.Polygon{south}, false, "", false},
		"no room, marked":     {nil, true, "", true},
		"rooms elsewhere":     {[]geom.Polygon{geom.Rectangle(20, 20, 4, 4), {}}, true, "", true},
	} {
		pane := window()
		pane.Indoors = c.marked
		f := storey([]domain.Wall{wallTo(6, pane)}, c.outlines...)
		found := WindowIndoors.CheckStorey(f)
		if c.says == "" {
			assert.Empty(t, found, name)
			continue
		}
		require.Len(t, found, 1, name)
		assert.Contains(t, found[0].Message, c.says, name)
		assert.Equal(t, []geom.Point{geom.Pt(3, 0)}, found[0].Places, name)
		assert.Equal(t, "s1/w1/o1", found[0].Key)
		applyGestures(t, f, found[0].Fix)
		assert.Equal(t, c.now, f.Plan.Walls[0].Openings[0].Indoors, name)
		assert.Empty(t, WindowIndoors.CheckStorey(f), "mended: %s", name)
	}
}

// A clerestory of a hall looks out above the lower room beside it: sill 0.9 m.
func TestWindowIndoors_aboveALowerRoom(t *testing.T) {
	for ceiling, fires := range map[units.Metres]bool{0: true, 0.89: false, 0.9: false, 0.91: true, 3: true} {
		f := besideWindow(0.1)
		f.Rooms[1].Ceiling = ceiling
		assert.Len(t, WindowIndoors.CheckStorey(f), map[bool]int{true: 1}[fires], "%g m", ceiling)
	}
}

func TestWindowIndoors_windowsOnly(t *testing.T) {
	f := besideWindow(0)
	f.Plan.Walls[0].Openings[0].Kind = domain.Door
	assert.Empty(t, WindowIndoors.CheckStorey(f))
	f.Plan.Walls = nil
	for i := range 2 * mostFindings {
		w := wallTo(6, window())
		w.ID, w.Seq = domain.ID("w"+string(rune('a'+i%26))+string(rune('a'+i/26))), i+1
		f.Plan.Walls = append(f.Plan.Walls, w)
	}
	assert.Len(t, WindowIndoors.CheckStorey(f), mostFindings)
}

func applyGestures(t *testing.T, f *rule.StoreyFacts, fix *rule.Fix) {
	t.Helper()
	require.NotNil(t, fix)
	require.NotEmpty(t, fix.Title)
	for _, g := range fix.Gestures {
		require.Empty(t, g.Rooms())
		_, err := edit.Draw(&edit.Drawing{Project: f.Project, Storey: f.Storey.ID, Plan: f.Plan}, g)
		require.NoError(t, err)
	}
}
