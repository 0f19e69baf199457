package plan

import (
	"html"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/export/drawing"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/validate/rule"
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

// What has a mark of its own is not counted again in the room's: an error at a device
// leaves the room's warning a warning, as its workbench has it.
func TestRoomMarks_theRestIsAsSevereAsItIs(t *testing.T) {
	at := geom.Pt(1, 1)
	r := &domain.Resolved{Room: &domain.Room{ID: "r1", Number: "301", Outline: geom.Rectangle(0, 0, 4, 4)}, Design: domain.Design{Devices: []domain.Device{{ID: "d", At: &at}}}}
	of := func(severity rule.Severity, message string, subjects ...rule.Subject) rule.Finding {
		return rule.Finding{Rule: "x", Severity: severity, Message: message, Subjects: subjects}
	}
	device := rule.Subject{Part: "devices", ID: "d"}
	placed := of(rule.Error, "It is there.")
	placed.Places = []geom.Point{geom.Pt(2, 2)}
	for name, c := range map[string]struct {
		found    []rule.Finding
		n        store.Summary
		severity drawing.Severity
		text     string
	}{
		"error at a device":    {[]rule.Finding{of(rule.Error, "No.", device), of(rule.Warning, "Dim.")}, store.Summary{Errors: 1, Warnings: 1}, drawing.Warning, "Dim."},
		"error at a place":     {[]rule.Finding{placed, of(rule.Warning, "Dim.")}, store.Summary{Errors: 1, Warnings: 1}, drawing.Warning, "Dim."},
		"warning at a device":  {[]rule.Finding{of(rule.Warning, "No.", device), of(rule.Error, "Dark.")}, store.Summary{Errors: 1, Warnings: 1}, drawing.Error, "Dark."},
		"two warnings":         {[]rule.Finding{of(rule.Warning, "Dim."), of(rule.Warning, "Dull.")}, store.Summary{Warnings: 2}, drawing.Warning, "Dim. 2 warnings in all: the room's workbench lists them."},
		"the worst is named":   {[]rule.Finding{of(rule.Warning, "Dim."), of(rule.Error, "Dark.")}, store.Summary{Errors: 1, Warnings: 1}, drawing.Error, "Dark. 1 error and 1 warning in all: the room's workbench lists them."},
		"errors without words": {nil, store.Summary{Errors: 2}, drawing.Error, "2 errors in all: the room's workbench lists them."},
	} {
		var own []mark
		for _, m := range roomMarks(r, c.found, c.n) {
			if m.ID == "r1" {
				own = append(own, m)
			}
		}
		require.Len(t, own, 1, name)
		assert.Equal(t, c.severity, own[0].Severity, name)
		assert.Equal(t, c.text, own[0].Text, name)
	}
}

// Rooflights that overlap are marked, and the line leads to one of them.
func TestStoreyMarks_rooflights(t *testing.T) {
	f := validate.ByID("plan-rooflight-overlap").FiresStorey()
	marks := storeyMarks(validate.Storey(f), f.Plan)
	require.Len(t, marks, 1)
	assert.Equal(t, "rooflight/l1", marks[0].Thing)
	assert.Contains(t, marks[0].Text, "overlap")
}
