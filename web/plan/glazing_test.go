package plan

import (
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/web/webtest"
)

func planNow(a *webtest.App) *domain.Plan {
	a.T.Helper()
	p, _, err := a.Store.Plan(a.T.Context(), "p1", "s1")
	require.NoError(a.T, err)
	return p
}

// modelOf is what the page says to its script.
func modelOf(a *webtest.App) (m struct {
	modelFrame
	Walls      []modelWall
	Rooflights []modelRooflight
}) {
	a.T.Helper()
	_, rest, _ := strings.Cut(a.Get(here).Body.String(), `id="plan-model"`)
	_, rest, _ = strings.Cut(rest, `>`)
	text, _, _ := strings.Cut(rest, `</div>`)
	require.NoError(a.T, json.Unmarshal([]byte(html.UnescapeString(text)), &m))
	return m
}

func TestRooflight_isDrawnMovedSetAndUndone(t *testing.T) {
	a := newApp(t)
	code, body := gesture(a, map[string]any{"do": "rooflight", "at": [][]float64{{2, 2}, {3, 4}}})
	require.Equal(t, 200, code)
	assert.Contains(t, body, `"json:rooflights"`, "the answer brings the new one")
	require.Len(t, planNow(a).Rooflights, 1)
	key := "rooflight/" + string(planNow(a).Rooflights[0].ID)
	m := modelOf(a)
	require.Len(t, m.Rooflights, 1)
	assert.Equal(t, key, m.Rooflights[0].Key)
	assert.Equal(t, geom.Pt(2.5, 3), m.Rooflights[0].At)
	assert.Len(t, m.Rooflights[0].Ring, 4)
	require.Len(t, m.Fields["rooflight"], len(m.Rooflights[0].Values))
	assert.Equal(t, "68 % (limits)", m.Fields["rooflight"][5].Empty, "what the limits say of glass")

	code, _ = gesture(a, map[string]any{"do": "set", "things": []string{key}, "field": "glass", "text": "0.5"})
	require.Equal(t, 200, code)
	code, _ = gesture(a, map[string]any{"do": "turn", "things": []string{key}, "turn": 15})
	require.Equal(t, 200, code)
	code, _ = gesture(a, map[string]any{"do": "copy", "things": []string{key}, "by": []float64{2, 0}})
	require.Equal(t, 200, code)
	lights := planNow(a).Rooflights
	require.Len(t, lights, 2)
	assert.Equal(t, domain.Rooflight{ID: lights[1].ID, Seq: 2, At: geom.Pt(4.5, 3), Width: 1, Length: 2, Turn: 15, Glass: 0.5}, lights[1])

	w := a.Ask(http.MethodPost, here+"/gesture", webtest.Form("gesture", `{"do":"set","things":["`+key+`"],"field":"width","text":"400 ft"}`))
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Header().Get("HX-Trigger"), key+"/width", "the field is named, so that the words stand beside it")
	code, _ = gesture(a, map[string]any{"do": "take off", "things": []string{key}}, "X-Base-Version", "plan:s1=1")
	assert.Equal(t, 409, code, "someone else has changed the plan")

	for range 4 {
		require.Equal(t, 200, a.Post(here+"/undo").Code)
	}
	assert.Empty(t, planNow(a).Rooflights)
	for _, g := range []map[string]any{{"do": "rooflight"}, {"do": "rooflight", "at": [][]float64{{1, 1}, {1, 4}}}, {"do": "set"}, {"do": "set", "things": []string{key}, "field": "width", "text": "1"}} {
		code, _ := gesture(a, g)
		assert.Equal(t, 422, code, "%v", g)
	}
}

