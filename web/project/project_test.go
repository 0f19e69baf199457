package project

import (
	"bytes"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/export/exchange"
	"scopewright/store"
	"scopewright/web/webtest"
)

func TestList_emptyThenWithProjects(t *testing.T) {
	s := open(t)
	assert.Contains(t, s.Get("/").Body.String(), "No projects yet")
	scope := webtest.School()
	scope.Project.Name = "<script>x</script>"
	require.NoError(t, s.Store.ImportScope(t.Context(), "test", scope, false, nil))
	body := s.Get("/").Body.String()
	assert.NotContains(t, body, "<script>x")
	assert.Contains(t, body, "&lt;script&gt;x")
	assert.Contains(t, body, "3 rooms")
	assert.Contains(t, body, `href="/projects/p1"`)
}

func TestCreate_startsWithEverything(t *testing.T) {
	s := open(t)
	answer := s.Plain("/projects", "name", "  Harbor   School ", "number", "26-004", "units", "SI")
	require.Equal(t, http.StatusSeeOther, answer.Code)
	id := domain.ID(strings.TrimPrefix(answer.Header().Get("Location"), "/projects/"))
	p := s.Project(id)
	assert.Equal(t, "Harbor School", p.Name)
	assert.EqualValues(t, "SI", p.Units)
	assert.Equal(t, equipment.Generic(), p.Book)
	assert.ElementsMatch(t, domain.GenericLimits(), p.Limits)
	feet, err := newProject(draft{Name: "School"})
	require.NoError(t, err)
	assert.Equal(t, domain.StartLimits(units.US), feet.Limits, "feet where nothing is said, with the work plane of 30 in")
	assert.ElementsMatch(t, domain.StartChecklist(), p.Checklist)
	require.Len(t, p.Buildings, 1)
	assert.Len(t, p.Buildings[0].Storeys, 1)
}

func TestCreate_refuses(t *testing.T) {
	s := open(t)
	for _, c := range []struct{ name, number, units, want string }{
		{"", "", "US", "must not be empty"}, {" \t", "", "US", "must not be empty"}, {strings.Repeat("n", 200), "", "US", "at most 120 fit"},
		{"A", strings.Repeat("9", 80), "US", "at most 40 fit"}, {"A", "", "furlongs", "furlongs"}, {"A\x00", "", "US", "control character"},
	} {
		answer := s.Plain("/projects", "name", c.name, "number", c.number, "units", c.units)
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, c.want)
		assert.Contains(t, answer.Body.String(), c.want)
	}
	projects, err := s.Store.Projects(t.Context())
	require.NoError(t, err)
	assert.Empty(t, projects)
}

func TestRemove_needsTheName(t *testing.T) {
	s := open(t, webtest.School())
	assert.Contains(t, s.Get("/projects/p1/remove").Body.String(), "3 rooms")
	refused := s.Plain("/projects/p1/remove", "name", "Test")
	assert.Equal(t, http.StatusUnprocessableEntity, refused.Code)
	assert.Contains(t, refused.Body.String(), "nothing was removed")
	s.Project("p1")
	require.Equal(t, http.StatusSeeOther, s.Plain("/projects/p1/remove", "name", " test  PROJECT ").Code)
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/p1/remove").Code)
	assert.Equal(t, http.StatusNotFound, s.Plain("/projects/p1/remove", "name", "Test project").Code)
}

// take uploads a project file.
func (s *screen) take(content string, fields ...string) *httptest.ResponseRecorder {
	s.T.Helper()
	return s.Upload("/projects/import", "project.json", content, fields...)
}

func TestFile_roundTripsByteForByte(t *testing.T) {
	s := open(t, webtest.School())
	saved := s.Get("/projects/p1/file")
	require.Equal(t, http.StatusOK, saved.Code)
	assert.Contains(t, saved.Header().Get("Content-Disposition"), `filename="test-project.json"`)
	other := open(t)
	require.Equal(t, http.StatusSeeOther, other.take(saved.Body.String()).Code)
	assert.Equal(t, saved.Body.String(), other.Get("/projects/p1/file").Body.String())

	again := other.take(saved.Body.String())
	assert.Equal(t, http.StatusConflict, again.Code)
	assert.Contains(t, again.Body.String(), "in the database already")
	assert.Equal(t, http.StatusSeeOther, other.take(saved.Body.String(), "replace", "yes").Code)
	assert.Equal(t, http.StatusNotFound, other.Get("/projects/none/file").Code)
}

