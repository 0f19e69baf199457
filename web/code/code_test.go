package code

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
	"scopewright/domain/demo"
	"scopewright/domain/energycode"
)

// The classroom of 40 m2 is proposed as one; 18 luminaires of 38 W are 684 W over
// 430.6 ft2 (1 ft = 0.3048 m), 1.589 W/ft2, where 90.1-2019 allows 0.71 (lighting tables
// of a national laboratory's published data).
func TestCode_showsWhatIsAskedAndFound(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	body := s.Get(path).Body.String()
	for _, want := range []string{"ASHRAE 90.1 2019", "unconfirmed", "Lighting power of the building, space method", "does not meet this check", "classroom, lecture, training (proposed)", "Confirm 3 as proposed", "3 rooms"} {
		assert.Contains(t, body, want)
	}
	assert.Contains(t, body, "Design aid only.", "the standing notice")
	assert.NotContains(t, strings.ToLower(body), "compl"+"ies")
	body = s.Get(path + "/rooms/r1").Body.String()
	for _, want := range []string{"Automatic off when empty", "9.4.1.1(h)", "Lighting power density", "1.589 W/ft2", "0.71 W/ft2", "Settings to hand over", "from memory, confirm"} {
		assert.Contains(t, body, want)
	}
	assert.Equal(t, http.StatusNotFound, s.Get(path+"/rooms/none").Code)
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/none/code").Code)
}

func TestCode_withoutOneSaysSo(t *testing.T) {
	s := open(t, school(""))
	body := s.Get(path).Body.String()
	assert.Contains(t, body, "No energy code is chosen, so nothing is checked")
	assert.Contains(t, body, "classroom, lecture, training (proposed)", "kinds can be confirmed before")
	assert.Contains(t, s.Get(path+"/rooms/r1").Body.String(), "nothing is checked")
	require.Equal(t, http.StatusOK, s.Post(path+"/choose", "code", "iecc-2021").Code)
	assert.Equal(t, domain.CodePack("iecc-2021"), s.Project("p1").CodePack)
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code)
	assert.Empty(t, s.Project("p1").CodePack)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/choose", "code", "iecc-1066").Code)
}

func TestCode_emptyProject(t *testing.T) {
	scope := school("iecc-2021")
	scope.Rooms, scope.Typicals = nil, nil
	assert.Contains(t, open(t, scope).Get(path).Body.String(), "There are no rooms yet")
}

func TestCode_filters(t *testing.T) {
	scope := school("ashrae-90.1-2019")
	scope.Rooms[1].Use = "other"
	s := open(t, scope)
	rows := func(query string) (out []string) {
		for _, m := range regexp.MustCompile(`id="room-([0-9a-z]+)"`).FindAllStringSubmatch(s.Get(path+query).Body.String(), -1) {
			out = append(out, m[1])
		}
		return out
	}
	assert.Len(t, rows(""), 3)
	assert.Equal(t, []string{"r2"}, rows("?q=meeting"))
	assert.Empty(t, rows("?storey=s2"))
	assert.Equal(t, []string{"r1", "r2", "r3"}, rows("?show=proposed"))
	assert.Equal(t, []string{"r1", "r3"}, rows("?show=short"), "of the other nothing can be told without a kind of space")
	assert.Len(t, rows("?show=nonsense&page=x"), 3)
	assert.Contains(t, s.Get(path+"?q=none").Body.String(), "No room matches")
	only := s.Get(path + "/rooms/r1?only=open").Body.String()
	assert.NotContains(t, only, `<span class="badge ok">meets this check`)
	assert.Contains(t, only, `<span class="badge unmet">does not meet this check`)
}

func TestSet_kindOfSpaceWithUndo(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	answer := s.Post(path+"/set", "edits", `[["rooms/r1/space_type","laboratory, not a classroom"],["rooms/r2/space_type","lobby, general"]]`)
	require.Equal(t, http.StatusOK, answer.Code, answer.Body)
	assert.Equal(t, domain.SpaceType("laboratory"), s.room("r1").Space)
	assert.Equal(t, domain.SpaceType("lobby_general"), s.room("r2").Space)
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code)
	assert.Empty(t, s.room("r1").Space)
	assert.Empty(t, s.room("r2").Space)
	for _, cell := range [][2]string{{"rooms/r1/space_type", "dungeon"}, {"rooms/none/space_type", "corridor"}, {"rooms/r1/name", "Mine"}, {"x", "y"}, {"rooms/r1/receptacles", "many"}} {
		answer := s.Post(path+"/set", "path", cell[0], "text", cell[1])
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, cell)
		assert.Contains(t, answer.Header().Get("HX-Trigger"), "cell-refused")
	}
	assert.Equal(t, http.StatusSeeOther, s.Plain(path+"/rooms/r1/set", "path", "rooms/r1/receptacles", "text", "11").Code)
	assert.Equal(t, 11, s.room("r1").Outlets)
	assert.Contains(t, s.Get(path+"/rooms/r1").Body.String(), `value="11"`)
}

