package energy

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/web/webtest"
)

// says and silent look for words in a page without printing all of it.
func says(t *testing.T, body, word string) {
	t.Helper()
	assert.True(t, strings.Contains(strings.ToLower(body), strings.ToLower(word)), "the page does not say %q", word)
}

func silent(t *testing.T, body, word string) {
	t.Helper()
	assert.False(t, strings.Contains(body, word), "the page says %q", word)
}

func TestEnergy_showsBuildingStoreysAndRooms(t *testing.T) {
	s := open(t, webtest.School())
	answer := s.Get(path)
	require.Equal(t, http.StatusOK, answer.Code)
	body := answer.Body.String()
	for _, word := range []string{"3 rooms", "kWh/(ft2 yr)", "Ground", "101 Room", "103 Classroom B", "/projects/p1/energy/rooms/r3", "Leukos", "Nothing here is a promise", "EN 15193:2007, from memory", "as a table", `class="plan-drawing chart wide"`, `class="plan-drawing chart narrow"`} {
		says(t, body, word)
	}
	says(t, body, "No daylight is reckoned: the project states no latitude and longitude")
	says(t, body, "No lighting load states its watts")
	silent(t, body, "<b>Meeting</b>")
	silent(t, body, "complies")
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/none/energy").Code)

	silent(t, s.Get(path+"?storey=s2").Body.String(), "103 Classroom B")
	says(t, s.Get(path+"?storey=nowhere").Body.String(), "103 Classroom B")
}

// The columns have the decimals of the printed sheet, and weeks stand beside weeks.
func TestEnergy_figuresAndPairs(t *testing.T) {
	for v, want := range map[float64]string{13: "13.0", 6.5: "6.50", 9.03: "9.03", 100: "100", 28940: "28900", 0: "0"} {
		assert.Equal(t, want, figures(v))
	}
	assert.Equal(t, "0", difference(-0.004))
	assert.Equal(t, "+13.0", difference(13))
	scope := webtest.School()
	scope.Project.Hours = "Mon-Fri 07:00-17:00"
	s := open(t, scope)
	body := s.Get(path).Body.String()
	for _, word := range []string{"LENI, by hand", "Weeks, controls", "Weeks, by hand", "Weeks,<br>saved", "The same by the weeks played", "These rooms, weeks played", "compare LENI with LENI", "about 2610 h a year", "are not in these figures"} {
		says(t, body, word)
	}
	body = s.Get(path + "/rooms/r3").Body.String()
	for _, word := range []string{"Weeks, by hand", "a switch at the door", "about 2610 h a year"} {
		says(t, body, word)
	}
}

func TestEnergy_emptySaysWhatToDo(t *testing.T) {
	scope := webtest.School()
	scope.Rooms = nil
	body := open(t, scope).Get(path).Body.String()
	says(t, body, "No room has an area and lighting loads whose watts are stated yet")
	says(t, body, "No room has a use yet")
}

func TestRoom_explainsTheDifference(t *testing.T) {
	s := open(t, webtest.School())
	body := s.Get(path + "/rooms/r3").Body.String()
	for _, word := range []string{"Energy of 103 Classroom B", "An average day of use", "Why the weeks and LENI differ", "people are in for", "manual or partial on, automatic off", "zone stated for the load", "12:00", "As a table"} {
		says(t, body, word)
	}
	says(t, s.Get(path+"/rooms/r2").Body.String(), "No lighting load of this room states its watts")
	assert.Equal(t, http.StatusNotFound, s.Get(path+"/rooms/none").Code)
	assert.NotEqual(t, http.StatusOK, s.Get("/projects/p2/energy/rooms/r3").Code)
	silent(t, s.Get(path+"/rooms/r3").Body.String(), "Money saved")
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "rates/tariff/value", "text", "0.2").Code)
	says(t, s.Get(path+"/rooms/r3").Body.String(), "Money saved")
}

// Each kind of cell changes what it names, is undone and comes back.
func TestSet_changesWhatTheFiguresStandOn(t *testing.T) {
	s := open(t, webtest.School())
	before := s.Project("p1")
	answer := s.Post(path+"/set", "edits", `[["rates/tariff/value","0.2"],["rates/tariff/origin","bill of 2025"],["project/currency","EUR"],["profiles/classroom/day_h","1600 h"],["profiles/classroom/absence","30 %"],["limits/foc-manual-on-auto-off/value","0.85"]]`)
	require.Equal(t, http.StatusOK, answer.Code, answer.Body)
	p := s.Project("p1")
	assert.Equal(t, []domain.Rate{{ID: "tariff", Seq: 1, Value: 0.2, Origin: "bill of 2025"}}, p.Rates)
	assert.Equal(t, "EUR", p.Currency)
	assert.Equal(t, []domain.UseProfile{{ID: "classroom", Seq: 1, Day: 1600, Absence: 0.3, Target: 300, Source: unsourced}}, p.Profiles, "the built-in source no longer holds")
	assert.Equal(t, 0.85, energy.FactorsOf(p).Occupancy(energy.ManualOnAutoOff))
	body := answer.Body.String()
	for _, word := range []string{"0.2 EUR per kWh, bill of 2025", "EUR a year", "Back to built-in", "not said yet", "exception"} {
		says(t, body, word)
	}
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code)
	assert.JSONEq(t, document(t, before), document(t, s.Project("p1")))
	require.Equal(t, http.StatusOK, s.Post(path+"/redo").Code)
	assert.JSONEq(t, document(t, p), document(t, s.Project("p1")))

	require.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "profiles/classroom/source", "text", "timetable").Code)
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "rates/tariff/value", "text", "0.25").Code)
	assert.Equal(t, "timetable", s.Project("p1").Profile("classroom").Source)
	assert.Len(t, s.Project("p1").Rates, 1)

	require.Equal(t, http.StatusOK, s.Post(path+"/built-in", "row", "profiles/classroom").Code)
	require.Equal(t, http.StatusOK, s.Post(path+"/built-in", "row", "limits/foc-manual-on-auto-off").Code)
	assert.Empty(t, s.Project("p1").Profiles)
	assert.Equal(t, 0.8, energy.FactorsOf(s.Project("p1")).Occupancy(energy.ManualOnAutoOff))
	for _, row := range []string{"profiles/classroom", "limits/foc-manual-on-auto-off", "limits/none", "rates/tariff"} {
		assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/built-in", "row", row).Code, row)
	}
}

