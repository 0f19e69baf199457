package plan

import (
	"encoding/json"
	"html"
	"math"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/webtest"
)

// overlayApp shows a room of 12 by 10 m: a router at (1,1), a presence sensor at
// (9,7), a wall station, and seats 2 m and 7 m from the sensor.
func overlayApp(t *testing.T, walls ...domain.Wall) *webtest.App {
	t.Helper()
	scope := webtest.School()
	scope.Project.Units = units.SI
	r := &scope.Rooms[0]
	r.TypicalID, r.Outline, r.Fixtures = "", geom.Rectangle(0, 0, 12, 10), nil
	router, sensor, station := geom.Pt(1, 1), geom.Pt(9, 7), geom.Pt(11.9, 1)
	r.Design = domain.Design{Devices: []domain.Device{
		{ID: "rt", Seq: 1, Tag: "RT-1", Type: "rt-plug", At: &router, Height: 2.7},
		{ID: "ps", Seq: 2, Tag: "PS-<1>", Type: "ps-ceiling", At: &sensor, Height: 2.7, Parent: "rt"},
		{ID: "st", Seq: 3, Tag: "ST-1", Type: "st-2-battery", At: &station, Height: 1.1},
	}}
	r.Sitting = []domain.Seat{{ID: "near", At: geom.Pt(9, 5)}, {ID: "far", At: geom.Pt(2, 7)}}
	scope.Plans = []domain.Plan{{ID: "s1", Walls: walls}}
	return webtest.Open(t, func(a *webtest.App, r chi.Router) {
		judge := func(p *domain.Project, r *domain.Resolved) []rule.Finding { return validate.Room(p, r, a.Time) }
		Screen{Store: a.Store, Log: a.Log, Now: a.Now, Judge: judge}.Routes(r)
	}, scope)
}

func askOverlay(a *webtest.App, query string) overlayNews {
	a.T.Helper()
	w := a.Get(here + "/overlay?" + query)
	require.Equal(a.T, http.StatusOK, w.Code, w.Body.String())
	var news overlayNews
	require.NoError(a.T, json.Unmarshal(w.Body.Bytes(), &news))
	return news
}

func allOf(t *testing.T, news overlayNews, section string) string {
	t.Helper()
	var text string
	require.NoError(t, json.Unmarshal(news.Sections[section].All, &text))
	return text
}

func TestOverlay_tellsTheMarginsOfARoom(t *testing.T) {
	a := overlayApp(t)
	news := askOverlay(a, "show=margin&room=r1")
	assert.Equal(t, "show=margin&room=r1", news.Of)
	lines, list := allOf(t, news, "svg:overlay-lines"), allOf(t, news, "html:overlay-list")
	assert.Contains(t, lines, `data-a="device/r1/ps" data-b="device/r1/rt"`)
	assert.NotContains(t, lines+list, "PS-<1>", "tags are text")
	assert.Contains(t, html.UnescapeString(list), "PS-<1> to RT-1")
	assert.Contains(t, list, "no parent is assigned", "of the wall station")
	assert.Contains(t, allOf(t, news, "svg:overlay-cells"), `class="o-area o-good"`)
	assert.NotContains(t, allOf(t, news, "svg:overlay-cells"), `class="o-area o-bad"`)
	// IDs of elements are told apart from those of the drawing.
	assert.Contains(t, lines, `id="over-lines-r1"`)
}

func TestOverlay_explainsALink(t *testing.T) {
	wall := domain.Wall{ID: "w1", Seq: 1, A: geom.Pt(0, 4), B: geom.Pt(12, 4), Kind: domain.FullWall, Material: domain.StudWall}
	for name, walls := range map[string][]domain.Wall{"free": nil, "through a wall": {wall}} {
		t.Run(name, func(t *testing.T) {
			a := overlayApp(t, walls...)
			w := a.Get(here + "/why?a=" + url.QueryEscape("device/r1/ps") + "&b=" + url.QueryEscape("device/r1/rt"))
			require.Equal(t, http.StatusOK, w.Code)
			body := html.UnescapeString(w.Body.String())
			// ITU-R P.525: 20 lg(4 pi d f / c) at 2450 MHz over 10 m (8 m across, 6 m up, one height) is 60.23 dB.
			assert.Contains(t, body, "60.2 dB")
			assert.Contains(t, body, "Free space over 10 m")
			assert.Contains(t, body, "P.1238")
			assert.Contains(t, body, domain.CautionPrediction.Text)
			assert.Equal(t, len(walls) > 0, strings.Contains(body, `data-wall="wall/w1"`))
			if len(walls) > 0 {
				assert.Contains(t, body, `data-look="5.000 4.000"`, "the line from (9,7) to (1,1) meets y = 4 at x = 5")
			}
		})
	}
}

