package plan

import (
	"encoding/json"
	"net/http"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/web/webtest"
)

const upstairs = "/projects/p1/storeys/s2/plan"

func roomsOf(a *webtest.App, storey domain.ID) map[string]*domain.Resolved {
	a.T.Helper()
	rooms, err := a.Store.StoreyRooms(a.T.Context(), "p1", storey)
	require.NoError(a.T, err)
	out := map[string]*domain.Resolved{}
	for _, r := range rooms {
		out[r.Resolved.Number] = r.Resolved
	}
	return out
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	raw, err := json.Marshal(v)
	require.NoError(t, err)
	return string(raw)
}

// outline103 draws room 103, which follows typical CR-1, beside room 101.
func outline103(a *webtest.App) {
	a.EditRoom("r3", "drawn", func(r *domain.Resolved) { r.Outline = geom.Rectangle(8, 0, 5, 10) })
}

func clip(a *webtest.App, things ...string) json.RawMessage {
	a.T.Helper()
	raw, err := json.Marshal(things)
	require.NoError(a.T, err)
	w := a.Post(here+"/copied", "things", string(raw))
	require.Equal(a.T, 200, w.Code, w.Body.String())
	return w.Body.Bytes()
}

func at(a *webtest.App, plan string, g map[string]any, more ...string) (int, string) {
	a.T.Helper()
	raw, err := json.Marshal(g)
	require.NoError(a.T, err)
	w := a.Post(plan+"/gesture", append([]string{"gesture", string(raw)}, more...)...)
	return w.Code, w.Body.String()
}

func TestMerge_isOneStepThatComesBackExactly(t *testing.T) {
	a := newApp(t)
	outline103(a)
	before := asJSON(t, []any{roomNow(a, "r1").Room, roomNow(a, "r3").Room})
	code, body := at(a, here, map[string]any{"do": "merge", "things": []string{"room/r1", "room/r3"}})
	require.Equal(t, 200, code, "%.400s", body)
	rooms := roomsOf(a, "s1")
	require.Len(t, rooms, 2)
	assert.InDelta(t, 130, rooms["101"].Outline.Area(), 0.01)
	assert.Len(t, rooms["101"].Design.Devices, 12)
	w := a.Post(here + "/undo")
	require.Equal(t, 200, w.Code)
	assert.Contains(t, w.Body.String(), "Undid: merged 103 into room 101")
	assert.JSONEq(t, before, asJSON(t, []any{roomNow(a, "r1").Room, roomNow(a, "r3").Room}))
	require.Equal(t, 200, a.Post(here+"/redo").Code)
	require.Len(t, roomsOf(a, "s1"), 2)

	code, body = at(a, here, map[string]any{"do": "merge", "things": []string{"room/r1", "seat/r1/seat1"}})
	assert.Equal(t, 422, code)
	assert.Contains(t, body, "only rooms")
}

func TestMerge_byTheFormBesideTheTable(t *testing.T) {
	a := newApp(t)
	outline103(a)
	assert.Contains(t, a.Get(here+"?show=table").Body.String(), `id="merge-form"`)
	w := a.Post(here+"/merge", "room", "r3", "with", "r3")
	assert.Equal(t, 422, w.Code)
	require.Equal(t, 200, a.Post(here+"/merge", "room", "r3", "with", "r1").Code)
	rooms := roomsOf(a, "s1")
	require.Contains(t, rooms, "103")
	assert.Empty(t, rooms["103"].TypicalID, "its design is its own now")
	require.NotContains(t, rooms, "101")
}

func TestPaste_onAnotherStorey(t *testing.T) {
	a := newApp(t)
	outline103(a)
	c := clip(a, "room/r1", "room/r3")
	code, body := at(a, upstairs, map[string]any{"do": "paste", "clip": c, "by": []float64{1, 0}}, "token", "t1")
	require.Equal(t, 200, code, "%.400s", body)
	rooms := roomsOf(a, "s2")
	require.Contains(t, rooms, "101 copy", "101 is taken on the storey below")
	twin := rooms["101 copy"]
	assert.Equal(t, geom.Rectangle(1, 0, 8, 10), twin.Outline)
	assert.Equal(t, geom.Pt(5, 6), twin.Sitting[0].At)
	assert.Equal(t, geom.Pt(3, 2), *twin.Design.Devices[0].At)
	assert.Equal(t, domain.ID("t1"), rooms["103 copy"].TypicalID, "it follows the same typical")
	require.Equal(t, 200, a.Post(upstairs+"/undo").Code)
	assert.Empty(t, roomsOf(a, "s2"), "one step")
}