func TestFile_refusedWithItsPlace(t *testing.T) {
	s := open(t)
	scope := webtest.School()
	scope.Rooms[0].StoreyID = "attic"
	var bad bytes.Buffer
	require.NoError(t, exchange.Write(&bad, scope))
	for content, want := range map[string]string{
		"": "no", "\x00\x01\x02": "", "{": "", bad.String(): "/rooms/0/storey", bad.String()[:900]: "", `{"format":"scopewright-project","version":9}`: "newer version",
	} {
		answer := s.take(content)
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, "%.40q", content)
		assert.Contains(t, answer.Body.String(), "Nothing was taken in")
		assert.Contains(t, answer.Body.String(), want)
	}
	assert.Equal(t, http.StatusUnprocessableEntity, s.Plain("/projects/import").Code)
	projects, err := s.Store.Projects(t.Context())
	require.NoError(t, err)
	assert.Empty(t, projects)
}

func TestFileName(t *testing.T) {
	for name, want := range map[string]string{"Harbor Street (invented)": "harbor-street-invented.json", "../../etc/passwd": "etc-passwd.json", "学校": "project.json", `a"b;c`: "a-b-c.json"} {
		assert.Equal(t, want, fileName(name))
	}
}

func TestSettings_setsFacts(t *testing.T) {
	s := open(t, webtest.School())
	body := s.Get("/projects/p1/settings").Body.String()
	for _, f := range domain.ProjectFields {
		assert.Contains(t, body, html.EscapeString(f.Title))
	}
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/settings/set", "path", "project/client", "text", "Client & <Sons>").Code)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/settings/set", "edits", `[["buildings/b1/name","North"],["buildings/b1/storeys/s1/server","S-2"],["project/units","SI (m)"]]`).Code)
	p := s.Project("p1")
	assert.Equal(t, "Client & <Sons>", p.Client)
	assert.Equal(t, "North", p.Buildings[0].Name)
	assert.Equal(t, "S-2", p.Buildings[0].Storeys[0].Server)
	assert.EqualValues(t, "SI", p.Units)
	assert.Contains(t, s.Get("/projects/p1/settings").Body.String(), "Client &amp; &lt;Sons&gt;")
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/settings/undo").Code)
	assert.Equal(t, "Main building", s.Project("p1").Buildings[0].Name)
	assert.Equal(t, "Client & <Sons>", s.Project("p1").Client)
}

func TestSettings_refuses(t *testing.T) {
	s := open(t, webtest.School())
	for path, text := range map[string]string{
		"project/name": "", "project/units": "feet", "project/wings": "2", "buildings/b1/storeys/s1/name": " ", "buildings/none/name": "x",
		"buildings/b1/storeys/none/name": "x", "rooms/r1/name": "x", "": "x",
	} {
		answer := s.Post("/projects/p1/settings/set", "edits", fmt.Sprintf(`[[%q,%q]]`, path, text))
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, path)
	}
	want := webtest.School().Project
	delta.Sort(&want)
	assert.Equal(t, want, *s.Project("p1"))
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/none/settings").Code)
}

func TestSettings_staleShowsBothValues(t *testing.T) {
	s := open(t, webtest.School())
	base := s.Base("p1")
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/settings/set", "path", "project/client", "text", "Theirs").Code)
	stale := s.Ask(http.MethodPost, "/projects/p1/settings/set", url.Values{"path": {"project/client"}, "text": {"Mine"}}, "X-Base-Version", base)
	require.Equal(t, http.StatusConflict, stale.Code)
	assert.Contains(t, stale.Body.String(), "Mine")
	assert.Contains(t, stale.Body.String(), "Theirs")
	assert.Equal(t, "Theirs", s.Project("p1").Client)
}

func (s *screen) storeys() []string {
	var out []string
	for _, b := range s.Project("p1").Buildings {
		for _, st := range b.Storeys {
			out = append(out, st.Name)
		}
	}
	return out
}

