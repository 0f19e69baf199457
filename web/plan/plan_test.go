package plan

import (
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/webtest"
)

const here = "/projects/p1/storeys/s1/plan"

func newApp(t *testing.T) *webtest.App {
	t.Helper()
	scope := webtest.School()
	at := geom.Pt(2, 2)
	scope.Rooms[0].Outline = geom.Rectangle(0, 0, 8, 10)
	scope.Rooms[0].Design.Devices[0].At = &at
	scope.Rooms[0].Sitting = []domain.Seat{{ID: "seat1", At: geom.Pt(4, 6)}}
	return webtest.Open(t, func(a *webtest.App, r chi.Router) {
		judge := func(p *domain.Project, r *domain.Resolved) []rule.Finding { return validate.Room(p, r, a.Time) }
		Screen{Store: a.Store, Log: a.Log, Now: a.Now, Judge: judge}.Routes(r)
	}, scope)
}

func roomNow(a *webtest.App, id domain.ID) *domain.Resolved {
	a.T.Helper()
	state, err := a.Store.Room(a.T.Context(), id)
	require.NoError(a.T, err)
	return state.Resolved
}

func gesture(a *webtest.App, g map[string]any, headers ...string) (int, string) {
	a.T.Helper()
	raw, err := json.Marshal(g)
	require.NoError(a.T, err)
	w := a.Ask(http.MethodPost, here+"/gesture", webtest.Form("gesture", string(raw)), headers...)
	return w.Code, w.Body.String()
}

func device(a *webtest.App, room domain.ID, i int) (thing string, d *domain.Device) {
	d = &roomNow(a, room).Design.Devices[i]
	return "device/" + string(room) + "/" + string(d.ID), d
}

func TestPage_showsTheDrawingAndWhatIsNotPlaced(t *testing.T) {
	a := newApp(t)
	w := a.Get(here)
	require.Equal(t, 200, w.Code)
	body := w.Body.String()
	assert.Contains(t, body, `id="room-`+string(roomNow(a, "r1").ID))
	assert.Contains(t, body, "1 of 3 rooms drawn")
	assert.Contains(t, body, "not placed: ")
	assert.NotContains(t, body, "<b>Meeting</b>", "names are text")
	assert.Equal(t, 404, a.Get("/projects/p1/storeys/nowhere/plan").Code)
	assert.Equal(t, 404, a.Get("/projects/nobody/storeys/s1/plan").Code)
	assert.Equal(t, here, a.Get("/projects/p1/plan").Header().Get("Location"))
}

func TestPage_modelHoldsPlacesInMeters(t *testing.T) {
	a := newApp(t)
	body := a.Get(here).Body.String()
	_, rest, _ := strings.Cut(body, `id="plan-model"`)
	_, rest, _ = strings.Cut(rest, `>`)
	text, _, _ := strings.Cut(rest, `</div>`)
	var m struct {
		modelFrame
		Rooms  []modelRoom
		Things []modelThing
	}
	require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(text)), &m))
	require.Len(t, m.Rooms, 3)
	assert.Equal(t, [][]geom.Point{{{X: 0, Y: 0}, {X: 8, Y: 0}, {X: 8, Y: 10}, {X: 0, Y: 10}}}, m.Rooms[0].Outline)
	require.Len(t, m.Things, 2)
	assert.Equal(t, geom.Pt(2, 2), m.Things[0].At)
	assert.Contains(t, m.Rooms[0].Facts, [2]string{"Area drawn", "861 sq ft"}) // 80 m2 / 0.09290304
}

func TestEmptyStorey_offersImportAndDrawing(t *testing.T) {
	a := newApp(t)
	body := a.Get("/projects/p1/storeys/s2/plan").Body.String()
	assert.Contains(t, body, "Nothing is drawn on this storey")
}

func TestGesture_movesAndUndoes(t *testing.T) {
	a := newApp(t)
	thing, _ := device(a, "r1", 0)
	code, body := gesture(a, map[string]any{"do": "move", "things": []string{thing, "seat/r1/seat1"}, "by": []float64{1, 0.5}})
	require.Equal(t, 200, code)
	assert.Contains(t, body, "Saved")
	_, d := device(a, "r1", 0)
	assert.Equal(t, geom.Pt(3, 2.5), *d.At)
	assert.Equal(t, geom.Pt(5, 6.5), roomNow(a, "r1").Sitting[0].At)

	require.Equal(t, 200, a.Post(here+"/undo").Code)
	_, d = device(a, "r1", 0)
	assert.Equal(t, geom.Pt(2, 2), *d.At, "one gesture, one step")
	assert.Equal(t, geom.Pt(4, 6), roomNow(a, "r1").Sitting[0].At)
	require.Equal(t, 200, a.Post(here+"/redo").Code)
	_, d = device(a, "r1", 0)
	assert.Equal(t, geom.Pt(3, 2.5), *d.At)
}