func TestCut_andPasteIsAMove(t *testing.T) {
	a := newApp(t)
	c := clip(a, "room/r1")
	code, _ := at(a, here, map[string]any{"do": "cut", "things": []string{"room/r1"}})
	require.Equal(t, 200, code)
	require.NotContains(t, roomsOf(a, "s1"), "101")
	code, _ = at(a, upstairs, map[string]any{"do": "paste", "clip": c})
	require.Equal(t, 200, code)
	assert.Contains(t, roomsOf(a, "s2"), "101", "its number is free again")
}

func TestPaste_thingsGoToTheRoomUnderThem(t *testing.T) {
	a := newApp(t)
	outline103(a)
	thing, d := device(a, "r1", 0)
	c := clip(a, thing, "seat/r1/seat1")
	devices := len(roomNow(a, "r3").Design.Devices)
	code, body := at(a, here, map[string]any{"do": "paste", "clip": c, "by": []float64{8, 0}})
	require.Equal(t, 200, code, "%.400s", body)
	room := roomNow(a, "r3")
	require.Len(t, room.Design.Devices, devices+1)
	assert.Equal(t, geom.Pt(10, 2), *room.Design.Devices[devices].At)
	assert.NotEqual(t, d.Tag, room.Design.Devices[devices].Tag)
	assert.Equal(t, domain.ID("t1"), room.TypicalID, "an exception to its typical")
	require.Len(t, room.Sitting, 1)
	code, body = at(a, here, map[string]any{"do": "paste", "clip": c, "by": []float64{80, 0}})
	assert.Equal(t, 422, code)
	assert.Contains(t, body, "outside every room")
}

func TestPaste_refusesAHostileClipboard(t *testing.T) {
	a := newApp(t)
	good := string(clip(a, "room/r1"))
	for name, raw := range map[string]string{
		"nothing": "null", "other form": `{"form":"x"}`, "unknown member": strings.Replace(good, `"form"`, `"more":1,"form"`, 1),
		"bad id":     strings.Replace(good, `"id":"r1"`, `"id":"../r1"`, 1),
		"bad kind":   strings.Replace(good, `"kind":"lighting"`, `"kind":"laser"`, 1),
		"far corner": strings.Replace(good, `[8,10]`, `[1e300,10]`, 1),
	} {
		code, body := at(a, upstairs, map[string]any{"do": "paste", "clip": json.RawMessage(raw)})
		assert.Equal(t, 422, code, "%s: %.300s", name, body)
	}
	assert.Empty(t, roomsOf(a, "s2"))
	for _, things := range []string{"", "[]", `["room/gone"]`, `["x"]`, `["wall/gone"]`} {
		assert.Equal(t, 422, a.Post(here+"/copied", "things", things).Code, things)
	}
	assert.Equal(t, 404, a.Post("/projects/p1/storeys/nowhere/plan/copied", "things", `["room/r1"]`).Code)
}

// The page sends a gesture again where its answer was lost.
func TestGesture_isNotCarriedOutTwice(t *testing.T) {
	a := newApp(t)
	seats := map[string]any{"do": "place seats", "room": "r1", "at": [][]float64{{1, 1}}}
	for range 3 {
		code, body := at(a, here, seats, "token", "abc")
		require.Equal(t, 200, code)
		assert.Contains(t, body, "Saved")
	}
	assert.Len(t, roomNow(a, "r1").Sitting, 2)
	at(a, here, seats, "token", "abd")
	assert.Len(t, roomNow(a, "r1").Sitting, 3, "another gesture")

	code, _ := at(a, here, map[string]any{"do": "place seats", "room": "gone", "at": [][]float64{{1, 1}}}, "token", "again")
	require.Equal(t, 422, code)
	code, _ = at(a, here, seats, "token", "again")
	assert.Equal(t, 200, code, "what was refused may be tried again")
	assert.Len(t, roomNow(a, "r1").Sitting, 4)
	code, _ = at(a, here, seats, "token", strings.Repeat("x", 100))
	assert.Equal(t, 422, code)

	var all sync.WaitGroup
	for range 8 {
		all.Go(func() { at(a, here, seats, "token", "at once") })
	}
	all.Wait()
	assert.Len(t, roomNow(a, "r1").Sitting, 5)
}

