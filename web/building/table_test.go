package building

import (
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/store"
	"scopewright/web/webtest"
)

func TestTable_showsStoreysRoomsAndTotals(t *testing.T) {
	page := open(t, webtest.School()).Get("/projects/p1")
	require.Equal(t, http.StatusOK, page.Code)
	body := page.Body.String()
	assert.Contains(t, body, "Ground")
	assert.Contains(t, body, "Level 2", "an empty storey is there, so that rooms can be added to it")
	assert.Contains(t, body, "3 rooms")
	assert.Contains(t, body, "2 controlled")
	assert.Contains(t, body, "12 devices")
	assert.Contains(t, body, `href="/projects/p1/typicals/t1"`)
	assert.Contains(t, body, `value="104"`, "the next number of the storey")
	assert.Contains(t, body, `value="201"`, "the first number of an empty storey")
}

func TestTable_escapesNames(t *testing.T) {
	scope := webtest.School()
	scope.Project.Name = `<script>alert(1)</script>`
	scope.Typicals[0].Name = `"><img src=x>`
	scope.Project.Buildings[0].Storeys[0].Name = "<i>Ground</i>"
	body := open(t, scope).Get("/projects/p1").Body.String()
	for _, raw := range []string{"<script>alert", "<img", "<i>Ground", "<b>Meeting"} {
		assert.NotContains(t, body, raw)
	}
	assert.Contains(t, body, "&lt;b&gt;Meeting&lt;/b&gt; &amp; co")
}

func TestTable_unknownProjectIsNotFound(t *testing.T) {
	s := open(t, webtest.School())
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/none").Code)
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/none/findings").Code)
	assert.Equal(t, http.StatusNotFound, s.Post("/projects/none/add", "storey", "s1", "number", "1").Code)
}

var rowID = regexp.MustCompile(`<tr id="room-([^"]+)"`)

func rows(body string) []string {
	var out []string
	for _, m := range rowID.FindAllStringSubmatch(body, -1) {
		out = append(out, m[1])
	}
	return out
}

func TestTable_filters(t *testing.T) {
	s := open(t, webtest.School())
	for query, want := range map[string][]string{
		"":                           {"r1", "r2", "r3"},
		"q=meeting":                  {"r2"},
		"q=10":                       {"r1", "r2", "r3"},
		"q=nothing":                  nil,
		"q=%25":                      nil, // a percent sign is a letter to look for, no wildcard
		"storey=s2":                  nil,
		"typical=t1":                 {"r3"},
		"typical=none":               {"r1", "r2"},
		"use=conference":             {"r2"},
		"severity=clean":             {"r1", "r2", "r3"},
		"severity=error":             nil,
		"review=unsigned":            {"r1", "r2", "r3"},
		"review=objections":          nil,
		"rule=capacity-devices":      nil,
		"sort=-number":               {"r3", "r2", "r1"},
		"sort=area&sort=-area":       {"r1", "r3", "r2"},
		"sort=number%3B+DROP+TABLE":  {"r1", "r2", "r3"},
		"page=-3":                    {"r1", "r2", "r3"},
		"page=99999999999999999999":  {"r1", "r2", "r3"},
		"severity=nonsense&review=x": {"r1", "r2", "r3"},
	} {
		page := s.Get("/projects/p1?" + query)
		require.Equal(t, http.StatusOK, page.Code, query)
		assert.Equal(t, want, rows(page.Body.String()), query)
	}
	assert.Contains(t, s.Get("/projects/p1?q=nothing").Body.String(), "No room matches")
}

func TestTable_filterInOpenPageAnswersWithParts(t *testing.T) {
	s := open(t, webtest.School())
	answer := s.Ask(http.MethodGet, "/projects/p1?q=meeting", nil, "HX-Current-URL", "http://localhost/projects/p1?q=class")
	require.Equal(t, http.StatusOK, answer.Code)
	body := answer.Body.String()
	assert.NotContains(t, body, "<html")
	assert.Equal(t, []string{"r2"}, rows(body), "the filter that was asked for, not that of the page before")
	assert.Contains(t, body, "1 of 3 rooms")
}

func TestTable_editsKeepThePagesFilters(t *testing.T) {
	s := open(t, webtest.School())
	answer := s.Ask(http.MethodPost, "/projects/p1/set", url.Values{"path": {"rooms/r2/name"}, "text": {"Meeting room"}}, "HX-Current-URL", "http://localhost/projects/p1?q=meeting")
	require.Equal(t, http.StatusOK, answer.Code)
	assert.Equal(t, []string{"r2"}, rows(answer.Body.String()))
	assert.Contains(t, answer.Body.String(), "Saved 09:30:00")
}