func TestOverlay_explainsWhatADeviceTalksThrough(t *testing.T) {
	a := overlayApp(t)
	ask := func(query string) (int, string) {
		w := a.Get(here + "/why?" + query)
		return w.Code, html.UnescapeString(w.Body.String())
	}
	_, body := ask("a=device/r1/ps")
	assert.Contains(t, body, "PS-<1> to RT-1", "its parent")
	_, body = ask("a=device/r1/ps&b=device/r1/st")
	assert.Contains(t, body, "Neither of the two relays")
	_, body = ask("a=device/r1/ps&b=device/r2/x")
	assert.Contains(t, body, "within a room")
	code, _ := ask("a=device/r1/nobody")
	assert.Equal(t, http.StatusUnprocessableEntity, code)
	code, _ = ask("a=room/r1")
	assert.Equal(t, http.StatusUnprocessableEntity, code)
}

// The sensor's minor radius, 2.54 m (NEMA WD 7 figures of the built-in type),
// holds the seat at 2 m and not the one at 7 m.
func TestOverlay_marksSeatsSeenAndUnseen(t *testing.T) {
	a := overlayApp(t)
	news := askOverlay(a, "show=sight&motion=small&room=r1")
	lines, list := allOf(t, news, "svg:overlay-lines"), allOf(t, news, "html:overlay-list")
	assert.Equal(t, 1, strings.Count(lines, "o-mark o-seen"))
	assert.Equal(t, 1, strings.Count(lines, "o-mark o-unseen"))
	assert.Contains(t, list, "1 of 2 seats")
	assert.Contains(t, allOf(t, news, "svg:overlay-cells"), `class="o-area o-one"`)
	assert.Contains(t, allOf(t, news, "html:overlay-legend"), domain.CautionPrediction.Title)
}

func TestOverlay_refusesWhatItDoesNotKnow(t *testing.T) {
	a := overlayApp(t)
	assert.Equal(t, http.StatusUnprocessableEntity, a.Get(here+"/overlay?show=weather").Code)
	assert.Equal(t, http.StatusUnprocessableEntity, a.Get(here+"/overlay?%zz").Code)
	assert.Equal(t, http.StatusNotFound, a.Get("/projects/p1/storeys/nowhere/plan/overlay?show=margin").Code)
	assert.Empty(t, allOf(t, askOverlay(a, "show=margin&room=nobody"), "svg:overlay-lines"))
}

// An answer to an edit brings what is new of the overlay, and only that: put to
// what the page held, it makes what is fetched anew.
func TestOverlay_comesWithTheAnswer(t *testing.T) {
	for _, query := range []string{"show=margin&room=r1", "show=margin", "show=sight&motion=walk&room=r1"} {
		a := overlayApp(t)
		before := askOverlay(a, query)
		code, body := gesture(a, map[string]any{"do": "move", "things": []string{"device/r1/ps"}, "by": []float64{-4, 0}}, "HX-Request", "true", "X-Have", before.Now, overlayHeader, before.Now+" "+query)
		require.Equal(t, http.StatusOK, code, body)
		_, rest, found := strings.Cut(body, `<div id="news" hidden>`)
		require.True(t, found)
		text, _, _ := strings.Cut(rest, "</div>")
		var told news
		require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(text)), &told))
		require.NotNil(t, told.Overlay)
		assert.Equal(t, query, told.Overlay.Of)
		assert.Equal(t, before.Now, told.Overlay.From)
		after := askOverlay(a, query)
		assert.Equal(t, after.Now, told.Overlay.Now)
		lines := told.Overlay.Sections["svg:overlay-lines"]
		require.Len(t, lines.Put, 1, "the one room that changed")
		var markup string
		require.NoError(t, json.Unmarshal(lines.Put[0].Value, &markup))
		assert.Equal(t, "over-lines-r1", lines.Put[0].Key)
		assert.Contains(t, allOf(t, after, "svg:overlay-lines"), markup)
		assert.NotContains(t, told.Overlay.Sections, "html:overlay-legend")
	}
}

var rectangle = regexp.MustCompile(`M([-\d.]+) ([-\d.]+)H([-\d.]+)V([-\d.]+)H([-\d.]+)z`)

// Whatever the cells, the rectangles of a level cover each of its cells once and
// nothing else.
func TestCellPaths_coverEachCellOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		columns, rows := rapid.IntRange(1, 9).Draw(t, "columns"), rapid.IntRange(1, 9).Draw(t, "rows")
		levels := rapid.SliceOfN(rapid.IntRange(-1, 2), columns*rows, columns*rows).Draw(t, "levels")
		paths := cellPaths(geom.Pt(-3, 2), geom.Pt(99, 99), 0.5, columns, rows, 3, func(c, r int) int { return levels[r*columns+c] })
		got := make([]int, columns*rows)
		for i := range got {
			got[i] = -1
		}
		for level, path := range paths {
			require.Empty(t, rectangle.ReplaceAllString(path, ""))
			for _, m := range rectangle.FindAllStringSubmatch(path, -1) {
				at := func(i int, origin float64) int {
					v, err := strconv.ParseFloat(m[i], 64)
					require.NoError(t, err)
					return int(math.Round((v - origin) / 0.5))
				}
				for r := at(2, 2); r < at(4, 2); r++ {
					for c := at(1, -3); c < at(3, -3); c++ {
						require.Equal(t, -1, got[r*columns+c], "covered twice")
						got[r*columns+c] = level
					}
				}
			}
		}
		require.Equal(t, levels, got)
	})
}
