package rehearse

import (
	"encoding/json"
	"fmt"
	"html"
	"regexp"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/web/webtest"
)

// dayApp has the classroom drawn at 40 N 105 W: a window of 6 m in its south wall and
// the window row L3 before it.
func dayApp(t *testing.T, change func(*domain.Scope)) *webtest.App {
	t.Helper()
	b := domaintest.Classroom().Set("intents/i3/target_lx", "400 lx")
	north, west := 40.0, -105.0
	b.P.Latitude, b.P.Longitude, b.P.Zone, b.P.Units = &north, &west, "America/Denver", "si"
	r := b.R.Room
	r.ID, r.Outline = "room101", geom.Rectangle(0, 0, 8, 5)
	r.Design = b.R.Design
	plan := domain.Plan{ID: "s1"}
	for i, a := range r.Outline.Outer {
		plan.Walls = append(plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", i)), Seq: i + 1, A: a, B: r.Outline.Outer[(i+1)%4], Kind: domain.FullWall, Thickness: 0.15})
	}
	plan.Walls[0].Openings = []domain.Opening{{ID: "o", Seq: 1, Kind: domain.Window, At: 1, Width: 6, Sill: 0.9, Head: 2.4}}
	for i := range 4 {
		r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("f", i)), Load: "l3", At: geom.Pt(1+2*float64(i), 2)})
	}
	at := geom.Pt(4, 1.8)
	r.Design.Device("ds").At = &at
	scope := &domain.Scope{Project: *b.P, Rooms: []domain.Room{*r}, Plans: []domain.Plan{plan}}
	scope.Typicals = []domain.Typical{{ID: "t1", Seq: 1, Name: "CR-1", Design: b.R.Design.Clone()}}
	if change != nil {
		change(scope)
	}
	return webtest.Open(t, func(a *webtest.App, r chi.Router) { Screen{Store: a.Store, Log: a.Log, Now: a.Now}.Routes(r) }, scope)
}

var dayStory = regexp.MustCompile(`data-play-steps="([^"]*)">Load this day`)

// At noon standard time on 2025-12-21 the sun is 26.6 degrees high (NREL's algorithm)
// and the overcast sky gives 300 + 21,000 sin a = 9,690 lx. What the page says is a
// story that plays: more daylight leaves less of L3.
func TestDay_isReckonedAndPlays(t *testing.T) {
	a := dayApp(t, nil)
	w := a.Get(here + "?day=2025-12-21&sky=overcast")
	require.Equal(t, 200, w.Code)
	body := w.Body.String()
	assert.Regexp(t, `(?s)<th scope="row">12:00</th>\s*<td>27° high, south</td>\s*<td class="num">9,?69[0-9] lx</td>`, body)
	assert.Contains(t, body, `value="2025-12-21"`)
	assert.Regexp(t, `DS-1</strong> <span>open loop: reads at its own point \(daylight factor [0-9.]+ % there\), carried to the task as calibration does, where it is [0-9.]+ % under L3`, body)

	found := dayStory.FindStringSubmatch(body)
	require.NotNil(t, found)
	var story played
	require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(found[1])), &story))
	assert.Equal(t, "2025-12-21", story.Given.Day)
	assert.Equal(t, "07:00", story.Given.Start)
	code, h := play(a, here, map[string]any{"day": story.Given.Day, "start": story.Given.Start, "steps": story.Steps, "now_s": 8 * 3600})
	require.Equal(t, 200, code, h.Error)
	assert.InDelta(t, 100, h.levelAt("l3", 600), 0.5, "dark at 07:10")
	noon := 5*3600 + 600.0
	assert.Less(t, h.levelAt("l3", noon), 90.0)
	said := false
	for _, e := range h.Log {
		said = said || regexp.MustCompile(`^DS-1 reads [0-9,]+ lx \(DF [0-9.]+ % x 9,?69[0-9] lx overcast\)$`).MatchString(e.What)
	}
	assert.True(t, said, "the story says where the reading comes from: %v", h.Log)
	assert.InDelta(t, 100, h.levelAt("l1", noon), 0.5, "no daylight sensor acts on it")
}

// A clear sky before a south window at noon gives more than its share of an overcast
// one, and says by how much.
func TestDay_clearSky(t *testing.T) {
	a := dayApp(t, nil)
	body := a.Get(here + "?day=2025-03-20&sky=clear").Body.String()
	found := dayStory.FindStringSubmatch(body)
	require.NotNil(t, found)
	assert.Regexp(t, `DF [0-9.]+ % x [0-9,]+ lx clear x [1-9]\.[0-9]{2} by facade`, html.UnescapeString(found[1]))
	assert.Contains(t, a.Get(here+"?day=nonsense&sky=green").Body.String(), `-03-20"`, "an overcast equinox for want of sense")
}

// The day is kept as a scenario like any other rehearsal.
func TestDay_isSavedAsAScenario(t *testing.T) {
	a := dayApp(t, nil)
	found := dayStory.FindStringSubmatch(a.Get(here + "?day=2025-06-21").Body.String())
	require.NotNil(t, found)
	var story played
	require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(found[1])), &story))
	run, err := json.Marshal(map[string]any{"day": story.Given.Day, "start": story.Given.Start, "steps": story.Steps, "now_s": 8 * 3600})
	require.NoError(t, err)
	w := a.Post(here+"/save", "run", string(run), "name", "Midsummer, overcast")
	require.Equal(t, 200, w.Code, w.Body.String())
	kept := roomNow(a, "room101").Design.Scenarios
	require.Len(t, kept, 1)
	assert.Contains(t, kept[0].Steps[len(story.Steps)/2].Text, "DF ")
}

// What is missing is said, with the way to mend it.
func TestDay_saysWhatIsMissing(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*domain.Scope)
		want   string
	}{
		"no windows":     {func(s *domain.Scope) { s.Plans[0].Walls[0].Openings = nil }, "The plan shows no windows of this room"},
		"no latitude":    {func(s *domain.Scope) { s.Project.Latitude = nil }, "The project states no latitude and longitude"},
		"nothing placed": {func(s *domain.Scope) { s.Rooms[0].Fixtures = nil; s.Rooms[0].Design.Device("ds").At = nil }, "The plan shows neither the daylight sensors nor"},
		"polar night":    {func(s *domain.Scope) { *s.Project.Latitude = 80 }, "The sun does not rise there on 2025-12-21"},
		"no sensor": {func(s *domain.Scope) {
			d := &s.Rooms[0].Design
			for i := range d.Devices {
				if d.Devices[i].ID == "ds" {
					d.Devices = append(d.Devices[:i:i], d.Devices[i+1:]...)
					break
				}
			}
		}, ""},
	} {
		body := dayApp(t, c.change).Get(here + "?day=2025-12-21").Body.String()
		assert.NotContains(t, body, "Load this day", name)
		if c.want == "" {
			assert.NotContains(t, body, "sec-day", name)
			continue
		}
		assert.Contains(t, body, c.want, name)
	}
	assert.Contains(t, dayApp(t, nil).Get(typical).Body.String(), "A typical has no windows of its own")
}