func TestRooflight_copiedAndPasted(t *testing.T) {
	a := newApp(t)
	code, _ := gesture(a, map[string]any{"do": "rooflight", "at": [][]float64{{2, 2}, {3, 4}}})
	require.Equal(t, 200, code)
	key := "rooflight/" + string(planNow(a).Rooflights[0].ID)
	w := a.Ask(http.MethodPost, here+"/copied", webtest.Form("things", `["`+key+`"]`))
	require.Equal(t, 200, w.Code)
	code, _ = gesture(a, map[string]any{"do": "paste", "clip": json.RawMessage(w.Body.Bytes()), "by": []float64{0, 3}})
	require.Equal(t, 200, code)
	require.Len(t, planNow(a).Rooflights, 2)
	assert.Equal(t, geom.Pt(2.5, 6), planNow(a).Rooflights[1].At)
}

// Without a script rooflights come, change and go by the table beneath the plan.
func TestTable_rooflights(t *testing.T) {
	a := newApp(t)
	body := a.Get(here + "?show=table").Body.String()
	assert.Contains(t, body, "No rooflights are drawn on this storey.")
	w := a.Plain(here+"/rooflight/add", "x", "10 ft", "y", "8 ft", "width", "4 ft", "length", "6 ft")
	require.Equal(t, http.StatusSeeOther, w.Code, "%.300s", w.Body.String())
	require.Len(t, planNow(a).Rooflights, 1)
	l := planNow(a).Rooflights[0]
	assert.InDelta(t, 3.048, l.At.X, 1e-4)
	assert.InDelta(t, 4*0.3048, float64(l.Width), 1e-4)
	assert.InDelta(t, 6*0.3048, float64(l.Length), 1e-4)
	key := "rooflight/" + string(l.ID)
	body = a.Get(here + "?show=table").Body.String()
	for _, part := range []string{`data-path="` + key + `/glass"`, `data-path="` + key + `/turn"`, here + "/rooflight/remove"} {
		assert.Contains(t, body, part)
	}
	require.Equal(t, 200, a.Post(here+"/set", "edits", `[["`+key+`/turn","30"],["`+key+`/glass","55 %"]]`).Code)
	assert.InDelta(t, 0.55, planNow(a).Rooflights[0].Glass, 1e-9)
	w = a.Post(here+"/set", "path", key+"/glass", "text", "bright")
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Header().Get("HX-Trigger"), key+"/glass")
	w = a.Ask(http.MethodPost, here+"/set", webtest.Form("path", key+"/glass", "text", "0.4"), "X-Base-Version", "plan:s1=1", "HX-Current-URL", "http://localhost"+here+"?show=table")
	assert.Equal(t, 409, w.Code)
	assert.Contains(t, w.Body.String(), "55 %", "the value of now stands beside the typed one")
	for _, bad := range [][2]string{{"width", ""}, {"x", "far"}, {"length", "1 in"}} {
		pairs := map[string]string{"x": "1", "y": "1", "width": "2", "length": "2", bad[0]: bad[1]}
		w := a.Post(here+"/rooflight/add", "x", pairs["x"], "y", pairs["y"], "width", pairs["width"], "length", pairs["length"])
		assert.Equal(t, 422, w.Code, "%v", bad)
	}
	require.Equal(t, 422, a.Post(here+"/rooflight/remove", "row", "wall/w1").Code)
	require.Equal(t, 200, a.Post(here+"/rooflight/remove", "row", key).Code)
	assert.Empty(t, planNow(a).Rooflights)
}

// windowed has a wall along the upper side of room 101 with a window in it.
func windowed(t *testing.T) (a *webtest.App, key string) {
	a = newApp(t)
	code, _ := gesture(a, map[string]any{"do": "walls", "kind": "wall", "thickness": 0.12, "at": [][]float64{{0, 10}, {8, 10}}})
	require.Equal(t, 200, code)
	wall := planNow(a).Walls[0].ID
	code, _ = gesture(a, map[string]any{"do": "opening", "kind": "window", "wall": wall, "along": 4, "width": 1.2, "sill": 0.9, "head": 2.1})
	require.Equal(t, 200, code)
	return a, fmt.Sprintf("opening/%s/%s", wall, planNow(a).Walls[0].Openings[0].ID)
}