func TestStoreys_addMoveRemoveUndo(t *testing.T) {
	s := open(t, webtest.School())
	const at = "/projects/p1/settings"
	require.Equal(t, http.StatusOK, s.Post(at+"/storey", "building", "b1", "name", "Roof").Code)
	assert.Equal(t, []string{"Ground", "Level 2", "Roof"}, s.storeys())
	roof := string(s.Project("p1").Buildings[0].Storeys[2].ID)
	require.Equal(t, http.StatusOK, s.Post(at+"/storey/up", "row", "buildings/b1/storeys/"+roof).Code)
	assert.Equal(t, []string{"Ground", "Roof", "Level 2"}, s.storeys())
	require.Equal(t, http.StatusOK, s.Post(at+"/storey/down", "row", "buildings/b1/storeys/s1").Code)
	assert.Equal(t, []string{"Roof", "Ground", "Level 2"}, s.storeys())
	top := s.Post(at+"/storey/up", "row", "buildings/b1/storeys/"+roof)
	require.Equal(t, http.StatusOK, top.Code)
	assert.Contains(t, top.Body.String(), "Nothing changed")
	refused := s.Post(at+"/storey/remove", "row", "buildings/b1/storeys/s1")
	assert.Equal(t, http.StatusUnprocessableEntity, refused.Code)
	assert.Contains(t, refused.Body.String(), "Ground has 3 rooms")
	require.Equal(t, http.StatusOK, s.Post(at+"/storey/remove", "row", "buildings/b1/storeys/"+roof).Code)
	for range 4 {
		require.Equal(t, http.StatusOK, s.Post(at+"/undo").Code)
	}
	assert.Equal(t, webtest.School().Project.Buildings, s.Project("p1").Buildings)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(at+"/undo").Code, "nothing is left to undo")
}

func TestBuildings_addRemove(t *testing.T) {
	s := open(t, webtest.School())
	const at = "/projects/p1/settings"
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(at+"/building/remove", "building", "b1").Code, "the only one")
	require.Equal(t, http.StatusOK, s.Post(at+"/building", "name", "Annex <2>").Code)
	assert.Contains(t, s.Get(at).Body.String(), "Annex &lt;2&gt;")
	annex := string(s.Project("p1").Buildings[1].ID)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(at+"/building/remove", "building", "b1").Code, "rooms lie in it")
	require.Equal(t, http.StatusOK, s.Post(at+"/building/remove", "building", annex).Code)
	assert.Len(t, s.Project("p1").Buildings, 1)
	for _, form := range [][]string{{at + "/building", "name", ""}, {at + "/storey", "building", "b1", "name", ""}, {at + "/storey", "building", "none", "name", "x"},
		{at + "/storey/remove", "row", "buildings/b1/storeys/none"}, {at + "/storey/up", "row", "x"}, {at + "/building/remove", "building", "none"}} {
		assert.Equal(t, http.StatusUnprocessableEntity, s.Post(form[0], form[1:]...).Code, "%v", form)
	}
}

func TestNextStorey(t *testing.T) {
	for last, want := range map[string]string{"Level 2": "Level 3", "Ground": "Level 2", "L09": "L10", "3": "4"} {
		assert.Equal(t, want, nextStorey(&domain.Building{Storeys: []domain.Storey{{Name: last}}}))
	}
	assert.Equal(t, "Level 1", nextStorey(&domain.Building{}))
}

func (s *screen) renamed(room domain.ID, name string) {
	s.T.Helper()
	s.EditRoom(room, "named "+name, func(r *domain.Resolved) { r.Name = name })
}

