package rehearse

import (
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/web/webtest"
)

const (
	here    = "/projects/p1/rooms/room101/rehearse"
	typical = "/projects/p1/typicals/t1/rehearse"
)

// newApp has the sound classroom as room 101, as typical CR-1, and as room 103
// that follows it.
func newApp(t *testing.T) *webtest.App {
	t.Helper()
	b := domaintest.Classroom()
	b.P.Zone = "America/New_York"
	scope := &domain.Scope{Project: *b.P, Typicals: []domain.Typical{{ID: "t1", Seq: 1, Name: "CR-1", Design: b.R.Design.Clone()}}, Rooms: []domain.Room{*b.R.Room}}
	scope.Rooms[0].ID = "room101"
	scope.Rooms = append(scope.Rooms, domain.Room{ID: "room103", StoreyID: "s1", Number: "103", Use: "classroom", Area: 40, TypicalID: "t1"})
	return webtest.Open(t, func(a *webtest.App, r chi.Router) { Screen{Store: a.Store, Log: a.Log, Now: a.Now}.Routes(r) }, scope)
}

func roomNow(a *webtest.App, id domain.ID) *domain.Resolved {
	a.T.Helper()
	state, err := a.Store.Room(a.T.Context(), id)
	require.NoError(a.T, err)
	return state.Resolved
}

// heard is an answer as the page's script reads it.
type heard struct {
	Error  string
	Until  float64
	Wall   [][2]float64
	Tracks []struct {
		Load   string
		Points [][2]float64
		Words  [][2]any
	}
	Log []struct {
		At        float64
		What, Why string
		Own       bool
		Levels    [][2]any
	}
	States [][2]any
	Why    [][2]any
	Faults []string
}

func play(a *webtest.App, path string, body any) (int, heard) {
	a.T.Helper()
	raw, err := json.Marshal(body)
	require.NoError(a.T, err)
	return playText(a, path, string(raw))
}

func playText(a *webtest.App, path, body string) (int, heard) {
	a.T.Helper()
	w := a.Send(http.MethodPost, path+"/play", strings.NewReader(body), "application/json")
	var out heard
	require.NoError(a.T, json.Unmarshal(w.Body.Bytes(), &out), w.Body.String())
	return w.Code, out
}

// levelAt reads a track as the page's script does.
func (h *heard) levelAt(load string, at float64) float64 {
	for _, t := range h.Tracks {
		if t.Load != load {
			continue
		}
		for i := len(t.Points) - 1; i >= 0; i-- {
			p := t.Points[i]
			if p[0] > at {
				continue
			}
			if i+1 == len(t.Points) || t.Points[i+1][0] == p[0] {
				return p[1]
			}
			next := t.Points[i+1]
			return p[1] + (next[1]-p[1])*(at-p[0])/(next[0]-p[0])
		}
	}
	return -1
}

type steps []map[string]any

func press(at float64, button int) map[string]any {
	return map[string]any{"at_s": at, "happen": "press", "device": "st", "button": button}
}

func sensed(at float64, what string) map[string]any {
	return map[string]any{"at_s": at, "happen": what, "device": "ps"}
}

func TestPage_showsInputsLoadsAndScenarios(t *testing.T) {
	a := newApp(t)
	for _, path := range []string{here, typical} {
		w := a.Get(path)
		require.Equal(t, 200, w.Code, w.Body.String())
		for _, part := range []string{"data-press", "Teach", `data-report="occupied"`, "data-lux", `data-load-row="l1"`, `data-load-row="r1"`, `role="switch"`, "No scenarios yet", "SC1 to L1, L2, L3, L4"} {
			assert.Contains(t, w.Body.String(), part, path)
		}
	}
	assert.Equal(t, 404, a.Get("/projects/p2/rooms/room101/rehearse").Code, "another project's room")
}