// A program that was started anew has forgotten the tokens.
func TestGesture_newRoomsAreNotMadeTwiceAfterARestart(t *testing.T) {
	a := newApp(t)
	draw := &wire{Do: "draw room", Number: "110", token: "abc"}
	assert.Equal(t, draw.roomIDs()(), (&wire{token: "abc"}).roomIDs()())
	assert.NotEqual(t, draw.roomIDs()(), (&wire{token: "abd"}).roomIDs()())
	assert.NotEqual(t, (&wire{}).roomIDs()(), (&wire{}).roomIDs()())
	ids := draw.roomIDs()
	assert.NotEqual(t, ids(), ids())
	g := map[string]any{"do": "draw room", "number": "110", "outline": [][]float64{{20, 0}, {24, 0}, {24, 3}}}
	code, _ := at(a, here, g, "token", "abc")
	require.Equal(t, 200, code)
	code, body := at(a, upstairs, g, "token", "abc")
	assert.Equal(t, 422, code, "the store has a room of that ID")
	assert.Contains(t, body, "is there already")
	assert.Empty(t, roomsOf(a, "s2"))
}

func TestAttempts_forgetTheOldest(t *testing.T) {
	tries := newAttempts()
	for i := range mostTries + 10 {
		tries.end(tries.begin("p", string(rune('a'+i%26))+strings.Repeat("x", i/26%60)+asJSON(t, i)), true)
	}
	assert.Len(t, tries.known, mostTries)
	assert.NotNil(t, tries.begin("p", ""), "no token, no memory")
}

func TestGesture_alignsDistributesAndFills(t *testing.T) {
	a := newApp(t)
	code, _ := at(a, here, map[string]any{"do": "grid", "room": "r1", "load": "l1", "columns": 2, "rows": 3, "step": []float64{0, 0}})
	require.Equal(t, 200, code)
	room := roomNow(a, "r1")
	require.Len(t, room.Fixtures, 6)
	names := make([]string, 6)
	for i, f := range room.Fixtures {
		names[i] = "fixture/r1/" + string(f.ID)
	}
	code, _ = at(a, here, map[string]any{"do": "align", "things": names, "to": "left"})
	require.Equal(t, 200, code)
	for _, f := range roomNow(a, "r1").Fixtures {
		assert.InDelta(t, 2, f.At.X, 1e-9)
	}
	code, _ = at(a, here, map[string]any{"do": "distribute", "things": names, "to": "up"})
	require.Equal(t, 200, code)
	for range 3 {
		require.Equal(t, 200, a.Post(here+"/undo").Code)
	}
	assert.Empty(t, roomNow(a, "r1").Fixtures, "three steps")
	code, body := at(a, here, map[string]any{"do": "align", "things": names, "to": "left"})
	assert.Equal(t, 422, code, "%.200s", body)
}

func TestGrid_byTheFormBesideTheTable(t *testing.T) {
	a := newApp(t)
	assert.Contains(t, a.Get(here+"?show=table").Body.String(), `value="r1/l1"`)
	require.Equal(t, 200, a.Post(here+"/grid", "what", "r1/l1", "columns", "3", "rows", "2", "step_x", "4'", "step_y", "6 ft").Code)
	places := roomNow(a, "r1").Fixtures
	require.Len(t, places, 6)
	box, _ := geom.BoundsOf(places[0].At, places[1].At, places[2].At, places[3].At, places[4].At, places[5].At)
	assert.InDelta(t, 8*0.3048, box.Width(), 1e-3)
	assert.InDelta(t, 6*0.3048, box.Height(), 1e-3)
	require.Equal(t, 200, a.Post(here+"/grid", "what", "r1", "columns", "2", "rows", "2").Code)
	assert.Len(t, roomNow(a, "r1").Sitting, 5)
	for _, bad := range [][]string{{"what", "r1", "columns", "x", "rows", "1"}, {"what", "r1", "columns", "1", "rows", "y"}, {"what", "r1", "columns", "2", "rows", "1", "step_x", "wide"}, {"what", "r1/gone", "columns", "1", "rows", "1"}, {"what", "r2", "columns", "1", "rows", "1"}} {
		assert.Equal(t, 422, a.Post(here+"/grid", bad...).Code, "%v", bad)
	}
}

