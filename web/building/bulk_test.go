package building

import (
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/web/webtest"
)

var stampOf = regexp.MustCompile(`name="stamp" value="([0-9a-f]+)"`)

// bulk asks what an edit of many rooms would do, and then does it.
func (s *screen) bulk(rooms []string, pairs ...string) (said, done string) {
	s.T.Helper()
	form := url.Values{"room": rooms, "stamp": {"look"}}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Set(pairs[i], pairs[i+1])
	}
	asked := s.Ask(http.MethodPost, "/projects/p1/bulk", form)
	require.Equal(s.T, http.StatusOK, asked.Code, asked.Body.String())
	said = asked.Body.String()
	form.Set("stamp", stampOf.FindStringSubmatch(said)[1])
	answer := s.Ask(http.MethodPost, "/projects/p1/bulk/apply", form)
	require.Equal(s.T, http.StatusOK, answer.Code, answer.Body.String())
	return said, answer.Body.String()
}

func numbers(t *testing.T, s *screen) []string {
	var out []string
	for number := range lines(t, s) {
		out = append(out, number)
	}
	slices.Sort(out)
	return out
}

func TestBulk_saysFirstAndStoresNothing(t *testing.T) {
	s := open(t, webtest.School())
	before := lines(t, s)
	for _, op := range operations {
		form := url.Values{"room": {"r2"}, "do": {op.Name}}
		answer := s.Ask(http.MethodPost, "/projects/p1/bulk", form)
		require.Equal(t, http.StatusOK, answer.Code, op.Name)
		assert.Contains(t, answer.Body.String(), op.Title)
		assert.Contains(t, answer.Body.String(), "1 room selected")
		plain := s.Ask(http.MethodPost, "/projects/p1/bulk", form, "HX-Request", "")
		assert.Contains(t, plain.Body.String(), "<html", "works without script, as a page")
	}
	assert.Equal(t, before, lines(t, s))
}

func TestBulk_assignTypical(t *testing.T) {
	s := open(t, webtest.School())
	said, done := s.bulk([]string{"r1", "r2", "r3"}, "do", "typical", "typical", "t1")
	assert.Contains(t, said, "Assign to 2 rooms", "the third follows already")
	assert.Contains(t, said, "1 room has a design of its own, which gives way")
	assert.Contains(t, said, "own design, 6 devices")
	assert.Contains(t, done, "assigned typical CR-1 to 2 rooms (101 to 102)")
	for _, l := range lines(t, s) {
		assert.Equal(t, "CR-1", l.TypicalName)
		assert.Zero(t, l.Exceptions)
	}
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/undo").Code)
	assert.Empty(t, lines(t, s)["101"].TypicalName)
	assert.Equal(t, 6, lines(t, s)["101"].Devices, "undo brings the own design back")
}

func TestBulk_standAlone(t *testing.T) {
	s := open(t, webtest.School())
	said, _ := s.bulk([]string{"r1", "r3"}, "do", "typical", "typical", noTypical)
	assert.Contains(t, said, "Let 1 room stand alone")
	l := lines(t, s)["103"]
	assert.Empty(t, l.TypicalName)
	assert.Equal(t, 6, l.Devices, "it keeps the design that it had")
}

func TestBulk_setField(t *testing.T) {
	s := open(t, webtest.School())
	said, _ := s.bulk([]string{"r1", "r2", "r3"}, "do", "field", "field", "use", "use", "lobby")
	assert.Contains(t, said, "Set in 3 rooms")
	assert.Contains(t, said, "Conference room", "what it is now")
	assert.Equal(t, domain.Use("lobby"), lines(t, s)["102"].Use)
	said, _ = s.bulk([]string{"r2", "r3"}, "do", "field", "field", "ceiling_m", "text", "9 ft 6 in")
	assert.Contains(t, said, "8 ft 10.3 in", "2.7 m, read from the room")
	state, err := s.Store.Room(t.Context(), "r2")
	require.NoError(t, err)
	assert.InDelta(t, 2.8956, float64(state.Resolved.Ceiling), 1e-9, "9.5 x 0.3048 m, the international foot by definition")
}