// The classroom's own numbers: scene 2 takes L2 to 60 % in 2 s; delay 20 min,
// warning at half for 1 min (domaintest.Classroom, domain.NewIntent).
func TestPlay_tellsLevelsAsTheDesignSays(t *testing.T) {
	a := newApp(t)
	code, h := play(a, here, map[string]any{"day": "Wed", "start": "10:00", "now_s": 700, "why": "l2",
		"steps": steps{sensed(0, "occupied"), press(10, 2), sensed(600, "vacant")}})
	require.Equal(t, 200, code, h.Error)
	assert.Empty(t, h.Faults)
	assert.GreaterOrEqual(t, h.Until, 700+24*3600.0, "a day beyond the moment")
	assert.InDelta(t, 0, h.levelAt("l2", 9.9), 0.01)
	assert.InDelta(t, 30, h.levelAt("l2", 11), 0.5, "halfway through the fade")
	assert.InDelta(t, 60, h.levelAt("l2", 12), 0.01)
	assert.InDelta(t, 60, h.levelAt("l2", 1799), 0.01)
	assert.InDelta(t, 30, h.levelAt("l2", 1801), 0.01, "the warning")
	assert.InDelta(t, 0, h.levelAt("l2", 1900), 0.01, "off")
	assert.InDelta(t, 100, h.levelAt("r1", 11), 0.01, "receptacles follow people")

	var own, byItself []string
	for _, e := range h.Log {
		if e.Own {
			own = append(own, e.What)
		} else {
			byItself = append(byItself, e.What)
		}
	}
	assert.Equal(t, []string{"PS-1 reports occupied", "ST-1 button 2 Present is pressed", "PS-1 reports vacant"}, own)
	require.NotEmpty(t, byItself)
	assert.Contains(t, h.Log[1].Why, "By hand")
	assert.Contains(t, fmt.Sprint(h.Why), "ST-1 button 2 Present is pressed")
	assert.Contains(t, fmt.Sprint(h.Why), "So its output is 60 %")
	assert.Contains(t, fmt.Sprint(h.States), "occupied")
	for _, track := range h.Tracks {
		if track.Load == "l2" {
			assert.Contains(t, fmt.Sprint(track.Words), "warning")
		}
	}
}

// Clocks go forward in New York on 2026-03-08 at 02:00 and read 03:00 (Energy
// Policy Act of 2005, second Sunday in March; zone data of the Go library).
func TestPlay_tellsWhereTheWallClockJumps(t *testing.T) {
	a := newApp(t)
	_, h := play(a, here, map[string]any{"day": "2026-03-08", "start": "01:59", "now_s": 0, "steps": steps{}})
	require.Len(t, h.Wall, 2)
	assert.InDelta(t, 60, h.Wall[1][0], 0.001)
	assert.InDelta(t, (61*60)*1000, h.Wall[1][1]-h.Wall[0][1], 0.5, "01:59 to 03:00")
}

func TestPlay_answersHostileStepsWithASentence(t *testing.T) {
	a := newApp(t)
	many := make(steps, mostSteps+1)
	for i := range many {
		many[i] = press(float64(i), 1)
	}
	bodies := map[string]any{
		"at most 400":       map[string]any{"steps": many},
		"no longer in this": map[string]any{"steps": steps{{"happen": "press", "device": "gone", "button": 1}}},
		"no button or":      map[string]any{"steps": steps{press(0, 99)}},
		"does not do":       map[string]any{"steps": steps{{"happen": "occupied", "device": "st"}}},
		"nothing called":    map[string]any{"steps": steps{{"happen": "explode"}}},
		"before the step":   map[string]any{"steps": steps{press(5, 1), press(4, 1)}},
		"beyond 7 days":     map[string]any{"steps": steps{press(1e9, 1)}},
		"7 days":            map[string]any{"now_s": 1e12},
		"from 0 to":         map[string]any{"steps": steps{{"happen": "daylight", "device": "ds", "lx": -4}}},
		"is no mode":        map[string]any{"steps": steps{{"happen": "mode", "text": "party"}}},
		"is no day":         map[string]any{"day": "Blursday"},
		"is no time of day": map[string]any{"start": "25:61"},
	}
	for want, body := range bodies {
		code, h := play(a, here, body)
		assert.Equal(t, http.StatusUnprocessableEntity, code, want)
		assert.Contains(t, h.Error, want)
	}
	for _, text := range []string{"", "{", "[]", `{"steps": 4}`, `{"now_s": 1e400}`, `{"steps":[{"at_s":"x"}]}`} {
		code, h := playText(a, here, text)
		assert.Equal(t, http.StatusUnprocessableEntity, code, text)
		assert.Contains(t, h.Error, "could not be read", text)
	}
	code, h := playText(a, here, `{"day":"`+strings.Repeat("x", mostBytes)+`"}`)
	assert.Equal(t, http.StatusUnprocessableEntity, code)
	assert.Contains(t, h.Error, "too long")
	code, _ = play(a, "/projects/p1/rooms/none/rehearse", map[string]any{})
	assert.Equal(t, 404, code)
}