func TestSet_staleShowsBothValues(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	base := regexp.MustCompile(`data-base="([^"]+)"`).FindStringSubmatch(s.Get(path).Body.String())[1]
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "rooms/r1/space_type", "text", "corridor").Code)
	stale := s.Ask(http.MethodPost, path+"/set", url.Values{"path": {"rooms/r1/space_type"}, "text": {"lobby, general"}}, "X-Base-Version", base)
	require.Equal(t, http.StatusConflict, stale.Code)
	assert.Contains(t, stale.Body.String(), "corridor")
	other := s.Ask(http.MethodPost, path+"/set", url.Values{"path": {"rooms/r2/space_type"}, "text": {"lobby, general"}}, "X-Base-Version", base)
	assert.Equal(t, http.StatusOK, other.Code, "another room may change")
}

func TestConfirm_asProposed(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	require.Equal(t, http.StatusOK, s.Post(path+"/confirm", "room", "r1", "kind", "classroom_lecture_training").Code)
	assert.Equal(t, domain.SpaceType("classroom_lecture_training"), s.room("r1").Space)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/confirm", "room", "r2").Code)
	body := s.Get(path).Body.String()
	seen := regexp.MustCompile(`name="seen" value="([0-9a-f]+)"`).FindStringSubmatch(body)[1]
	assert.Contains(t, body, "Confirm 2 as proposed")
	stale := s.Post(path+"/confirm", "seen", "0000000000000000")
	assert.Equal(t, http.StatusUnprocessableEntity, stale.Code)
	assert.Contains(t, stale.Body.String(), "the proposals changed meanwhile")
	assert.Empty(t, s.room("r2").Space)
	require.Equal(t, http.StatusOK, s.Post(path+"/confirm", "seen", seen).Code)
	assert.Equal(t, []domain.SpaceType{"conference_meeting", "classroom_lecture_training"}, []domain.SpaceType{s.room("r2").Space, s.room("r3").Space})
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code, "one step")
	assert.Empty(t, s.room("r2").Space)
	assert.Empty(t, s.room("r3").Space)
	assert.Equal(t, domain.SpaceType("classroom_lecture_training"), s.room("r1").Space)
	require.Equal(t, http.StatusOK, s.Post(path+"/rooms/r3/confirm", "kind", "classroom_lecture_training").Code)
}

// Without script the filters come as fields of the form.
func TestConfirm_withoutScript(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	seen := regexp.MustCompile(`name="seen" value="([0-9a-f]+)"`).FindStringSubmatch(s.Get(path + "?q=102").Body.String())[1]
	assert.Equal(t, http.StatusSeeOther, s.Plain(path+"/confirm", "seen", seen, "q", "102").Code)
	assert.Empty(t, s.room("r1").Space)
	assert.Equal(t, domain.SpaceType("conference_meeting"), s.room("r2").Space)
}

// A room follows its typical's kind of space until it states one.
func TestCode_kindFromTheTypical(t *testing.T) {
	scope := school("ashrae-90.1-2019")
	scope.Typicals[0].Space = "laboratory"
	body := open(t, scope).Get(path).Body.String()
	assert.Contains(t, body, ">laboratory, not a classroom</td>")
	assert.Contains(t, body, "Confirmed by the designer for typical CR-1.")
	assert.Contains(t, body, "Confirm 2 as proposed")
}

