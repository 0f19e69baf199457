package edit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
)

// twoSides is a storey whose wall of 6 m has a room on each side given: above and below.
func twoSides(outlines ...geom.Polygon) *edit.Drawing {
	p, _ := drawnRoom()
	d := &edit.Drawing{Project: p, Storey: "s1", Plan: walled()}
	for _, outline := range outlines {
		d.Beside = append(d.Beside, domain.Footprint{Outline: outline})
	}
	return d
}

var above, below = geom.Rectangle(0, 0, 6, 4), geom.Rectangle(0, -4, 6, 4)

func TestAddOpening_aWindowBetweenRoomsGivesOnTheOther(t *testing.T) {
	add := func(d *edit.Drawing, kind domain.OpeningKind) bool {
		_, err := edit.Draw(d, edit.AddOpening{Wall: "w1", ID: "n", Kind: kind, At: 4, Width: 1, Sill: 1, Head: 2})
		require.NoError(t, err)
		return d.Plan.Walls[0].Openings[1].Indoors
	}
	assert.True(t, add(twoSides(above, below), domain.Window))
	assert.False(t, add(twoSides(above), domain.Window), "outdoors is on the other side")
	assert.False(t, add(twoSides(), domain.Window), "no room is drawn")
	assert.False(t, add(twoSides(above, below), domain.Door), "only windows are marked")
	// Rooms may begin 0.3 m (the limit) beyond the faces of the wall of 0.12 m: 0.36 m
	// from its center line. What lies on an outline lies in it.
	for from, indoors := range map[float64]bool{0.35: true, 0.36: true, 0.37: false} {
		assert.Equal(t, indoors, add(twoSides(above, geom.Rectangle(0, -4-from, 6, 4)), domain.Window), "%g m", from)
	}
}

func TestPaste_aWindowIsMarkedWhereItComesToStand(t *testing.T) {
	for name, c := range map[string]struct {
		outlines []geom.Polygon
		marked   bool
		want     bool
	}{
		"between rooms":             {[]geom.Polygon{above, below}, false, true},
		"in an outer wall":          {[]geom.Polygon{above}, true, false},
		"no room, marked":           {nil, true, true},
		"no room, not marked":       {nil, false, false},
		"within one room, around":   {[]geom.Polygon{geom.Rectangle(-1, -4, 9, 8)}, false, true},
		"a room on the wall's side": {[]geom.Polygon{geom.Rectangle(7, -4, 3, 8)}, false, false},
	} {
		pane := domain.Opening{ID: "p", Kind: domain.Window, At: 3, Width: 1, Sill: 1, Head: 2, Indoors: c.marked}
		loose := &edit.Clip{Openings: []edit.LooseOpening{{Opening: pane, Middle: geom.Pt(4, 0)}}}
		require.True(t, loose.Windows())
		d := twoSides(c.outlines...)
		_, err := edit.Draw(d, edit.Paste{Clip: loose, New: counter("n")})
		require.NoError(t, err, name)
		assert.Equal(t, c.want, d.Plan.Walls[0].Openings[1].Indoors, name)

		wall := domain.Wall{ID: "w", B: geom.Pt(6, 0), Kind: domain.FullWall, Thickness: 0.12, Openings: []domain.Opening{pane}}
		d = twoSides(c.outlines...)
		_, err = edit.Draw(d, edit.Paste{Clip: &edit.Clip{Walls: []domain.Wall{wall}}, New: counter("n")})
		require.NoError(t, err, name)
		assert.Equal(t, c.want, d.Plan.Walls[1].Openings[0].Indoors, "with its wall: %s", name)
	}
}

func TestDuplicateThings_aCopiedWallMarksItsWindows(t *testing.T) {
	d := twoSides(above, geom.Rectangle(0, 4, 6, 4))
	d.Plan.Walls[0].Openings[0].Kind = domain.Window
	_, err := edit.Draw(d, edit.DuplicateThings{Things: things(t, "wall/w1"), IDs: []domain.ID{"w2"}, By: geom.Pt(0, 4)})
	require.NoError(t, err)
	assert.False(t, d.Plan.Walls[0].Openings[0].Indoors)
	assert.True(t, d.Plan.Walls[1].Openings[0].Indoors, "4 m up it stands between the two rooms")
}

func TestSetWall_ofAWindow(t *testing.T) {
	glazed := walled()
	glazed.Walls[0].Openings[0] = domain.Opening{ID: "o1", Seq: 1, Kind: domain.Window, At: 1, Width: 0.9, Sill: 0.9, Head: 2.1}
	set := func(p *domain.Plan, field, text string) (domain.Opening, error) {
		work, _, err := drawWalls(t, p, edit.SetWall{Thing: things(t, "opening/w1/o1")[0], Field: field, Text: text, Path: "opening/w1/o1/" + field})
		return work.Walls[0].Openings[0], err
	}
	window := func(change func(*domain.Opening)) domain.Opening {
		o := glazed.Walls[0].Openings[0]
		change(&o)
		return o
	}
	for _, c := range []struct {
		field, text string
		want        domain.Opening
	}{
		{"glass", "0.68", window(func(o *domain.Opening) { o.Glass = 0.68 })},
		{"glass", "1 %", window(func(o *domain.Opening) { o.Glass = 0.01 })},
		{"glass", "", window(func(*domain.Opening) {})},
		{"blocked", "25", window(func(o *domain.Opening) { o.Blocked = 25 })},
		{"blocked", "90°", window(func(o *domain.Opening) { o.Blocked = 90 })},
		{"blocked", "17.5 deg", window(func(o *domain.Opening) { o.Blocked = 17.5 })},
		{"indoors", "yes", window(func(o *domain.Opening) { o.Indoors = true })},
		{"sill", "0", window(func(o *domain.Opening) { o.Sill = 0 })},
		{"head", "", window(func(o *domain.Opening) { o.Head = 0 })},
	} {
		got, err := set(glazed, c.field, c.text)
		require.NoError(t, err, "%s %q", c.field, c.text)
		assert.Equal(t, c.want, got, "%s %q", c.field, c.text)
	}
	for _, c := range [][2]string{{"glass", "0.9 %"}, {"glass", "101 %"}, {"blocked", "90.1"}, {"blocked", "-1"}, {"indoors", "maybe"}, {"head", "0.9 m"}, {"sill", "51 m"}} {
		got, err := set(glazed, c[0], c[1])
		var field *edit.FieldError
		require.ErrorAs(t, err, &field, "%v", c)
		assert.Equal(t, glazed.Walls[0].Openings[0], got, "%v", c)
	}
	for _, field := range []string{"glass", "blocked", "indoors"} {
		_, err := set(walled(), field, "1 %")
		assert.ErrorContains(t, err, "a door has no field", field)
	}
}
