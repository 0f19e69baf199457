package intake

import (
	"fmt"
	"html"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/store"
)

// traced is a drawing of two layers: a wall of 10 units from 100, 200 and a long
// dimension line. code is its $INSUNITS.
func traced(code int) string {
	return fmt.Sprintf("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n%d\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n"+
		"0\nLINE\n8\nA-WALL\n10\n100\n20\n200\n11\n110\n21\n200\n0\nLINE\n8\nA-WALL\n10\n110\n20\n200\n11\n110\n21\n205\n"+
		"0\nLINE\n8\nDIMS\n10\n0\n20\n0\n11\n300\n21\n0\n0\nENDSEC\n0\nEOF\n", code)
}

func TestLines_lieWhereTheDrawingHasThem(t *testing.T) {
	a := newApp(t)
	got := a.send("level 1.dxf", traced(6), toTrace, "") // 6: meters
	require.Equal(t, 303, got.Code)
	address := strings.TrimSuffix(got.Header().Get("Location"), beneathPart)
	require.NotEqual(t, address, got.Header().Get("Location"), "sent to be drawn over, it asks for its layers at once")
	page := a.Get(address + beneathPart).Body.String()
	assert.Contains(t, page, "A-WALL")
	assert.Contains(t, page, "DIMS")
	assert.Contains(t, a.Get(address).Body.String(), "Lay its lines beneath a storey instead", "the way from the import")

	layer := "layer-0"
	if strings.Index(page, "DIMS") < strings.Index(page, "A-WALL") {
		layer = "layer-1"
	}
	none := a.Plain(address+beneathPart, "layers", "yes")
	assert.Equal(t, 422, none.Code)
	assert.Contains(t, none.Body.String(), "Choose at least one layer")
	require.Equal(t, 303, a.Plain(address+beneathPart, "layers", "yes", layer, "yes").Code)
	a.settled(address)
	page = html.UnescapeString(a.Get(address).Body.String())
	assert.Contains(t, page, "Place these lines beneath a storey")
	assert.Contains(t, page, "level 1.dxf, 2 lines, 33.5 ft x 17.1 ft")
	assert.Contains(t, page, `value="327.75591 ft"`, "its own place, across")
	assert.Contains(t, page, "by its own unit")
	assert.Contains(t, page, "Other layers")
	shown := a.Get(address + "/picture")
	assert.Equal(t, drawing.TracingMedia, shown.Header().Get("Content-Type"))

	require.Equal(t, 303, a.Plain(address+"/apply", "storey", "s1", "size", "scale", "scale", "1:1", "turn", "", "x", "99.9 m", "y", "199.9 m", "opacity", "50").Code)
	plan, _, err := a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	u := plan.Underlay
	assert.InDelta(t, 10.2, float64(u.Width), 1e-9, "and 0.1 m around the lines")
	assert.InDelta(t, 5.2, float64(u.Height), 1e-9)
	stored := a.Get("/projects/p1/pictures/" + u.Picture)
	tracing, err := drawing.ReadTracing(stored.Body.Bytes())
	require.NoError(t, err)
	assert.Equal(t, 2, tracing.Pieces())
	history, err := a.Store.History(t.Context(), "p1", store.HistoryFilter{})
	require.NoError(t, err)
	assert.Contains(t, history[0].Said, "placed lines of level 1.dxf beneath Ground: 33 ft 5.5")

	again := a.Plain(imports + "/pictures/s1/again")
	require.Equal(t, 303, again.Code)
	page = a.Get(again.Header().Get("Location")).Body.String()
	assert.Contains(t, page, "Place these lines beneath a storey")
	assert.Contains(t, page, `value="327.75591 ft"`)

	_, err = a.Store.Undo(t.Context(), store.Request{ProjectID: "p1", Scope: store.PlanSubject("s1")})
	require.NoError(t, err)
	plan, _, err = a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Nil(t, plan.Underlay)
}

func TestLines_askForAUnitThatIsLeftOpen(t *testing.T) {
	a := newApp(t)
	got := a.send("level 1.dxf", traced(0), toTrace, "")
	require.Equal(t, 303, got.Code)
	at := got.Header().Get("Location")
	refused := a.Plain(at, "layers", "yes", "layer-0", "yes", "layer-1", "yes")
	assert.Equal(t, 422, refused.Code)
	assert.Contains(t, refused.Body.String(), "Choose the unit of length first")
	assert.Contains(t, a.Plain(at, "layers", "yes", "layer-0", "yes", "unit", "furlong").Body.String(), "is not known")
	require.Equal(t, 303, a.Plain(at, "layers", "yes", "layer-0", "yes", "layer-1", "yes", "unit", "ft").Code)
	p := a.settled(strings.TrimSuffix(at, beneathPart))
	require.NotNil(t, p.picture)
	assert.InDelta(t, 300*units.MetresPerFoot*1000+200, float64(p.picture.Width), 2)
}

func TestLines_onlyOfDrawings(t *testing.T) {
	a := newApp(t)
	address, _ := a.preview("ground floor.png", scan(t, 100, 50))
	assert.Equal(t, 422, a.Get(address+beneathPart).Code)
}
