package room

import (
	"net/http"
	"regexp"
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

// office has a private office of 4 by 5 m with a door and a window, drawn and
// not designed yet, a room that follows a typical, and a hall that no design
// within the limits can serve.
func office(t *testing.T) *webtest.App {
	t.Helper()
	scope := webtest.School()
	scope.Rooms = append(scope.Rooms,
		domain.Room{ID: "r4", StoreyID: "s1", Number: "104", Name: "<i>Office</i>", Use: "office-private", Area: 20, Ceiling: 2.7, Windows: true, Outline: geom.Rectangle(0, 0, 4, 5)},
		domain.Room{ID: "r5", StoreyID: "s1", Number: "105", Name: "Hall", Use: "office-open", Area: 2000, Ceiling: 2.7})
	scope.Plans = []domain.Plan{{ID: "s1", Walls: []domain.Wall{
		{ID: "w1", Seq: 1, A: geom.Pt(0, 0), B: geom.Pt(4, 0), Kind: domain.FullWall, Openings: []domain.Opening{{ID: "d1", Seq: 1, Kind: domain.Door, At: 2.5, Width: 0.9}}},
		{ID: "w2", Seq: 2, A: geom.Pt(4, 5), B: geom.Pt(0, 5), Kind: domain.FullWall, Openings: []domain.Opening{{ID: "g1", Seq: 1, Kind: domain.Window, At: 1, Width: 2, Sill: 0.9, Head: 2.4}}},
	}}}
	return webtest.Open(t, func(a *webtest.App, r chi.Router) {
		judge := func(p *domain.Project, r *domain.Resolved) []rule.Finding { return validate.Room(p, r, a.Time) }
		Screen{Store: a.Store, Log: a.Log, Now: a.Now, Judge: judge}.Routes(r)
	}, scope)
}

const officePath = "/projects/p1/rooms/r4/first-design"

var hidden = regexp.MustCompile(`name="base" value="([^"]*)"`)

func baseOf(t *testing.T, body string) string {
	t.Helper()
	m := hidden.FindStringSubmatch(body)
	require.NotNil(t, m)
	return m[1]
}

func stateOf(t *testing.T, a *webtest.App, id domain.ID) *domain.Resolved {
	t.Helper()
	state, err := a.Store.Room(t.Context(), id)
	require.NoError(t, err)
	return state.Resolved
}

func TestProposal_showsWhatEachPartAddsAndWhy(t *testing.T) {
	a := office(t)
	got := a.Get(officePath)
	require.Equal(t, http.StatusOK, got.Code)
	body := got.Body.String()
	for _, want := range []string{"&lt;i&gt;Office&lt;/i&gt;", "Lighting loads", "L1 Window row", "Controllers", "Stations", "On, Off, Raise, Lower", "Presence sensors", "Daylight sensor", "Parents of battery devices",
		"Intents: power back", "Scenarios", "Needs Lighting loads", "Take the ticked parts", "Take all", "Assumed", "Left to you", "Egress lighting: mark the loads", "ASHRAE 90.1-2019", "With the ticked parts"} {
		assert.Contains(t, body, want)
	}
	assert.NotContains(t, body, "<i>Office", "a name is text")
	assert.Zero(t, strings.Count(body, `class="badge error"`))
	assert.True(t, stateOf(t, a, "r4").Design.Empty(), "looking stores nothing")
}

// All is one step: one undo takes it back, whole.
func TestProposal_takeAllAndUndo(t *testing.T) {
	a := office(t)
	base := baseOf(t, a.Get(officePath).Body.String())
	got := a.Plain(officePath, "base", base, "all", "yes", "chosen", "yes")
	require.Equal(t, http.StatusSeeOther, got.Code, got.Body.String())
	assert.Equal(t, "/projects/p1/rooms/r4", got.Header().Get("Location"))
	r := stateOf(t, a, "r4")
	require.NotEmpty(t, r.Fixtures)
	for i := range r.Design.Devices {
		assert.NotNil(t, r.Design.Devices[i].At, "%s stands on the plan", r.Design.Devices[i].Tag)
	}
	for _, f := range validate.Room(a.Project("p1"), r, a.Time) {
		assert.Equal(t, rule.Info, f.Severity, "%s: %s", f.Rule, f.Message)
	}
	assert.Contains(t, a.Get(officePath).Body.String(), "lacks nothing")

	undo, _, err := a.Store.UndoState(t.Context(), "room:r4")
	require.NoError(t, err)
	assert.Contains(t, undo, "took a proposed design: lighting loads, controllers")
	require.Equal(t, http.StatusSeeOther, a.Plain("/projects/p1/rooms/r4/undo").Code)
	r = stateOf(t, a, "r4")
	assert.True(t, r.Design.Empty())
	assert.Empty(t, r.Fixtures)
}

// A part brings those that it needs, and the page says so before it is taken.
func TestProposal_takeAPart(t *testing.T) {
	a := office(t)
	body := a.Get(officePath).Body.String()
	n := groupNumber(t, body, "Daylight sensor")
	counted := a.Get(officePath + "?chosen=yes&take=" + n).Body.String()
	assert.Contains(t, counted, "Counted in because other parts need it: Lighting loads and Controllers.")
	assert.Contains(t, counted, "3 of ")
	got := a.Plain(officePath, "base", baseOf(t, body), "chosen", "yes", "take", n)
	require.Equal(t, http.StatusSeeOther, got.Code, got.Body.String())
	d := stateOf(t, a, "r4").Design
	assert.NotEmpty(t, d.Loads)
	assert.Empty(t, d.Intents)
	kinds := map[string]int{}
	for _, dev := range d.Devices {
		kinds[dev.Type[:2]]++
	}
	assert.Equal(t, map[string]int{"lc": 1, "ds": 1}, kinds)

	rest := a.Get(officePath).Body.String()
	assert.NotContains(t, rest, "Daylight sensor</label>", "what is there is not proposed again")
	got = a.Plain(officePath, "base", baseOf(t, rest), "all", "yes")
	require.Equal(t, http.StatusSeeOther, got.Code)
	for _, f := range validate.Room(a.Project("p1"), stateOf(t, a, "r4"), a.Time) {
		assert.NotEqual(t, rule.Error, f.Severity, "%s: %s", f.Rule, f.Message)
	}
}

func groupNumber(t *testing.T, body, title string) string {
	t.Helper()
	m := regexp.MustCompile(`name="take" value="(\d+)"[^>]*> ` + title).FindStringSubmatch(body)
	require.NotNil(t, m, title)
	return m[1]
}

func TestProposal_refusesWithASentence(t *testing.T) {
	a := office(t)
	base := baseOf(t, a.Get(officePath).Body.String())
	for name, c := range map[string]struct {
		form []string
		code int
		want string
	}{
		"nothing ticked":           {[]string{"base", base, "chosen", "yes"}, 422, "tick at least one part"},
		"a part that is not there": {[]string{"base", base, "chosen", "yes", "take", "99"}, 422, "the proposal has changed"},
		"no number":                {[]string{"base", base, "chosen", "yes", "take", "x"}, 422, "the proposal has changed"},
		"no density":               {[]string{"base", base, "all", "yes", "density", "bright"}, 422, "is no density to light by"},
	} {
		got := a.Plain(officePath, c.form...)
		assert.Equal(t, c.code, got.Code, name)
		assert.Contains(t, got.Body.String(), c.want, name)
	}
	// 0.04 W/ft2 is under and 0.05 over the least that is taken, 0.5 W/m2.
	assert.Equal(t, 422, a.Get(officePath+"?density=0.04").Code)
	assert.Equal(t, 200, a.Get(officePath+"?density=0.05").Code)

	a.EditRoom("r4", "renamed", func(r *domain.Resolved) { r.Name = "Other" })
	got := a.Plain(officePath, "base", base, "all", "yes")
	assert.Equal(t, http.StatusConflict, got.Code, "the page showed an older room")
	assert.True(t, stateOf(t, a, "r4").Design.Empty())

	assert.Contains(t, a.Get("/projects/p1/rooms/r3/first-design").Body.String(), "room 103 follows typical CR-1: let it stand alone first, or design the typical.")
	got = a.Plain("/projects/p1/rooms/r3/first-design", "all", "yes")
	assert.Equal(t, 422, got.Code)
	assert.Contains(t, got.Body.String(), "let it stand alone first")
	hall := a.Get("/projects/p1/rooms/r5/first-design").Body.String()
	assert.Contains(t, hall, "Divide the room first: it takes ")
	assert.NotContains(t, hall, "Take all")
	assert.Equal(t, http.StatusNotFound, a.Get("/projects/p1/rooms/none/first-design").Code)
}

// What the designer asks for ahead counts: the type, and twice the density gives
// about twice the luminaires.
func TestProposal_byWish(t *testing.T) {
	a := office(t)
	count := func(query string) int {
		body := a.Get(officePath + query).Body.String()
		assert.Contains(t, body, "of type B")
		require.Equal(t, http.StatusSeeOther, a.Plain(officePath, append([]string{"base", baseOf(t, body), "all", "yes"}, strings.FieldsFunc(query, func(r rune) bool { return strings.ContainsRune("?&=", r) })...)...).Code)
		n := len(stateOf(t, a, "r4").Fixtures)
		require.Equal(t, http.StatusSeeOther, a.Plain("/projects/p1/rooms/r4/undo").Code)
		return n
	}
	// 20 m2 are 215 ft2: at 0.7 W/ft2 and 38 W each 4, at 1.4 W/ft2 8.
	assert.Equal(t, 4, count("?luminaire=b&density=0.7"))
	assert.Equal(t, 8, count("?luminaire=b&density=1.4"))
}

func TestWorkbench_leadsToTheProposal(t *testing.T) {
	a := office(t)
	for room, class := range map[string]string{"r4": `class="button"`, "r1": `class="button quiet"`} {
		assert.Regexp(t, class+` href="/projects/p1/rooms/`+room+`/first-design"`, a.Get("/projects/p1/rooms/"+room).Body.String())
	}
	assert.NotContains(t, a.Get("/projects/p1/typicals/t1").Body.String(), "first-design")
}
