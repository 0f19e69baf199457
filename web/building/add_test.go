package building

import (
	"net/http"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/web/webtest"
)

func TestAdd_oneRoom(t *testing.T) {
	s := open(t, webtest.School())
	answer := s.Post("/projects/p1/add", "storey", "s1", "number", "104", "name", "Office <4>", "use", "office-private", "count", "1")
	require.Equal(t, http.StatusOK, answer.Code)
	assert.Contains(t, answer.Body.String(), "Office &lt;4&gt;")
	assert.Contains(t, answer.Body.String(), `value="105"`, "ready for the next one")
	assert.Equal(t, "office-private", string(lines(t, s)["104"].Use))
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/undo").Code)
	assert.NotContains(t, lines(t, s), "104")
}

// Fifty classrooms must take minutes: here they take two requests.
func TestFiftyClassroomsTakeTwoSteps(t *testing.T) {
	s := open(t, webtest.School())
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/typicals", "name", "CR-2", "title", "Classroom", "from", "101").Code)
	typicals, err := s.Store.Typicals(t.Context(), "p1")
	require.NoError(t, err)
	require.Len(t, typicals, 2)
	id := string(typicals[1].Typical.ID)
	answer := s.Post("/projects/p1/add", "storey", "s2", "number", "201", "name", "Classroom", "typical", id, "count", "50")
	require.Equal(t, http.StatusOK, answer.Code)
	assert.Contains(t, answer.Body.String(), "added 50 rooms, 201 to 250")

	all := lines(t, s)
	require.Len(t, all, 53)
	for n := 201; n <= 250; n++ {
		l := all[strconv.Itoa(n)]
		assert.Equal(t, "CR-2", l.TypicalName)
		assert.Equal(t, 6, l.Devices, "as many as the classroom has")
		assert.Equal(t, "classroom", string(l.Use), "the typical's use")
	}
	assert.Equal(t, "CR-2", all["101"].TypicalName, "the room follows the typical that was made of it")
	assert.Zero(t, all["101"].Exceptions)
	require.Equal(t, http.StatusOK, s.Post("/projects/p1/undo").Code)
	assert.Len(t, lines(t, s), 3, "one step to undo")
}

func TestAdd_refuses(t *testing.T) {
	s := open(t, webtest.School())
	for _, c := range []struct{ storey, number, name, use, typical, count, want string }{
		{"s1", "", "", "", "", "", "must not be empty"},
		{"s1", "101", "", "", "", "", "has room 101 already"},
		{"s2", "100", "", "", "", "5", "has room 101, 102, 103 already"}, // numbers are the building's, not the storey's
		{"none", "1", "", "", "", "", "no longer there"},
		{"s1", "1", "", "pool", "", "", "pool"},
		{"s1", "1", "", "", "", "0", "1 to 500"},
		{"s1", "1", "", "", "", "501", "1 to 500"},
		{"s1", "1", "", "", "", "1e3", "1 to 500"},
		{"s1", "1", "\x00", "", "", "", "control character"},
	} {
		answer := s.Post("/projects/p1/add", "storey", c.storey, "number", c.number, "name", c.name, "use", c.use, "typical", c.typical, "count", c.count)
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, c.want)
		assert.Contains(t, answer.Body.String(), c.want)
	}
	assert.Equal(t, http.StatusNotFound, s.Post("/projects/p1/add", "storey", "s1", "number", "1", "typical", "none").Code)
	assert.Len(t, lines(t, s), 3)
}

func TestCountUp(t *testing.T) {
	for _, c := range []struct {
		number string
		n      int
		want   string
	}{{"101", 1, "102"}, {"B-009", 1, "B-010"}, {"101A", 1, "102A"}, {"099", 2, "101"}, {"Lobby", 1, "Lobby2"}, {"1.09", 1, "1.10"}, {"999", 1, "1000"}, {"99999999999999999999", 1, "100000000000000000000"}} {
		assert.Equal(t, c.want, countUp(c.number, c.n))
	}
}

func TestCountUp_stepsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.StringMatching(`[A-Za-z.-]{0,3}[0-9]{1,6}[A-Z]{0,2}`).Draw(t, "number")
		a, b := rapid.IntRange(0, 500).Draw(t, "a"), rapid.IntRange(0, 500).Draw(t, "b")
		if once, twice := countUp(number, a+b), countUp(countUp(number, a), b); once != twice {
			t.Fatalf("%s + %d + %d = %s, in one step %s", number, a, b, twice, once)
		}
	})
}