var freshPath = regexp.MustCompile(`hx-get="(/projects/p1/fresh\?have=[0-9a-f]+)"`)

func TestTable_freshSendsOnlyNews(t *testing.T) {
	s := open(t, webtest.School())
	path := freshPath.FindStringSubmatch(s.Get("/projects/p1").Body.String())[1]
	assert.Equal(t, http.StatusNoContent, s.Ask(http.MethodGet, path, nil).Code)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/set", "path", "rooms/r2/name", "text", "Other").Code)
	news := s.Ask(http.MethodGet, path, nil)
	require.Equal(t, http.StatusOK, news.Code)
	assert.Contains(t, news.Body.String(), "Other")
}

// many gives a school of n more rooms on two storeys.
func many(n int) *domain.Scope {
	scope := webtest.School()
	for i := range n {
		scope.Rooms = append(scope.Rooms, domain.Room{ID: domain.ID(fmt.Sprintf("x%d", i)), StoreyID: []domain.ID{"s1", "s2"}[2*i/n],
			Number: fmt.Sprint(1000 + i), Use: "office-private", Area: 12, TypicalID: "t1"})
	}
	return scope
}

func TestTable_pages(t *testing.T) {
	s := open(t, many(250))
	seen := map[string]bool{}
	for page := 1; page <= 3; page++ {
		body := s.Get(fmt.Sprintf("/projects/p1?page=%d", page)).Body.String()
		for _, id := range rows(body) {
			assert.False(t, seen[id], "%s stands on two pages", id)
			seen[id] = true
		}
	}
	assert.Len(t, seen, 253)
	first, second := s.Get("/projects/p1").Body.String(), s.Get("/projects/p1?page=2").Body.String()
	assert.Contains(t, first, "Rooms 1 to 100 of 253")
	assert.NotContains(t, first, `id="add-storey-s1"`, "the storey goes on on the next page")
	assert.Contains(t, second, `id="add-storey-s1"`)
}

func TestTable_largeProjectFetchesItsFindingsAfterwards(t *testing.T) {
	s := open(t, many(manyRooms))
	body := s.Get("/projects/p1").Body.String()
	assert.Contains(t, body, `hx-get="/projects/p1/findings"`)
	found := s.Ask(http.MethodGet, "/projects/p1/findings", nil)
	require.Equal(t, http.StatusOK, found.Code)
	// The generic limits allow 200 controlled rooms under one server (common
	// practice, no published source).
	assert.Contains(t, found.Body.String(), "limit 200")
}

func TestTable_findingsOfTheProjectLinkToRooms(t *testing.T) {
	scope := webtest.School()
	scope.Rooms[1].Number = "101"
	body := open(t, scope).Get("/projects/p1").Body.String()
	assert.Contains(t, body, `class="finding `)
	assert.Contains(t, body, `href="/projects/p1/rooms/r2"`)
	assert.Contains(t, body, `href="/rules#`)
}

// Two rooms on the same floor are found on the plan, and told on this page with
// the way to it; what is found many times is told a few times and counted.
func TestTable_findingsOfPlansLeadThere(t *testing.T) {
	scope := webtest.School()
	for i := range scope.Rooms {
		scope.Rooms[i].StoreyID = "s1"
		scope.Rooms[i].Outline = geom.Rectangle(0, 0, 6, 4)
	}
	s := open(t, scope)
	assert.Contains(t, s.Get("/projects/p1").Body.String(), `hx-get="/projects/p1/findings/plans"`)
	body := s.Ask(http.MethodGet, "/projects/p1/findings/plans", nil).Body.String()
	assert.Contains(t, body, `href="/rules#plan-overlap"`)
	assert.Contains(t, body, `href="/projects/p1/storeys/s1/plan"`)
	assert.Contains(t, body, `href="/projects/p1/rooms/r2"`)
	pairs := len(scope.Rooms) * (len(scope.Rooms) - 1) / 2
	assert.Equal(t, min(5, pairs), strings.Count(body, `class="finding `))
	if pairs > 5 {
		assert.Contains(t, body, fmt.Sprintf("%d more like it", pairs-5))
	}
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/none/findings/plans").Code)
}