func TestBulk_duplicate(t *testing.T) {
	s := open(t, webtest.School())
	said, done := s.bulk([]string{"r1", "r3"}, "do", "duplicate", "count", "2")
	assert.Contains(t, said, "Add 4 rooms")
	assert.Contains(t, done, "added 4 rooms like 101: 104 to 107")
	assert.Equal(t, []string{"101", "102", "103", "104", "105", "106", "107"}, numbers(t, s))
	assert.Equal(t, 6, lines(t, s)["104"].Devices)
	assert.Equal(t, "CR-1", lines(t, s)["107"].TypicalName)
}

func TestBulk_renumber(t *testing.T) {
	s := open(t, webtest.School())
	said, _ := s.bulk([]string{"r1", "r2", "r3"}, "do", "renumber", "prefix", "B-", "start", "008", "step", "2")
	assert.Contains(t, said, "Renumber 3 rooms")
	assert.Equal(t, []string{"B-008", "B-010", "B-012"}, numbers(t, s))
	s.bulk([]string{"r1", "r2", "r3"}, "do", "renumber", "prefix", "", "start", "102", "step", "1")
	assert.Equal(t, []string{"102", "103", "104"}, numbers(t, s), "numbers may move among the selected rooms")
}

func TestBulk_moveAndDelete(t *testing.T) {
	s := open(t, webtest.School())
	s.bulk([]string{"r1", "r2"}, "do", "move", "storey", "s2")
	assert.Equal(t, domain.ID("s2"), lines(t, s)["101"].StoreyID)
	said, _ := s.bulk([]string{"r1", "r2"}, "do", "delete")
	assert.Contains(t, said, "Delete 2 rooms")
	assert.Equal(t, []string{"103"}, numbers(t, s))
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/undo").Code)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/undo").Code)
	assert.Equal(t, domain.ID("s1"), lines(t, s)["101"].StoreyID)
}

func TestBulk_makeTypicalKeepsCircuitsWithTheRoom(t *testing.T) {
	s := open(t, webtest.School())
	s.bulk([]string{"r1"}, "do", "model", "name", "CR-9", "title", "Corner classroom")
	state, err := s.Store.Room(t.Context(), "r1")
	require.NoError(t, err)
	require.NotNil(t, state.Resolved.Typical)
	assert.Equal(t, "CR-9", state.Resolved.Typical.Name)
	assert.Empty(t, state.Resolved.Typical.Design.Load("l1").Circuit)
	assert.Equal(t, "LP-1", state.Resolved.Design.Load("l1").Circuit)
	assert.Empty(t, state.Resolved.RealExceptions())
}

func TestBulk_allThatMatch(t *testing.T) {
	s := open(t, many(250))
	form := url.Values{"all": {"yes"}, "do": {"field"}, "field": {"name"}, "text": {"Office"}, "stamp": {"look"}}
	headers := []string{"HX-Current-URL", "http://localhost/projects/p1?use=office-private&page=2"}
	asked := s.Ask(http.MethodPost, "/projects/p1/bulk", form, headers...)
	assert.Contains(t, asked.Body.String(), "Set in 250 rooms")
	assert.Contains(t, asked.Body.String(), "and 242 more, to 1249")
	form.Set("stamp", stampOf.FindStringSubmatch(asked.Body.String())[1])
	require.Equal(t, http.StatusOK, s.Ask(http.MethodPost, "/projects/p1/bulk/apply", form, headers...).Code)
	all := lines(t, s)
	assert.Equal(t, "Office", all["1249"].Name)
	assert.Equal(t, "Classroom B", all["103"].Name, "outside of the filter")
}

func TestBulk_staleIsToldAndNotDone(t *testing.T) {
	s := open(t, webtest.School())
	form := url.Values{"room": {"r1", "r2"}, "do": {"delete"}, "stamp": {"look"}}
	asked := s.Ask(http.MethodPost, "/projects/p1/bulk", form)
	form.Set("stamp", stampOf.FindStringSubmatch(asked.Body.String())[1])
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/set", "path", "rooms/r2/name", "text", "In use after all").Code)
	stale := s.Ask(http.MethodPost, "/projects/p1/bulk/apply", form)
	assert.Equal(t, http.StatusConflict, stale.Code)
	assert.Contains(t, stale.Body.String(), "changed meanwhile")
	assert.Contains(t, stale.Body.String(), "In use after all")
	assert.Len(t, lines(t, s), 3)
}