func TestWindow_fieldsOnPlanAndInTheTable(t *testing.T) {
	a, key := windowed(t)
	m := modelOf(a)
	require.Len(t, m.Walls, 2)
	var names []string
	for _, f := range m.Fields["window"] {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"sill", "head", "glass", "blocked", "indoors"}, names)
	assert.Equal(t, []string{"2 ft 11.43 in", "6 ft 10.68 in", "", "", "no"}, m.Walls[1].Values)
	assert.Len(t, m.Fields["door"], 2)
	assert.Equal(t, []string{"yes", "no"}, m.Fields["window"][4].Choices)

	for field, text := range map[string]string{"glass": "68 %", "blocked": "20", "indoors": "yes"} {
		code, _ := gesture(a, map[string]any{"do": "set", "things": []string{key}, "field": field, "text": text})
		require.Equal(t, 200, code, field)
	}
	o := planNow(a).Walls[0].Openings[0]
	assert.InDelta(t, 0.68, o.Glass, 1e-9)
	assert.InDelta(t, 20, o.Blocked, 1e-9)
	assert.True(t, o.Indoors)
	body := a.Get(here + "?show=table").Body.String()
	for _, part := range []string{`data-path="` + key + `/glass"`, ">68 %</td>", ">20 deg</td>", `<datalist id="yes-no">`} {
		assert.Contains(t, body, part)
	}
	w := a.Post(here+"/set", "path", key+"/blocked", "text", "91")
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Header().Get("HX-Trigger"), key+"/blocked")
}

// A window drawn between two rooms gives on the other at once; one that came to
// stand there later is found, and the fix marks it in one step.
func TestWindow_betweenTwoRooms(t *testing.T) {
	a, key := windowed(t)
	assert.False(t, planNow(a).Walls[0].Openings[0].Indoors, "outdoors lies above")
	assert.NotContains(t, a.Get(here).Body.String(), "data-fix-rule")
	code, _ := gesture(a, map[string]any{"do": "outline", "room": "r2", "outline": [][]float64{{0, 10}, {8, 10}, {8, 14}, {0, 14}}})
	require.Equal(t, 200, code)
	wall := planNow(a).Walls[0].ID
	code, _ = gesture(a, map[string]any{"do": "opening", "kind": "window", "wall": wall, "along": 7, "width": 1, "sill": 0.9, "head": 2.1})
	require.Equal(t, 200, code)
	assert.True(t, planNow(a).Walls[0].Openings[1].Indoors, "drawn between two rooms")

	body := a.Get(here).Body.String()
	assert.Contains(t, body, `data-fix-rule="plan-window-indoors"`)
	assert.Contains(t, body, `data-key="`+key+`"`, "the finding leads to the window")
	place := "s1/" + strings.TrimPrefix(key, "opening/")
	code, _ = gesture(a, map[string]any{"do": "fix", "rule": "plan-window-indoors", "key": place}, "X-Base-Version", "plan:s1=1")
	assert.Equal(t, 409, code)
	code, body = gesture(a, map[string]any{"do": "fix", "rule": "plan-window-indoors", "key": place})
	require.Equal(t, 200, code)
	assert.True(t, planNow(a).Walls[0].Openings[0].Indoors)
	assert.NotContains(t, a.Get(here).Body.String(), "data-fix-rule")
	assert.NotContains(t, body, "data-fix-rule")
	code, body = gesture(a, map[string]any{"do": "fix", "rule": "plan-window-indoors", "key": place})
	assert.Equal(t, 422, code)
	assert.Contains(t, body, "no longer found")
	require.Equal(t, 200, a.Post(here+"/undo").Code)
	assert.False(t, planNow(a).Walls[0].Openings[0].Indoors)

	w := a.Ask(http.MethodPost, here+"/copied", webtest.Form("things", `["`+key+`"]`))
	require.Equal(t, 200, w.Code)
	code, _ = gesture(a, map[string]any{"do": "paste", "clip": json.RawMessage(w.Body.Bytes()), "by": []float64{-2.5, 0}})
	require.Equal(t, 200, code)
	o := planNow(a).Walls[0].Openings
	assert.True(t, o[len(o)-1].Indoors, "pasted between two rooms")
}