func TestSet_storesUndoesAndRedoes(t *testing.T) {
	s := open(t, webtest.School())
	answer := s.Post("/projects/p1/set", "edits", `[["rooms/r2/name","Board room"],["rooms/r3/area_m2","50 m2"]]`)
	require.Equal(t, http.StatusOK, answer.Code)
	name := func() string {
		state, err := s.Store.Room(t.Context(), "r2")
		require.NoError(t, err)
		return state.Resolved.Name
	}
	assert.Equal(t, "Board room", name())
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/undo").Code)
	assert.Equal(t, "<b>Meeting</b> & co", name())
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/redo").Code)
	assert.Equal(t, "Board room", name())
}

func TestSet_refusesBadInput(t *testing.T) {
	s := open(t, webtest.School())
	for edits, want := range map[string]string{
		`[["rooms/r2/area_m2","many"]]`:                        "not a number",
		`[["rooms/r2/name","ok"],["rooms/r2/use","swimming"]]`: "swimming",
		`[["rooms/none/name","x"]]`:                            "no longer there",
		`[["rooms/r2/wings","2"]]`:                             "no field",
		`[["project/name","x"]]`:                               "no longer there",
		`[["rooms/r2/number",""]]`:                             "must not be empty",
		"[[\"rooms/r2/name\",\"bell \\u0007\"]]":               "control character",
		`[["rooms/r2/area_m2","1e400"]]`:                       "not known",
		`[["rooms/r2/area_m2","-4"]]`:                          "0 to",
		`{"rooms/r2/name":1}`:                                  "could not be read",
		`[]`:                                                   "send 1 to",
	} {
		answer := s.Post("/projects/p1/set", "edits", edits)
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, edits)
		assert.Contains(t, answer.Body.String(), want, edits)
	}
	state, err := s.Store.Room(t.Context(), "r2")
	require.NoError(t, err)
	assert.Equal(t, "<b>Meeting</b> & co", state.Resolved.Name, "of a refused block nothing is stored")
	refused := s.Post("/projects/p1/set", "path", "rooms/r2/area_m2", "text", "Größe")
	assert.Contains(t, refused.Header().Get("HX-Trigger"), `"path":"rooms/r2/area_m2"`)
	assert.Contains(t, refused.Header().Get("HX-Trigger"), `Gr\u00f6\u00dfe`, "headers are ASCII")
}

func TestSet_staleShowsBothValues(t *testing.T) {
	s := open(t, webtest.School())
	state, err := s.Store.Room(t.Context(), "r2")
	require.NoError(t, err)
	base := fmt.Sprintf("room:r1=1,room:r2=%d", state.Revision)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/set", "path", "rooms/r2/name", "text", "Theirs").Code)

	form := url.Values{"path": {"rooms/r2/name"}, "text": {"Mine"}}
	stale := s.Ask(http.MethodPost, "/projects/p1/set", form, "X-Base-Version", base)
	require.Equal(t, http.StatusConflict, stale.Code)
	assert.Contains(t, stale.Body.String(), "Mine")
	assert.Contains(t, stale.Body.String(), "Theirs")
	assert.Contains(t, stale.Body.String(), "Not saved")

	form.Set("path", "rooms/r1/name")
	assert.Equal(t, http.StatusOK, s.Ask(http.MethodPost, "/projects/p1/set", form, "X-Base-Version", base).Code, "another room is not held up by it")
}

func TestSet_plainFormGoesBackToThePage(t *testing.T) {
	s := open(t, webtest.School())
	form := url.Values{"path": {"rooms/r2/name"}, "text": {"Plain"}}
	answer := s.Ask(http.MethodPost, "/projects/p1/set", form, "HX-Request", "")
	assert.Equal(t, http.StatusSeeOther, answer.Code)
	assert.Equal(t, "/projects/p1", answer.Header().Get("Location"))
}

func lines(t *testing.T, s *screen) map[string]store.RoomLine {
	t.Helper()
	list, _, err := s.Store.RoomLines(t.Context(), "p1", store.Filter{})
	require.NoError(t, err)
	out := map[string]store.RoomLine{}
	for _, l := range list {
		out[l.Number] = l
	}
	return out
}

// The floor to compare with is the page of a small project.
func BenchmarkShow(b *testing.B) {
	for _, n := range []int{10, 10000} {
		b.Run(fmt.Sprintf("%d_rooms", n), func(b *testing.B) {
			s := open(b, many(n))
			s.Get("/projects/p1")
			for b.Loop() {
				if page := s.Get("/projects/p1?page=2"); page.Code != http.StatusOK {
					b.Fatal(page.Code)
				}
			}
		})
	}
}