func TestBulk_refuses(t *testing.T) {
	s := open(t, webtest.School())
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post("/projects/p1/bulk", "do", "delete").Code, "no rooms")
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post("/projects/p1/bulk", "do", "explode", "room", "r1").Code)
	for _, c := range []struct{ want, do, a, b, c, d string }{
		{"Choose the typical", "typical", "typical", "none-such", "", ""},
		{"Choose the field", "field", "field", "number", "text", "1"},
		{"not a number", "field", "field", "area_m2", "text", "wide"},
		{"1 to 500", "duplicate", "count", "-1", "", ""},
		{"The first number", "renumber", "start", "A1", "", ""},
		{"has room 103 already", "renumber", "start", "103", "", ""},
		{"Choose the storey", "move", "storey", "attic", "", ""},
		{"there is a typical CR-1 already", "model", "name", "cr-1", "", ""},
	} {
		form := url.Values{"room": {"r2"}, "do": {c.do}, "stamp": {"look"}, c.a: {c.b}, c.c: {c.d}}
		asked := s.Ask(http.MethodPost, "/projects/p1/bulk", form)
		require.Equal(t, http.StatusOK, asked.Code)
		assert.Regexp(t, "(?i)"+c.want, asked.Body.String())
		assert.Contains(t, asked.Body.String(), "disabled", "nothing can be pressed yet")
		form.Set("stamp", stampOf.FindStringSubmatch(asked.Body.String())[1])
		assert.Equal(t, http.StatusUnprocessableEntity, s.Ask(http.MethodPost, "/projects/p1/bulk/apply", form).Code, c.want)
	}
	assert.Equal(t, []string{"101", "102", "103"}, numbers(t, s))
}

func TestTypicals_addRenameCopyRemove(t *testing.T) {
	s := open(t, webtest.School())
	names := func() []string {
		list, err := s.Store.Typicals(t.Context(), "p1")
		require.NoError(t, err)
		var out []string
		for _, l := range list {
			out = append(out, l.Typical.Name)
		}
		return out
	}
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/typicals", "name", "OF-1", "title", "Office <b>").Code)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/typicals/copy", "typical", "t1").Code)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/typicals/rename", "typical", "t1", "name", "CR-X", "title", "Room").Code)
	assert.Equal(t, []string{"CR-X", "OF-1", "CR-1 (2)"}, names())
	refused := s.Post("/projects/p1/typicals/remove", "typical", "t1")
	assert.Equal(t, http.StatusUnprocessableEntity, refused.Code)
	assert.Contains(t, refused.Body.String(), "follow")
	list, err := s.Store.Typicals(t.Context(), "p1")
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/typicals/remove", "typical", string(list[1].Typical.ID)).Code)
	assert.Equal(t, []string{"CR-X", "CR-1 (2)"}, names())

	for _, c := range []struct {
		path string
		form []string
		code int
	}{
		{"", []string{"name", ""}, 422}, {"", []string{"name", "CR-X"}, 422}, {"", []string{"name", "N", "from", "999"}, 422},
		{"/rename", []string{"typical", "t1", "name", "CR-1 (2)"}, 422}, {"/rename", []string{"typical", "none", "name", "N"}, 404}, {"/remove", []string{"typical", "none"}, 404},
	} {
		assert.Equal(t, c.code, s.Post("/projects/p1/typicals"+c.path, c.form...).Code, "%s %v", c.path, c.form)
	}
}

// What one room costs must not grow with their number, neither to change nor
// to take back.
func BenchmarkBulkAndUndo(b *testing.B) {
	for _, n := range []int{200, 2000} {
		b.Run(fmt.Sprintf("%d_rooms", n), func(b *testing.B) {
			s := open(b, many(n))
			for b.Loop() {
				s.bulk(nil, "all", "yes", "do", "typical", "typical", noTypical)
				require.Equal(b, http.StatusOK, s.Post("/projects/p1/undo").Code)
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "us/room")
		})
	}
}
