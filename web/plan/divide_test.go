package plan

import (
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/webtest"
)

const divideHere = here + "/divide"

// crowded is room 101 with its six devices at their places in a project that
// allows four devices a room: with a second gateway they are seven, so two areas.
func crowded(t *testing.T) *webtest.App {
	a := newApp(t)
	a.EditRoom("r1", "placed", func(r *domain.Resolved) {
		for id, at := range map[domain.ID]geom.Point{"lc": {X: 2, Y: 2}, "st": {X: 0, Y: 3}, "ps": {X: 4, Y: 2}, "ds": {X: 4, Y: 9}, "gw": {X: 2, Y: 8}, "rc": {X: 6, Y: 8}} {
			r.Design.Device(id).At = new(at)
		}
		r.Fixtures = []domain.Fixture{{ID: "f1", Load: "l1", At: geom.Pt(2, 3)}, {ID: "f2", Load: "l1", At: geom.Pt(2, 9.9)}}
	})
	limit(a, domain.DevicesPerRoom, 4)
	return a
}

func limit(a *webtest.App, id domain.LimitID, value float64) {
	a.T.Helper()
	_, err := a.Store.Edit(a.T.Context(), store.Request{ProjectID: "p1", Who: "A. Designer"}, func(tx *store.Tx) (string, error) {
		p, err := tx.Project()
		if err != nil {
			return "", err
		}
		for i := range p.Limits {
			if p.Limits[i].ID == id {
				p.Limits[i].Value = value
			}
		}
		return "changed a limit", tx.PutProject(p)
	})
	require.NoError(a.T, err)
}

var hiddenField = regexp.MustCompile(`<input type="hidden" name="([a-z]+)" value="([^"]*)"`)

// shownForm gives the fields of the form on a room's page.
func shownForm(a *webtest.App, room string) []string {
	a.T.Helper()
	w := a.Get(divideHere + "?room=" + room)
	require.Equal(a.T, 200, w.Code, w.Body.String())
	var out []string
	_, form, found := strings.Cut(w.Body.String(), `id="divide-form"`)
	require.True(a.T, found)
	for _, m := range hiddenField.FindAllStringSubmatch(form, -1) {
		out = append(out, m[1], m[2])
	}
	require.Len(a.T, out, 6)
	return out
}

func TestDivide_showsTheAreasBesideTheBound(t *testing.T) {
	a := crowded(t)
	body := a.Get(divideHere + "?room=r1").Body.String()
	for _, text := range []string{
		"2 areas that each fit; no fewer than 2 can.", "Devices in one room, all kinds together: 6, at most 4: 2 areas",
		`value="101A"`, "Divide into 2 rooms", "4 of 4", "3 of 4", "GW-1 Gateway", `class="plan-drawing`,
		"of 2 ways to cut", "Way 1, shown below", "Way 2: show it", "Now: room 101", "Then: rooms 101 and 101A",
		"6 devices in the room, limit 4", "101 has no presence sensor", "101A has no station", "4 links of PS-1, to L1, L2, L3, L4",
	} {
		assert.True(t, strings.Contains(body, text), text)
	}
	assert.False(t, strings.Contains(body, "hx-post"), "it works without script")
	other := a.Get(html.UnescapeString(anyWay.FindStringSubmatch(body)[1])).Body.String()
	for _, text := range []string{"Way 2, shown below", "Way 1: show it", "L1 goes to", "1 of its 2 luminaires hang in", "1 link of PS-1, to R1"} {
		assert.True(t, strings.Contains(other, text), text)
	}
	gone := a.Get(divideHere + "?room=r1&way=gone").Body.String()
	assert.Contains(t, gone, "Way 1, shown below", "a link to a way that is no more shows the best")
	rooms := roomsOf(a, "s1")
	assert.Len(t, rooms, 3, "nothing is changed by looking")
}