func document(t *testing.T, p *domain.Project) string {
	out, err := json.Marshal(p)
	require.NoError(t, err)
	return string(out)
}

// What is typed as it stands changes nothing: no profile becomes the project's own.
func TestSet_theSameTextChangesNothing(t *testing.T) {
	s := open(t, webtest.School())
	before := s.Project("p1")
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "edits", `[["profiles/classroom/day_h","1400 h"],["limits/foc-manual/value","1"],["rates/carbon/value",""],["profiles/classroom/target_lx","27.9 fc"]]`).Code)
	assert.Equal(t, before, s.Project("p1"))
}

func TestSet_refusesBadInput(t *testing.T) {
	s := open(t, webtest.School())
	for cell, text := range map[string]string{
		"rates/tariff/value": "-1", "rates/tariff/date": "yesterday", "rates/gold/value": "1", "project/currency": "a currency of many letters", "project/name": "x",
		"profiles/classroom/day_h": "8761", "profiles/classroom/night_h": "-1", "profiles/classroom/absence": "101 %", "profiles/classroom/target_lx": "0", "profiles/classroom/source": " ", "profiles/castle/day_h": "1",
		"limits/foc-manual/value": "0.69", "limits/fdc-automatic-weak/value": "1.1", "limits/foc-manual/source": "", "limits/devices-per-room/value": "1", "limits/foc-manual/wings": "2", "nothing": "1",
	} {
		answer := s.Post(path+"/set", "path", cell, "text", text)
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, cell)
		assert.Contains(t, answer.Header().Get("HX-Trigger"), "cell-refused", cell)
	}
	// One at the limit is taken: 1400 + 7360 h are 8760, 7361 are too many.
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/set", "path", "profiles/classroom/night_h", "text", "7361").Code)
	assert.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "profiles/classroom/night_h", "text", "7360").Code)
	assert.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "limits/foc-manual-sweep/value", "text", "0.7").Code)
}

func TestSet_staleShowsBothValues(t *testing.T) {
	s := open(t, webtest.School())
	base := s.Base("p1")
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "profiles/classroom/day_h", "text", "1500").Code)
	stale := s.Ask(http.MethodPost, path+"/set", url.Values{"path": {"profiles/classroom/day_h"}, "text": {"1700"}}, "X-Base-Version", base)
	require.Equal(t, http.StatusConflict, stale.Code)
	assert.Contains(t, stale.Body.String(), "1500 h")
	assert.Contains(t, stale.Body.String(), "1700")
}

// Of a large project one storey at a time is played, and the page says so.
func TestEnergy_largeProjectPlaysAStorey(t *testing.T) {
	scope := many(mostPlayed + 1)
	s := open(t, scope)
	body := s.Get(path).Body.String()
	says(t, body, "played storey by storey")
	silent(t, body, "all storeys</option>")
	says(t, body, "R0001")
	says(t, s.Get(path+"?storey=s2").Body.String(), "No room of this storey has figures")
}

// many is the school with so many more classrooms on its first storey.
func many(n int) *domain.Scope {
	scope := webtest.School()
	for i := range n {
		r := scope.Rooms[2]
		r.ID, r.Number = domain.ID(fmt.Sprint("m", i)), fmt.Sprintf("R%04d", i+1)
		scope.Rooms = append(scope.Rooms, r)
	}
	return scope
}

// A thousand rooms on five storeys: to stay under a second.
func BenchmarkShow_1000Rooms(b *testing.B) {
	scope := many(1000)
	for i := 2; i <= 5; i++ {
		scope.Project.Buildings[0].Storeys = append(scope.Project.Buildings[0].Storeys, domain.Storey{ID: domain.ID(fmt.Sprint("u", i)), Seq: i + 1, Name: fmt.Sprint("Upper ", i)})
	}
	for i := range scope.Rooms {
		if k := i % 5; k > 0 {
			scope.Rooms[i].StoreyID = domain.ID(fmt.Sprint("u", k+1))
		}
	}
	s := open(b, scope)
	s.Get(path)
	for b.Loop() {
		if answer := s.Get(path); answer.Code != http.StatusOK {
			b.Fatal(answer.Body)
		}
	}
}