// Whatever is sent, the answer is sound: levels within 0 and 100, times in
// order, nothing beyond its end.
func TestPlay_anyStepsGiveASoundAnswer(t *testing.T) {
	b := domaintest.Classroom()
	on := &bench{project: b.P, design: &b.R.Design, room: b.R}
	devices := map[domain.Happening]domain.ID{domain.Pressed: "st", domain.HoldStarted: "st", domain.HoldEnded: "st", domain.Occupied: "ps", domain.Vacant: "ps", domain.SensorSilent: "ps", domain.DaylightRead: "ds"}
	happenings := domain.Happenings()[1:]
	rapid.Check(t, func(t *rapid.T) {
		x := &rehearsal{Why: "l1"}
		at := units.Seconds(0)
		for range rapid.IntRange(0, 12).Draw(t, "steps") {
			at += units.Seconds(rapid.IntRange(0, 2000).Draw(t, "later"))
			st := domain.ScenarioStep{At: at, Happen: rapid.SampledFrom(happenings).Draw(t, "happen"), Button: rapid.IntRange(1, 4).Draw(t, "button"), Lux: units.Lux(rapid.IntRange(0, 900).Draw(t, "lx"))}
			st.Device = devices[st.Happen]
			if st.Happen == domain.ModeChanged {
				st.Text = string(rapid.SampledFrom(domain.Modes()).Draw(t, "mode"))
			}
			x.Steps = append(x.Steps, st)
		}
		x.Now = at
		if x.check(on) != nil {
			t.Skip("a contact, which the classroom does not have")
		}
		out := on.play(x)
		for _, track := range out.Tracks {
			last := 0.0
			for _, p := range track.Points {
				if p[0] < last || p[0] > out.Until || p[1] < 0 || p[1] > 100 {
					t.Fatalf("%s: point %v after %v", track.Load, p, last)
				}
				last = p[0]
			}
			if last != out.Until {
				t.Fatalf("%s ends at %v, not %v", track.Load, last, out.Until)
			}
		}
		last := 0.0
		for _, e := range out.Log {
			if e.At < last || e.What == "" {
				t.Fatalf("line %+v after %v", e, last)
			}
			last = e.At
		}
	})
}

// A level that bends at t=2 and 3.5 is drawn within a twentieth of a point.
func TestBends_followStraightPieces(t *testing.T) {
	level := func(at float64) float64 {
		switch {
		case at < 2:
			return at * 40
		case at < 3.5:
			return 80
		}
		return 80 - min(60, (at-3.5)*10)
	}
	points := append([][2]float64{{0, 0}}, bends(level, 0, 1200)...)
	assert.Less(t, len(points), 120)
	h := heard{Tracks: []struct {
		Load   string
		Points [][2]float64
		Words  [][2]any
	}{{Load: "x", Points: points}}}
	for at := 0.0; at < 20; at += 0.037 {
		assert.InDelta(t, level(at), h.levelAt("x", at), 0.5, "at %v", at)
	}
}

func runJSON(t *testing.T, body map[string]any) string {
	t.Helper()
	raw, err := json.Marshal(body)
	require.NoError(t, err)
	return string(raw)
}

func TestSave_keepsTheStepsAndExpectsWhatIs(t *testing.T) {
	a := newApp(t)
	run := runJSON(t, map[string]any{"day": "tue", "start": "8:30", "now_s": 60, "steps": steps{press(1, 2), press(500, 4)}})
	w := a.Post(here+"/save", "run", run, "name", "Present is on")
	require.Equal(t, 200, w.Code, w.Body.String())
	assert.Contains(t, w.Body.String(), "passes")
	list := roomNow(a, "room101").Design.Scenarios
	require.Len(t, list, 1)
	sc := list[0]
	assert.Equal(t, []string{"Present is on", "Tue", "08:30"}, []string{sc.Name, sc.Day, sc.Start})
	require.Len(t, sc.Steps, 1+5, "what came after the moment is left out")
	assert.Equal(t, domain.Pressed, sc.Steps[0].Happen)
	expected := map[domain.ID]units.Level{}
	for _, st := range sc.Steps[1:] {
		assert.Equal(t, domain.Expect, st.Happen)
		assert.InDelta(t, 60, float64(st.At), 0.001)
		expected[st.Load] = st.Level
	}
	assert.Equal(t, map[domain.ID]units.Level{"l1": 0, "l2": 60, "l3": 100, "l4": 0, "r1": 0}, expected)

	w = a.Post(here + "/undo")
	require.Equal(t, 200, w.Code)
	assert.Empty(t, roomNow(a, "room101").Design.Scenarios, "one step")

	w = a.Post(here+"/save", "run", "nonsense", "name", "x")
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Body.String(), "could not be read")
}