func TestDivide_isOneStepThatComesBackExactly(t *testing.T) {
	a := crowded(t)
	before := asJSON(t, roomNow(a, "r1").Room)
	w := a.Plain(divideHere, append(shownForm(a, "r1"), "number", "101 North")...)
	require.Equal(t, http.StatusSeeOther, w.Code, w.Body.String())
	assert.Equal(t, here, w.Header().Get("Location"))
	rooms := roomsOf(a, "s1")
	require.Contains(t, rooms, "101 North")
	first, second := rooms["101"], rooms["101 North"]
	assert.InDelta(t, 80, first.Outline.Area()+second.Outline.Area(), 1e-3)
	assert.Equal(t, 7, len(first.Design.Devices)+len(second.Design.Devices), "a gateway more")
	assert.LessOrEqual(t, max(len(first.Design.Devices), len(second.Design.Devices)), 4)
	for _, r := range []*domain.Resolved{first, second} {
		for _, d := range r.Design.Devices {
			if d.Type == "ps-ceiling" || d.Type == "ds-open" {
				assert.NotNil(t, r.Design.Device(d.Parent), "%s has a parent in %s", d.Tag, r.Number)
			}
		}
	}
	for _, r := range []*domain.Resolved{first, second} { // the rules agree that it fits
		for _, f := range validate.Room(a.Project("p1"), r, a.Time) {
			assert.False(t, strings.HasPrefix(f.Rule, "capacity-") && f.Severity == rule.Error, "%s: %s", r.Number, f.Message)
		}
	}
	undo := a.Post(here + "/undo")
	require.Equal(t, 200, undo.Code)
	assert.Contains(t, undo.Body.String(), "Undid: divided room 101, new rooms 101 North")
	assert.JSONEq(t, before, asJSON(t, roomNow(a, "r1").Room))
	assert.NotContains(t, roomsOf(a, "s1"), "101 North")
	require.Equal(t, 200, a.Post(here+"/redo").Code)
	assert.Contains(t, roomsOf(a, "s1"), "101 North")
}

func TestDivide_refusesWhatIsNoLongerAsShown(t *testing.T) {
	a := crowded(t)
	form := append(shownForm(a, "r1"), "number", "")
	taken := a.Plain(divideHere, append(form[:len(form)-1:len(form)-1], "102")...)
	assert.Equal(t, 422, taken.Code)
	assert.Contains(t, taken.Body.String(), "there is a room 102 already")

	limit(a, domain.DevicesPerRoom, 3)
	w := a.Plain(divideHere, form...)
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Body.String(), "look at them again")
	limit(a, domain.DevicesPerRoom, 32)
	w = a.Plain(divideHere, form...)
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Body.String(), "no need to divide")
	limit(a, domain.DevicesPerRoom, 4)
	a.EditRoom("r1", "renamed", func(r *domain.Resolved) { r.Name = "Other" })
	w = a.Plain(divideHere, form...)
	assert.Equal(t, http.StatusConflict, w.Code, "another window changed the room")
	assert.Len(t, roomsOf(a, "s1"), 3, "nothing was stored")
	require.Equal(t, http.StatusSeeOther, a.Plain(divideHere, append(shownForm(a, "r1"), "number", "")...).Code)
	assert.Contains(t, roomsOf(a, "s1"), "101A")
}

func TestDivide_saysWhyARoomCannotBe(t *testing.T) {
	a := newApp(t)
	for room, says := range map[string]string{"r1": "within its limits: there is no need to divide it", "r2": "no outline on the plan"} {
		body := a.Get(divideHere + "?room=" + room).Body.String()
		assert.Contains(t, body, says)
		assert.NotContains(t, body, "divide-form")
	}
	assert.Equal(t, 404, a.Get(divideHere+"?room=gone").Code)
	assert.Equal(t, 404, a.Plain(divideHere, "room", "gone").Code)
	assert.Equal(t, 404, a.Get("/projects/p1/storeys/nowhere/plan/divide?room=r1").Code)
	table := a.Get(here + "?show=table").Body.String()
	assert.Contains(t, table, `id="divide-choose"`)
	assert.Contains(t, table, strings.TrimPrefix(divideHere, "/projects/p1"))
}