// A waived finding of the family is an exception that a person claims; it prints and
// changes no answer.
func TestCode_printsClaimedExceptions(t *testing.T) {
	scope := school("ashrae-90.1-2019")
	s := open(t, scope)
	before := s.Get(path + "/rooms/r1").Body.String()
	require.NotContains(t, before, "Exception claimed")
	scope.Rooms[0].Waivers = []domain.Waiver{{ID: "w1", Rule: "energycode-power-density", Reason: "Display lighting of the gallery", Name: "A. Designer", Date: "2026-03-01", Margin: new(-1e6)}}
	body := open(t, scope).Get(path + "/rooms/r1").Body.String()
	assert.Contains(t, body, "Exception claimed. Reason: Display lighting of the gallery (A. Designer, 2026-03-01).")
	body = open(t, scope).Get(path).Body.String()
	assert.Contains(t, body, "Exceptions claimed")
	assert.Contains(t, body, "Display lighting of the gallery")
	assert.NotContains(t, open(t, school("ashrae-90.1-2019")).Get(path).Body.String(), "Exceptions claimed")
}

// A check that is not met and of which an exception is claimed counts as not met, and
// the list says so.
func TestCode_countsClaims(t *testing.T) {
	scope := demo.Scope()
	scope.Project.ID = "p1"
	body := open(t, scope).Get(path + "?q=316").Body.String()
	assert.Contains(t, body, "1, of these 1 claimed")
	assert.Regexp(t, `\d+ do not meet this check, of these 3 claimed`, body)
	body = open(t, scope).Get(path + "?q=301").Body.String()
	assert.Contains(t, body, "660 W over this room&#39;s own value. Other rooms make up for it")
	room := open(t, scope).Get(path + "/rooms/room-301").Body.String()
	assert.Contains(t, room, `<span class="badge open">left open</span>`)
	assert.Contains(t, room, "required where it applies")
	assert.NotContains(t, room, `<span class="badge untold">cannot tell</span>`, "the head counts none")
}

// Keys of tables are printed as words: of sources, figures and rules for daylight areas.
func TestSheet_printsWordsForKeys(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	body := s.Get(path + "/worksheets/" + string(s.sheet("Ours", "california-2022"))).Body.String()
	assert.Contains(t, body, "Power in the toplit and primary areas together")
	assert.Contains(t, body, "Californian code-change page on daylight controls, 2022")
	for _, key := range []string{"CASE-2022", ">OSS<", ">ashrae-90.1-2013<", ">Toplit primary watts<"} {
		assert.NotContains(t, body, key)
	}
	assert.Contains(t, body, `<option value="ashrae-90.1-2013">`)
}

func TestCode_ofAManyRooms(t *testing.T) {
	s := open(t, thousand(t, manyRooms+1))
	body := s.Get(path).Body.String()
	assert.Contains(t, body, "Checking 1001 rooms...")
	assert.NotContains(t, body, `id="code-rooms"`)
	assert.Contains(t, s.Get(path+"?checked=1").Body.String(), `id="code-rooms"`, "for a browser without script")
	fresh := s.Ask(http.MethodGet, path+"/fresh", nil)
	assert.Contains(t, fresh.Body.String(), "Rooms 1 to 100 of 1001")
	assert.Contains(t, s.Ask(http.MethodGet, path+"?page=11", nil).Body.String(), "Rooms 1001 to 1001 of 1001")
}

// thousand is the demo with its rooms again and again under other numbers.
func thousand(t testing.TB, n int) *domain.Scope {
	scope := demo.Scope()
	scope.Project.ID, scope.Plans, scope.Reviews, scope.SignOffs = "p1", nil, nil, nil
	rooms := scope.Rooms
	scope.Rooms = nil
	for i := range n {
		r := rooms[i%len(rooms)].Clone()
		r.ID, r.Number = domain.ID(fmt.Sprint("m", i)), fmt.Sprint(1000+i)
		scope.Rooms = append(scope.Rooms, *r)
	}
	return scope
}

// BenchmarkThousandRooms shows the page of 1,000 rooms, from the database to HTML.
func BenchmarkThousandRooms(b *testing.B) {
	s := open(b, thousand(b, 1000))
	for b.Loop() {
		if answer := s.Get(path); answer.Code != http.StatusOK {
			b.Fatal(answer.Code)
		}
	}
}

// Every code shows the demo whole: no answer without words.
func TestCode_byEveryCode(t *testing.T) {
	scope := demo.Scope()
	scope.Project.ID = "p1"
	s := open(t, scope)
	for _, k := range domain.CodePacks() {
		require.Equal(t, http.StatusOK, s.Post(path+"/choose", "code", string(k.ID)).Code)
		body := s.Get(path).Body.String()
		assert.Contains(t, body, energycode.Find(string(k.ID)).Key())
		assert.NotContains(t, body, "%!")
		assert.NotContains(t, body, `<span class="badge "></span>`)
	}
}
