package luminaires

import (
	"fmt"
	"net/http"
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/web/webtest"
)

const path = "/projects/p1/luminaires"

func (s *screen) schedule() []domain.Luminaire {
	s.T.Helper()
	return s.Project("p1").Luminaires
}

func TestSchedule_showsTypesAndUse(t *testing.T) {
	scope := webtest.School()
	scope.Project.Luminaires[0].Description = "<b>Recessed</b>"
	count := 0
	for _, l := range scope.Typicals[0].Design.Loads {
		if l.Luminaire == "a" {
			count += l.Count
		}
	}
	body := open(t, scope).Get(path).Body.String()
	assert.Contains(t, body, "&lt;b&gt;Recessed&lt;/b&gt;")
	assert.Contains(t, body, fmt.Sprintf("%d in 2 rooms", 2*count), "in the classroom, and in the room that follows the typical")
	assert.Contains(t, body, "not used")
	assert.Contains(t, body, `data-path="luminaires/a/watts"`)
}

func TestSchedule_emptySaysWhatToDo(t *testing.T) {
	scope := webtest.School()
	scope.Rooms, scope.Typicals, scope.Project.Luminaires = nil, nil, nil
	assert.Contains(t, open(t, scope).Get(path).Body.String(), "No luminaire types yet")
}

func TestSet_judgesAllRoomsAndSaysHowMany(t *testing.T) {
	s := open(t, webtest.School())
	// 4 luminaires of 1000 W at 277 V and power factor 0.95 draw 15.2 A, more
	// than 80 % of 16 A (NEC 210.20(A), from memory).
	answer := s.Post(path+"/set", "edits", `[["luminaires/a/watts","1000 W"],["luminaires/a/description","A mistake"]]`)
	require.Equal(t, http.StatusOK, answer.Code)
	assert.Contains(t, answer.Body.String(), "Findings changed in 2 rooms")
	assert.Contains(t, answer.Body.String(), "1000 W")
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code)
	assert.InDelta(t, 38, float64(s.schedule()[0].Watts), 0)
}

func TestSet_tagsStayUnique(t *testing.T) {
	s := open(t, webtest.School())
	refused := s.Post(path+"/set", "path", "luminaires/a/tag", "text", "b")
	assert.Equal(t, http.StatusUnprocessableEntity, refused.Code)
	assert.Contains(t, refused.Header().Get("HX-Trigger"), "luminaires/a/tag")
	swap := s.Post(path+"/set", "edits", `[["luminaires/a/tag","B"],["luminaires/b/tag","A"]]`)
	assert.Equal(t, http.StatusOK, swap.Code, "a pasted block may swap them")
	assert.Equal(t, "B", s.schedule()[0].Tag)
}

func TestSet_refusesBadInput(t *testing.T) {
	s := open(t, webtest.School())
	for field, text := range map[string]string{"watts": "1,234", "volts": "-5", "power_factor": "7", "drivers": "1.5", "driver": "steam", "dims_to": "130", "tag": "", "wings": "2"} {
		answer := s.Post(path+"/set", "path", "luminaires/a/"+field, "text", text)
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, field)
		assert.Contains(t, answer.Header().Get("HX-Trigger"), "cell-refused")
	}
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/set", "path", "luminaires/none/watts", "text", "1").Code)
	assert.Equal(t, http.StatusNotFound, s.Post("/projects/none/luminaires/set", "path", "luminaires/a/watts", "text", "1").Code)
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/none/luminaires").Code)
	assert.Equal(t, webtest.School().Project.Luminaires, s.schedule())
}

func TestSet_staleShowsBothValues(t *testing.T) {
	s := open(t, webtest.School())
	base := s.Base("p1")
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "luminaires/a/watts", "text", "41").Code)
	stale := s.Ask(http.MethodPost, path+"/set", url.Values{"path": {"luminaires/a/watts"}, "text": {"52"}}, "X-Base-Version", base)
	require.Equal(t, http.StatusConflict, stale.Code)
	assert.Contains(t, stale.Body.String(), "52")
	assert.Contains(t, stale.Body.String(), "41 W")
	assert.InDelta(t, 41, float64(s.schedule()[0].Watts), 0)
}

func TestAddAndDuplicate(t *testing.T) {
	s := open(t, webtest.School())
	require.Equal(t, http.StatusOK, s.Post(path+"/add", "tag", "D1", "description", "Downlight", "watts", "12.5", "volts", "277", "driver", "reverse phase").Code)
	added := s.schedule()[4]
	assert.Equal(t, domain.DriverReverse, added.Driver)
	assert.InDelta(t, 12.5, float64(added.Watts), 0)
	require.Equal(t, http.StatusOK, s.Post(path+"/duplicate", "row", "luminaires/a").Code)
	copied := s.schedule()[5]
	assert.Equal(t, "D2", copied.Tag)
	assert.InDelta(t, 38, float64(copied.Watts), 0)
	for _, form := range [][]string{{"tag", "d1"}, {"tag", ""}, {"tag", "E", "watts", "bright"}} {
		assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/add", form...).Code, "%v", form)
	}
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/duplicate", "row", "luminaires/none").Code)
	assert.Len(t, s.schedule(), 6)
}

func TestRemove_refusedWhileUsed(t *testing.T) {
	s := open(t, webtest.School())
	refused := s.Post(path+"/remove", "row", "luminaires/a")
	require.Equal(t, http.StatusUnprocessableEntity, refused.Code)
	assert.Contains(t, refused.Body.String(), "rooms 101, 103 and in typical CR-1")
	require.Equal(t, http.StatusOK, s.Post(path+"/remove", "row", "luminaires/b").Code)
	assert.Len(t, s.schedule(), 3)
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code)
	assert.Equal(t, webtest.School().Project.Luminaires, s.schedule(), "back in its place")
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/remove", "row", "luminaires/none").Code)
}

func TestNextTag(t *testing.T) {
	for last, want := range map[string]string{"A": "A1", "A9": "A10", "F-2": "F-3", "99999999999999999999": "1", "": "1"} {
		assert.Equal(t, want, nextTag(&domain.Project{Luminaires: []domain.Luminaire{{Tag: last}}}))
	}
}