func TestScenarios_failWhereTheDesignBreaksThem(t *testing.T) {
	a := newApp(t)
	run := runJSON(t, map[string]any{"now_s": 60, "steps": steps{press(1, 2)}})
	require.Equal(t, 200, a.Post(here+"/save", "run", run, "name", "Present is on").Code)
	a.EditRoom("room101", "broke it", func(r *domain.Resolved) {
		d := r.Design.Clone()
		d.Scene("s2").LevelOf("l2").Level = 35
		r.Design = d
		require.NoError(t, r.Settle())
	})
	page := words(a.Get(here).Body.String())
	assert.Contains(t, page, "1 of 1 scenario not as expected")
	assert.Contains(t, page, "expected L2 at 60 %, got 35 %")
	assert.Contains(t, page, "It goes wrong at 09:01:00, step 3")
	assert.Contains(t, page, "ST-1 button 2 Present is pressed: L2 to 35 %, L3 to 100 %", "the timeline where it went wrong")
}

// words gives the text of a page.
func words(page string) string {
	return strings.Join(strings.Fields(html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, " "))), " ")
}

func TestScenarios_areEditedStepByStep(t *testing.T) {
	a := newApp(t)
	run := runJSON(t, map[string]any{"now_s": 60, "steps": steps{press(1, 2)}})
	require.Equal(t, 200, a.Post(here+"/save", "run", run, "name", "One").Code)
	sc := roomNow(a, "room101").Design.Scenarios[0]
	row := "scenarios/" + string(sc.ID)

	require.Equal(t, 200, a.Post(here+"/set", "path", row+"/name", "text", "Present").Code)
	w := a.Post(here+"/set", "path", row+"/steps/"+string(sc.Steps[0].ID)+"/at_s", "text", "soon")
	assert.Equal(t, 422, w.Code)
	assert.Contains(t, w.Header().Get("HX-Trigger"), "cell-refused")
	assert.Equal(t, 422, a.Post(here+"/set", "path", "loads/l1/name", "text", "x").Code, "only scenarios are edited here")

	require.Equal(t, 200, a.Post(here+"/add-step", "scenario", string(sc.ID), "happen", "press").Code)
	steps := roomNow(a, "room101").Design.Scenarios[0].Steps
	added := steps[len(steps)-1]
	assert.Equal(t, []any{domain.Pressed, domain.ID("st"), 1, units.Seconds(60)}, []any{added.Happen, added.Device, added.Button, added.At})
	require.Equal(t, 200, a.Post(here+"/remove", "row", row+"/steps/"+string(added.ID)).Code)
	assert.Len(t, roomNow(a, "room101").Design.Scenarios[0].Steps, len(steps)-1)

	require.Equal(t, 200, a.Post(here+"/duplicate", "row", row).Code)
	list := roomNow(a, "room101").Design.Scenarios
	require.Len(t, list, 2)
	assert.Equal(t, "Present (copy)", list[1].Name)
	assert.NotEqual(t, list[0].Steps[0].ID, list[1].Steps[0].ID)
	require.Equal(t, 200, a.Post(here+"/remove", "row", row).Code)
	assert.Len(t, roomNow(a, "room101").Design.Scenarios, 1)
	assert.Equal(t, 422, a.Post(here+"/remove", "row", "loads/l1").Code)
	assert.Equal(t, 422, a.Post(here+"/duplicate", "row", "scenarios/none").Code)
}