func TestHistory_listsAndUndoesFromThere(t *testing.T) {
	s := open(t, webtest.School())
	assert.Contains(t, s.Get("/projects/p1/history").Body.String(), "imported project")
	s.renamed("r1", "First <b>")
	s.renamed("r2", "Second")
	s.renamed("r1", "Third")
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/settings/set", "path", "project/client", "text", "C").Code)
	body := s.Get("/projects/p1/history").Body.String()
	assert.Contains(t, body, "named First &lt;b&gt;")
	assert.Contains(t, body, "A. Designer")
	assert.Contains(t, body, `href="/projects/p1/rooms/r1"`)
	assert.Equal(t, 3, strings.Count(body, `name="do" value="Undo"`), "the newest of each room and of the project")

	entries, err := s.Store.History(t.Context(), "p1", store.HistoryFilter{})
	require.NoError(t, err)
	id := func(said string) string {
		for _, e := range entries {
			if e.Said == said {
				return fmt.Sprint(e.ID)
			}
		}
		return ""
	}
	old := s.Post("/projects/p1/history/step", "entry", id("named First <b>"), "subject", "room:r1", "do", "Undo")
	assert.Equal(t, http.StatusUnprocessableEntity, old.Code, "something newer holds there")
	undone := s.Post("/projects/p1/history/step", "entry", id("named Second"), "subject", "room:r2", "do", "Undo")
	require.Equal(t, http.StatusOK, undone.Code)
	assert.Contains(t, undone.Body.String(), `value="Redo"`)
	state, err := s.Store.Room(t.Context(), "r2")
	require.NoError(t, err)
	assert.Equal(t, "<b>Meeting</b> & co", state.Resolved.Name)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/history/step", "entry", id("named Second"), "subject", "room:r2", "do", "Redo").Code)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/history/undo").Code, "the project's own newest")
	assert.Empty(t, s.Project("p1").Client)
	for _, form := range [][]string{{"entry", "x", "subject", "room:r1", "do", "Undo"}, {"entry", "1", "subject", "room:r1", "do", "Drop"}} {
		assert.Equal(t, http.StatusUnprocessableEntity, s.Post("/projects/p1/history/step", form...).Code)
	}
}

func TestHistory_pages(t *testing.T) {
	s := open(t, webtest.School())
	for i := range entriesAtOnce + 5 {
		s.renamed("r1", fmt.Sprintf("name %d", i))
	}
	first := s.Get("/projects/p1/history").Body.String()
	assert.Contains(t, first, ">Older<")
	assert.NotContains(t, first, "named name 4<")
	second := s.Get("/projects/p1/history?before=7").Body.String()
	assert.Contains(t, second, "named name 4<")
	assert.NotContains(t, second, `value="Undo"`, "only the newest page can undo")
}

func TestSettings_orderOfPriorityMovesByButtons(t *testing.T) {
	s := open(t, webtest.School())
	body := s.Get("/projects/p1/settings").Body.String()
	assert.Contains(t, body, "stays first, so that locks hold")
	assert.Contains(t, body, "No line yet: all rooms stay in mode normal")
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/settings/priority/up", "class", "occupancy").Code)
	assert.Equal(t, []domain.Class{"emergency", "demand response", "manual", "occupancy", "schedule", "daylight"}, s.Project("p1").Order())
	require.Equal(t, http.StatusSeeOther, s.Plain("/projects/p1/settings/priority/down", "class", "occupancy").Code, "without script too")
	assert.Empty(t, s.Project("p1").Priority)
	answer := s.Post("/projects/p1/settings/priority/up", "class", "daylight")
	assert.Equal(t, http.StatusUnprocessableEntity, answer.Code)
	assert.Contains(t, answer.Body.String(), "daylight must come last")
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/settings/set", "path", "project/priority", "text", "emergency, manual, demand response, schedule, occupancy, daylight").Code, "and as text")
	assert.Equal(t, domain.ClassManual, s.Project("p1").Order()[1])
}

func TestSettings_calendarSaysWhatHoldsOnTypicalDays(t *testing.T) {
	s := open(t, webtest.School())
	answer := s.Post("/projects/p1/settings/set", "path", "project/calendar", "text", "mon-fri not holidays 7:00 normal\nMon-Fri not holidays 22:00 after hours")
	require.Equal(t, http.StatusOK, answer.Code, answer.Body.String())
	body := answer.Body.String()
	assert.Contains(t, body, "On a Monday: after hours, from 07:00 normal, from 22:00 after hours")
	assert.Contains(t, body, "On a Saturday: after hours all day")
	assert.Contains(t, body, "On a holiday that is a Monday: after hours all day")
	answer = s.Post("/projects/p1/settings/set", "path", "project/calendar", "text", "soon\nMon 07:00 normal\nlater")
	assert.Equal(t, http.StatusUnprocessableEntity, answer.Code)
	for _, line := range []string{"line 1: ", "line 3: "} {
		assert.Contains(t, answer.Body.String(), line)
	}
	assert.Len(t, s.Project("p1").Calendar, 2, "nothing of it is stored")
}