func TestCorners_onThePlanAndInTheTable(t *testing.T) {
	a := newApp(t)
	code, _ := at(a, here, map[string]any{"do": "move corner", "room": "r1", "corner": 2, "at": [][]float64{{8, 12}}})
	require.Equal(t, 200, code)
	assert.InDelta(t, 88, roomNow(a, "r1").Outline.Area(), 1e-6)
	code, _ = at(a, here, map[string]any{"do": "add corner", "room": "r1", "corner": 3, "at": [][]float64{{-1, 5}}})
	require.Equal(t, 200, code)
	code, _ = at(a, here, map[string]any{"do": "remove corner", "room": "r1", "corner": 4})
	require.Equal(t, 200, code)
	for _, bad := range []map[string]any{{"do": "move corner", "room": "r1", "corner": 2}, {"do": "add corner", "room": "r1", "corner": 20, "at": [][]float64{{1, 1}}}, {"do": "remove corner", "room": "r2"}} {
		code, _ := at(a, here, bad)
		assert.Equal(t, 422, code, "%v", bad)
	}

	body := a.Get(here + "?show=table").Body.String()
	assert.Contains(t, body, `data-path="corner/r1/2/y"`)
	require.Equal(t, 200, a.Post(here+"/set", "edits", `[["corner/r1/2/y","10 m"],["corner/r1/2/x","9 m"]]`).Code)
	assert.Equal(t, geom.Pt(9, 10), roomNow(a, "r1").Outline.Outer[2])
	require.Equal(t, 200, a.Post(here+"/corner/add", "row", "corner/r1/0").Code)
	assert.Equal(t, geom.Pt(4, 0), roomNow(a, "r1").Outline.Outer[1])
	require.Equal(t, 200, a.Post(here+"/corner/remove", "row", "corner/r1/1").Code)
	w := a.Ask(http.MethodPost, here+"/set", webtest.Form("path", "corner/r1/2/y", "text", "11 m"), "X-Base-Version", "room:r1=1", "HX-Current-URL", "http://localhost"+here+"?show=table")
	assert.Equal(t, 409, w.Code)
	assert.Contains(t, w.Body.String(), "corner 3, y")
	w = a.Post(here+"/set", "path", "corner/r1/0/x", "text", "wide")
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Header().Get("HX-Trigger"), "corner/r1/0/x")
	for _, row := range []string{"corner/r1", "corner/r1/x", "room/r1/0", ""} {
		assert.Equal(t, 422, a.Post(here+"/corner/remove", "row", row).Code, row)
		assert.Equal(t, 422, a.Post(here+"/corner/add", "row", row).Code, row)
	}

	// Two whole rows emptied are two corners gone, not four.
	require.Equal(t, 200, a.Post(here+"/corner/add", "row", "corner/r1/0").Code)
	require.Equal(t, 200, a.Post(here+"/corner/add", "row", "corner/r1/2").Code)
	require.Len(t, roomNow(a, "r1").Outline.Outer, 6)
	require.Equal(t, 200, a.Post(here+"/set", "edits", `[["corner/r1/1/x",""],["corner/r1/1/y",""],["corner/r1/3/x",""],["corner/r1/3/y",""]]`).Code)
	assert.Equal(t, []geom.Point{{X: 0, Y: 0}, {X: 8, Y: 0}, {X: 9, Y: 10}, {X: 0, Y: 10}}, roomNow(a, "r1").Outline.Outer)
}

func TestBelow_isTheStoreyListedBefore(t *testing.T) {
	a := newApp(t)
	w := a.Get(upstairs + "/below")
	require.Equal(t, 200, w.Code)
	var g ghost
	require.NoError(t, json.Unmarshal(w.Body.Bytes(), &g))
	assert.Equal(t, [][]geom.Point{geom.Rectangle(0, 0, 8, 10).Outer}, g.Rings)
	assert.Empty(t, g.Walls)
	assert.Equal(t, 404, a.Get(here+"/below").Code, "nothing lies below the ground")
	assert.NotContains(t, a.Get(here).Body.String(), "layer-below")
}