func TestSuggest_addsWhatIsTickedAsOneStep(t *testing.T) {
	a := newApp(t)
	w := a.Post(here + "/suggest")
	require.Equal(t, 200, w.Code)
	ids := regexp.MustCompile(`name="scenario" value="([^"]+)"`).FindAllStringSubmatch(w.Body.String(), -1)
	require.Greater(t, len(ids), 3)
	pairs := []string{}
	for _, id := range ids[:3] {
		pairs = append(pairs, "scenario", html.UnescapeString(id[1]))
	}
	w = a.Post(here+"/take", pairs...)
	require.Equal(t, 200, w.Code, w.Body.String())
	assert.Contains(t, words(w.Body.String()), "3 scenarios, all as expected")
	assert.Len(t, roomNow(a, "room101").Design.Scenarios, 3)
	again := a.Post(here + "/suggest").Body.String()
	assert.NotContains(t, again, `value="`+ids[0][1]+`"`, "what is there is not suggested again")
	require.Equal(t, 200, a.Post(here+"/undo").Code)
	assert.Empty(t, roomNow(a, "room101").Design.Scenarios)
	assert.Equal(t, 422, a.Post(here+"/take").Code)
}

// A typical's scenarios are run in each room that follows it.
func TestTypical_saysInWhichRoomsItsScenariosFail(t *testing.T) {
	a := newApp(t)
	run := runJSON(t, map[string]any{"now_s": 60, "steps": steps{press(1, 2)}})
	w := a.Post(typical+"/save", "run", run, "name", "Present is on")
	require.Equal(t, 200, w.Code, w.Body.String())
	assert.Contains(t, words(a.Get(typical).Body.String()), "1 scenario, all as expected")
	assert.Contains(t, words(a.Get("/projects/p1/rooms/room103/rehearse").Body.String()), "1 scenario, all as expected", "the room has it from its typical")
	a.EditRoom("room103", "an exception", func(r *domain.Resolved) {
		d := r.Design.Clone()
		d.Scene("s2").LevelOf("l2").Level = 35
		r.Design = d
		require.NoError(t, r.Settle())
	})
	page := words(a.Get(typical).Body.String())
	assert.Contains(t, page, "not as expected in 1 of 1 rooms")
	assert.Contains(t, page, "103 : step 3, expected L2 at 60 %, got 35 %")
}

func TestRehearsal_keepsNothingOnTheServer(t *testing.T) {
	a := newApp(t)
	before := roomNow(a, "room101")
	body := map[string]any{"now_s": 60, "steps": steps{press(1, 2)}}
	_, first := play(a, here, body)
	_, second := play(a, here, body)
	assert.Equal(t, first, second)
	assert.Same(t, before, roomNow(a, "room101"))
}

func BenchmarkPlay(b *testing.B) {
	room := domaintest.Classroom()
	on := &bench{project: room.P, design: &room.R.Design, room: room.R}
	x := &rehearsal{Steps: []domain.ScenarioStep{{At: 1, Happen: domain.Pressed, Device: "st", Button: 2}, {At: 600, Happen: domain.Vacant, Device: "ps"}}, Now: 700, Why: "l1"}
	for b.Loop() {
		on.play(x)
	}
}

func TestProve_saysHowMuchItLookedAtAndWhatItFound(t *testing.T) {
	a := newApp(t)
	sound := words(a.Post(here + "/prove").Body.String())
	assert.Regexp(t, `^[\d,]+ states and [\d,]+ ways between them were looked at\. These are all that there are\.`, sound)
	assert.Contains(t, words(a.Post(typical+"/prove").Body.String()), "ways between them")

	trap := domaintest.Classroom().Device("cn", "cn-2").Intent("lock", domain.ByContact).
		Set("intents/lock/device", "CN-1", "intents/lock/command", "closed", "intents/lock/do", "locks at the level", "intents/lock/level", "100")
	a.EditRoom("room101", "a lock without a release", func(r *domain.Resolved) {
		r.Design = trap.R.Design
		require.NoError(t, r.Settle())
	})
	broken := words(a.Post(here + "/prove").Body.String())
	assert.Contains(t, broken, "Nothing can put L2 off again after: the contact at CN-1, input 1, closes")
	assert.Contains(t, broken, "Play it")
	assert.Contains(t, broken, "The shortest story that shows it")
}

func TestThousands_areSetApart(t *testing.T) {
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1,000", 1234567: "1,234,567"} {
		assert.Equal(t, want, thousands(n))
	}
}