func TestGesture_placesOfATypicalsRoomAreItsOwn(t *testing.T) {
	a := newApp(t)
	thing, _ := device(a, "r3", 0)
	code, _ := gesture(a, map[string]any{"do": "place device", "things": []string{thing}, "at": [][]float64{{12, 3}}})
	require.Equal(t, 200, code)
	r := roomNow(a, "r3")
	assert.Equal(t, geom.Pt(12, 3), *r.Design.Devices[0].At)
	assert.Empty(t, r.RealExceptions(), "a place is no exception to the typical")
	assert.Nil(t, r.Typical.Design.Devices[0].At)
}

func TestGesture_onAnOldVersionIsRefused(t *testing.T) {
	a := newApp(t)
	thing, d := device(a, "r1", 0)
	a.EditRoom("r1", "renamed", func(r *domain.Resolved) { r.Name = "Other" })
	code, body := gesture(a, map[string]any{"do": "move", "things": []string{thing}, "by": []float64{1, 0}}, "X-Base-Version", "room:r1=1")
	assert.Equal(t, 409, code)
	assert.Contains(t, body, "Not saved")
	assert.Contains(t, body, "101 Other", "the newer state comes with the answer")
	_, now := device(a, "r1", 0)
	assert.Equal(t, *d.At, *now.At)
	// Another room's change is nothing to it.
	code, _ = gesture(a, map[string]any{"do": "move", "things": []string{thing}, "by": []float64{1, 0}}, "X-Base-Version", "room:r1=2,room:r2=99")
	assert.Equal(t, 200, code)
}

func TestGesture_refusals(t *testing.T) {
	a := newApp(t)
	for _, g := range []map[string]any{
		{}, {"do": "fly"}, {"do": "move", "things": []string{"x"}, "by": []float64{1, 0}}, {"do": "move", "by": []float64{1, 0}},
		{"do": "move", "things": []string{"seat/r1/gone"}, "by": []float64{1, 0}}, {"do": "move", "things": []string{"room/gone"}, "by": []float64{1, 0}},
		{"do": "outline", "room": "r2", "outline": [][]float64{{0, 0}, {4, 4}, {4, 0}, {0, 4}}}, {"do": "place seats", "room": "r1"}, {"do": "move", "by": []float64{1}},
	} {
		code, body := gesture(a, g)
		assert.Equal(t, 422, code, "%v", g)
		assert.Contains(t, body, "banner error", "%v", g)
	}
	thing, d := device(a, "r1", 0)
	assert.Equal(t, geom.Pt(2, 2), *d.At)
	w := a.Ask(http.MethodPost, "/projects/p1/storeys/s2/plan/gesture", webtest.Form("gesture", `{"do":"move","things":["`+thing+`"],"by":[1,0]}`))
	assert.Equal(t, 422, w.Code, "a room of another storey")
}

