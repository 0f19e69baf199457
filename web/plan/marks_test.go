package plan

import (
	"html"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/store"
)

// Everything that the rules find of a shape or a place has its mark on the
// drawing and a line in the list that leads to it.
func TestMarks_everyFindingWithAPlaceIsOnThePlan(t *testing.T) {
	a := newApp(t)
	_, err := a.Store.Edit(t.Context(), store.Request{ProjectID: "p1", Who: "A. Designer"}, func(tx *store.Tx) (string, error) {
		r, err := tx.Room("r1")
		if err != nil {
			return "", err
		}
		outside := geom.Pt(30, 30)
		r.Design.Devices[1].At = &outside
		r.Fixtures = []domain.Fixture{{ID: "stray", At: geom.Pt(3, 3)}, {ID: "away", Load: r.Design.Loads[0].ID, At: geom.Pt(40, 2)}}
		if err := tx.PutRoom(r); err != nil {
			return "", err
		}
		bow, err := tx.Room("r2")
		if err != nil {
			return "", err
		}
		bow.Outline = geom.Polygon{Outer: []geom.Point{geom.Pt(20, 0), geom.Pt(24, 4), geom.Pt(24, 0), geom.Pt(20, 4)}}
		if err := tx.PutRoom(bow); err != nil {
			return "", err
		}
		over, err := tx.Room("r3")
		if err != nil {
			return "", err
		}
		over.Outline = geom.Rectangle(7, 0, 4, 10)
		if err := tx.PutRoom(over); err != nil {
			return "", err
		}
		plan := &domain.Plan{ID: "s1", Walls: []domain.Wall{
			{ID: "point", Seq: 1, A: geom.Pt(1, 1), B: geom.Pt(1, 1), Kind: domain.FullWall},
			{ID: "short", Seq: 2, A: geom.Pt(0, 12), B: geom.Pt(2, 12), Kind: domain.FullWall, Openings: []domain.Opening{{ID: "wide", Seq: 1, Kind: domain.Window, At: 1, Width: 3, Head: 2}}},
		}}
		return "drew all of it wrongly", tx.PutPlan(plan)
	})
	require.NoError(t, err)
	body := html.UnescapeString(a.Get(here).Body.String())
	for rule, thing := range map[string]string{
		"storey-plan-overlap-": "room/r1", "storey-plan-wall-length-": "wall/point", "storey-plan-opening-": "opening/short/wide",
		"r2-plan-outline-": "room/r2", "r1-plan-fixture-load-": "", "r1-plan-fixture-outside-": "", "r1-rc": "device/r1/rc",
	} {
		assert.Contains(t, body, `id="finding-`+rule, "its mark")
		_, line, found := strings.Cut(body, `<li id="found-`+rule)
		require.True(t, found, "%s: its line", rule)
		line, _, _ = strings.Cut(line, "</li>")
		assert.Contains(t, line, "data-look=", rule)
		assert.Contains(t, line, `data-key="`+thing, rule)
	}
}
