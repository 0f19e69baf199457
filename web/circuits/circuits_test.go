package circuits

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

const path = "/projects/p1/circuits"

func cell(name, field string) string { return fmt.Sprintf("circuits/%s/%s", idOf(name), field) }

func TestCircuits_showWhatRoomsPutOnThem(t *testing.T) {
	s := open(t, webtest.School())
	body := s.Get(path).Body.String()
	assert.Contains(t, body, "2 circuits")
	assert.Contains(t, body, "Panel LP")
	// Twice 18 luminaires of 38 W at 277 V and power factor 0.95: 5.1986 A, 32.5 %
	// of 16 A (I = P/(V pf); NEC 210.20(A)).
	assert.Contains(t, body, "5.2 A")
	assert.Contains(t, body, "32.5 %")
	assert.Contains(t, body, "101, 103")
	assert.Contains(t, body, "36 of 141 A", "36 drivers of 1 A; root 2 x 5 x 20 A (IEC 60898, C, from memory)")
	assert.Contains(t, body, "receptacles, not reckoned")
	assert.Contains(t, body, "a licensed electrician decide")
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/none/circuits").Code)
}

func TestCircuits_emptySaysWhatToDo(t *testing.T) {
	scope := webtest.School()
	scope.Rooms, scope.Typicals = nil, nil
	assert.Contains(t, open(t, scope).Get(path).Body.String(), "No load names a circuit yet")
}

func TestSet_listsACircuitThatLoadsNameAndKeepsItsRow(t *testing.T) {
	s := open(t, webtest.School())
	// 5.1986 A against 80 % of 6 A.
	answer := s.Post(path+"/set", "edits", fmt.Sprintf(`[[%q,"6 A"],[%q,"c"]]`, cell("LP-1", "breaker_a"), cell("LP-1", "trip")))
	require.Equal(t, http.StatusOK, answer.Code, answer.Body)
	assert.Contains(t, answer.Body.String(), "over by 0.4 A")
	assert.Contains(t, answer.Body.String(), "limit 4.8 A (80 % of 6 A)")
	assert.Contains(t, answer.Body.String(), `data-path="`+cell("LP-1", "breaker_a"))
	assert.Equal(t, []domain.Circuit{{ID: idOf("LP-1"), Seq: 1, Name: "LP-1", Breaker: 6, Trip: domain.TripC}}, s.Project("p1").Circuits)
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code)
	assert.Empty(t, s.Project("p1").Circuits)
	require.Equal(t, http.StatusOK, s.Post(path+"/redo").Code)
	assert.Len(t, s.Project("p1").Circuits, 1)
}

func TestSet_refusesBadInput(t *testing.T) {
	s := open(t, webtest.School())
	for field, text := range map[string]string{"breaker_a": "many", "volts": "-5", "trip": "Z", "emergency": "perhaps", "name": "LP-7", "wings": "2"} {
		answer := s.Post(path+"/set", "path", cell("LP-1", field), "text", text)
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, field)
		assert.Contains(t, answer.Header().Get("HX-Trigger"), "cell-refused")
	}
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/set", "path", "circuits/none/volts", "text", "1").Code)
	assert.Empty(t, s.Project("p1").Circuits, "a refused fact lists no circuit")
}

func TestSet_staleShowsBothValues(t *testing.T) {
	s := open(t, webtest.School())
	base := s.Base("p1")
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "path", cell("LP-1", "breaker_a"), "text", "15").Code)
	stale := s.Ask(http.MethodPost, path+"/set", url.Values{"path": {cell("LP-1", "breaker_a")}, "text": {"20"}}, "X-Base-Version", base)
	require.Equal(t, http.StatusConflict, stale.Code)
	assert.Contains(t, stale.Body.String(), "15 A")
}

func TestAddAndForget(t *testing.T) {
	s := open(t, webtest.School())
	added := s.Post(path+"/add", "name", "EM1-2", "breaker_a", "15", "volts", "277")
	require.Equal(t, http.StatusOK, added.Code, added.Body)
	assert.Contains(t, added.Body.String(), "no loads")
	assert.Contains(t, added.Body.String(), "Panel EM1")
	for _, form := range [][]string{{"name", "em1-2"}, {"name", " "}, {"name", "X-1", "breaker_a", "much"}} {
		assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/add", form...).Code, "%v", form)
	}
	require.Equal(t, http.StatusOK, s.Post(path+"/remove", "row", "circuits/"+string(idOf("EM1-2"))).Code)
	assert.Empty(t, s.Project("p1").Circuits)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/remove", "row", "circuits/none").Code)
}

// One name in two buildings is two circuits with one set of facts.
func TestCircuits_ofTwoBuildings(t *testing.T) {
	scope := webtest.School()
	scope.Project.Buildings = append(scope.Project.Buildings, domain.Building{ID: "b2", Seq: 2, Name: "Annex", Storeys: []domain.Storey{{ID: "x1", Seq: 1, Name: "Ground"}}})
	scope.Rooms[2].StoreyID = "x1"
	s := open(t, scope)
	body := s.Get(path).Body.String()
	assert.Contains(t, body, "Main building: Panel LP")
	assert.Contains(t, body, "Annex: Panel LP")
	assert.Contains(t, body, "16.2 %")
}

func TestCircuits_loadsWithoutOneAreCounted(t *testing.T) {
	scope := webtest.School()
	scope.Rooms[0].Design.Loads[0].Circuit = ""
	assert.Contains(t, open(t, scope).Get(path).Body.String(), "1 load in 1 room without a circuit")
}