func TestGesture_drawsRooms(t *testing.T) {
	a := newApp(t)
	ring := [][]float64{{0, 12}, {6, 12}, {6, 16}, {0, 16}}
	code, _ := gesture(a, map[string]any{"do": "outline", "room": "r2", "outline": ring})
	require.Equal(t, 200, code)
	assert.InDelta(t, 24, roomNow(a, "r2").Outline.Area(), 1e-9)
	assert.InDelta(t, 30, float64(roomNow(a, "r2").Area), 1e-9, "a stated area stays")

	code, body := gesture(a, map[string]any{"do": "draw room", "number": "109", "name": "Store", "outline": ring})
	require.Equal(t, 200, code)
	assert.Contains(t, body, "109 Store")
	rooms, err := a.Store.StoreyRooms(t.Context(), "p1", "s1")
	require.NoError(t, err)
	require.Len(t, rooms, 4)
	require.Equal(t, 200, a.Post(here+"/undo").Code)
	rooms, err = a.Store.StoreyRooms(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Len(t, rooms, 3)
}

func TestGesture_splitsARoomInOneStep(t *testing.T) {
	a := newApp(t)
	code, body := gesture(a, map[string]any{"do": "split", "room": "r1", "at": [][]float64{{-1, 4}, {9, 4}}, "number": "101A"})
	require.Equal(t, 200, code)
	assert.Contains(t, body, "101A")
	assert.InDelta(t, 48, roomNow(a, "r1").Outline.Area(), 1e-6)
	require.Equal(t, 200, a.Post(here+"/undo").Code)
	assert.InDelta(t, 80, roomNow(a, "r1").Outline.Area(), 1e-6)
	rooms, err := a.Store.StoreyRooms(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Len(t, rooms, 3)
}

func TestTable_setsPlacesAndNamesARefusedCell(t *testing.T) {
	a := newApp(t)
	thing, _ := device(a, "r1", 0)
	body := a.Get(here + "?show=table").Body.String()
	assert.Contains(t, body, `data-path="`+thing+`/x"`)
	w := a.Post(here+"/set", "edits", `[["`+thing+`/x","10 ft"],["`+thing+`/y","-3 ft"],["`+thing+`/turn","450"]]`)
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Header().Get("HX-Trigger"), thing+"/turn")
	_, d := device(a, "r1", 0)
	assert.Equal(t, geom.Pt(2, 2), *d.At, "all or nothing")
	w = a.Post(here+"/set", "edits", `[["`+thing+`/x","10 ft"],["`+thing+`/y","-3 ft"]]`)
	require.Equal(t, 200, w.Code)
	_, d = device(a, "r1", 0)
	assert.Equal(t, geom.Pt(3.048, -0.9144), *d.At)
	w = a.Ask(http.MethodPost, here+"/set", webtest.Form("path", thing+"/x", "text", "1"), "X-Base-Version", "room:r1=1", "HX-Current-URL", "http://localhost"+here+"?show=table")
	assert.Equal(t, 409, w.Code)
	assert.Contains(t, w.Body.String(), "10 ft", "the value of now stands beside the typed one")
	for _, bad := range []string{"x", "wall/w1/x", "room/r1", thing + "/z"} {
		assert.Equal(t, 422, a.Post(here+"/set", "path", bad, "text", "1").Code, bad)
	}
}

func TestMarks_standAtTheDeviceThatAFindingIsAbout(t *testing.T) {
	a := newApp(t)
	a.EditRoom("r1", "no parent", func(r *domain.Resolved) {
		for i := range r.Design.Devices {
			at := geom.Pt(float64(i)+0.5, 1)
			r.Design.Devices[i].At = &at
			r.Design.Devices[i].Parent = ""
		}
	})
	body := a.Get(here).Body.String()
	assert.Contains(t, body, `data-layer="findings"`)
	assert.Contains(t, html.UnescapeString(body), `"key":"device/r1/`)
	assert.Contains(t, body, `data-key="device/r1/`, "and in the list")
}

func TestGesture_wallsAndOpenings(t *testing.T) {
	a := newApp(t)
	code, _ := gesture(a, map[string]any{"do": "walls", "kind": "wall", "thickness": 0.12, "at": [][]float64{{0, 12}, {6, 12}, {6, 16}}})
	require.Equal(t, 200, code)
	plan, revision, err := a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	require.Len(t, plan.Walls, 2)
	wall := string(plan.Walls[0].ID)
	code, _ = gesture(a, map[string]any{"do": "opening", "kind": "door", "wall": wall, "along": 2, "width": 0.9, "head": 2.1}, "X-Base-Version", "plan:s1=99")
	assert.Equal(t, 409, code, "walls have a version of their own")
	code, _ = gesture(a, map[string]any{"do": "opening", "kind": "door", "wall": wall, "along": 2, "width": 0.9, "head": 2.1}, "X-Base-Version", fmt.Sprintf("plan:s1=%d,room:r1=99", revision))
	require.Equal(t, 200, code)
	for _, g := range []map[string]any{
		{"do": "walls", "kind": "wall"}, {"do": "walls", "kind": "moat", "at": [][]float64{{0, 0}, {1, 0}}}, {"do": "opening", "kind": "door", "wall": "gone", "width": 1},
		{"do": "opening", "kind": "door", "wall": wall, "along": 2, "width": 0.9}, {"do": "take off", "things": []string{"opening/" + wall + "/gone"}},
	} {
		code, body := gesture(a, g)
		assert.Equal(t, 422, code, "%v: %.300s", g, body)
	}
	body := a.Get(here + "?show=table").Body.String()
	assert.Contains(t, body, `data-path="wall/`+wall+`/ax"`)
	w := a.Ask(http.MethodPost, here+"/set", webtest.Form("path", "wall/"+wall+"/thickness", "text", "6 in"), "X-Base-Version", "plan:s1=99", "HX-Current-URL", "http://localhost"+here+"?show=table")
	assert.Equal(t, 409, w.Code)
	assert.Contains(t, w.Body.String(), "6 in")
	require.Equal(t, 200, a.Post(here+"/set", "path", "wall/"+wall+"/thickness", "text", "6 in").Code)
	require.Equal(t, 200, a.Post(here+"/set", "path", "wall/"+wall+"/material", "text", "drywall").Code)
	body = a.Get(here + "?show=table").Body.String()
	for _, part := range []string{`data-path="wall/` + wall + `/material"`, ">stud wall</td>", ">3 dB</td>", `<datalist id="wall-material">`, "ITU-R P.2040 computes 1.8"} {
		assert.Contains(t, body, part)
	}
	assert.Contains(t, a.Get(here).Body.String(), "stud wall, 3 dB", "the inspector says it in a line")
	assert.Equal(t, 422, a.Post(here+"/set", "path", "wall/"+wall+"/material", "text", "straw").Code)
	for range 4 {
		require.Equal(t, 200, a.Post(here+"/undo").Code)
	}
	plan, _, err = a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Empty(t, plan.Walls)
}
