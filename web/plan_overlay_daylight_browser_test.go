package web

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/webtest"
)

// daylitScope is the room of overlayScope, 12 by 9 m, with three windows in its north
// wall, a rooflight, a shelf in the secondary zone, two rows of luminaires and a daylight sensor. Row L2 hangs in the
// secondary zone and says that it is the window row.
func daylitScope() *domain.Scope {
	scope := overlayScope()
	r, plan := &scope.Rooms[0], &scope.Plans[0]
	for i := range 3 {
		plan.Walls[2].Openings = append(plan.Walls[2].Openings, domain.Opening{ID: domain.ID(fmt.Sprintf("win%d", i)), Seq: i + 1, Kind: domain.Window, At: units.Metres(0.5 + 4*float64(i)), Width: 3, Sill: 0.9, Head: 2.4, Blocked: 15})
	}
	plan.Walls = append(plan.Walls, domain.Wall{ID: "shelf", Seq: 20, A: geom.Pt(0.6, 6.3), B: geom.Pt(2.6, 6.3), Kind: domain.Partition, Height: 1.8})
	plan.Rooflights = []domain.Rooflight{{ID: "sky", Seq: 1, At: geom.Pt(9.5, 2), Width: 1.2, Length: 1.2}}
	r.Windows = true
	r.Design.Loads = []domain.Load{
		{ID: "l1", Seq: 1, Tag: "L1", Name: "Window row", Kind: domain.Lighting, Count: 6, Watts: 240, Zone: domain.ZoneWindow},
		{ID: "l2", Seq: 2, Tag: "L2", Name: "Inner row", Kind: domain.Lighting, Count: 6, Watts: 240, Zone: domain.ZoneWindow},
	}
	for i := range 6 {
		x := 1 + 2*float64(i)
		r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprintf("f1%d", i)), Load: "l1", At: geom.Pt(x, 7.6)}, domain.Fixture{ID: domain.ID(fmt.Sprintf("f2%d", i)), Load: "l2", At: geom.Pt(x, 4.2)})
	}
	at := geom.Pt(6, 7.1)
	r.Design.Devices = append(r.Design.Devices, domain.Device{ID: "ds", Seq: 40, Tag: "DS-1", Type: "ds-open", Loop: domain.OpenLoop, At: &at, Turn: 90})
	r.Design.Links = append(r.Design.Links, domain.Link{ID: "dsl1", Device: "ds", Load: "l1", Do: domain.Action{Verb: domain.Acts}})
	return scope
}

func saidIn(b *browser, id string) string {
	b.t.Helper()
	return strings.Join(strings.Fields(evaluate[string](b, fmt.Sprintf(`document.getElementById(%q).textContent`, id))), " ")
}

// By keys alone: daylight zones, the load that says otherwise set right and undone,
// the factor at a cursor that the arrows move; and the address keeps it all.
func TestBrowser_planDaylightByKeyboard(t *testing.T) {
	b, a := openOverlay(t, daylitScope(), storeyPlan, 1440, 900)
	b.clickPlan(6, 3)
	b.pressOnPlan("y")
	b.waitFor(cellsDrawn + " && " + listTold)
	assert.Positive(t, evaluate[int](b, `document.querySelectorAll('#lower .o-area.o-primary').length`))
	assert.Equal(t, 12, evaluate[int](b, `document.querySelectorAll('#lower .o-lamp').length`))
	assert.Contains(t, evaluate[string](b, `document.getElementById('plan-said').textContent`), "Daylight zones")
	require.Contains(t, saidIn(b, "overlay-list"), `Set window zone of L2 to "second row"`)
	evaluate[bool](b, `document.querySelector('#overlay-list button[data-zone]').focus(), true`)
	b.do(chromedp.KeyEvent("\r"))
	b.waitFor(`!document.querySelector('#overlay-list button[data-zone]')`)
	b.saved()
	assert.Equal(t, domain.ZoneSecondary, roomNow(t, a, "room101").Design.Load("l2").Zone)
	b.do(chromedp.Click(chromedp.CSS("#undo")))
	b.waitFor(`document.querySelector('#overlay-list button[data-zone]')`)
	assert.Equal(t, domain.ZoneWindow, roomNow(t, a, "room101").Design.Load("l2").Zone)

	b.do(chromedp.Click(chromedp.CSS(`[data-view="factor"]`)))
	b.waitFor(`document.querySelector('#lower .o-area.o-much') && document.querySelector('#lower .o-number')`)
	b.pressOnPlan("q")
	b.waitFor(`document.querySelector('#overlay-point .why')`)
	first := saidIn(b, "overlay-point")
	assert.Contains(t, first, "Straight from the sky")
	b.do(chromedp.KeyEvent("\u0304")) // arrow up, towards the windows
	b.waitFor(fmt.Sprintf(`document.getElementById('overlay-point').textContent.trim().replace(/\s+/g, ' ') !== %q`, first))
	b.waitFor(`document.getElementById('plan-said').textContent.includes('Daylight factor')`)
	assert.NotNil(t, evaluate[any](b, `document.querySelector('#upper .u-point')`))
	b.do(chromedp.KeyEvent("\u001b"))
	assert.Empty(t, saidIn(b, "overlay-point"))

	// Reloaded, the page shows the same.
	assert.Contains(t, evaluate[string](b, `location.search`), "overlay=daylight&view=factor&room=room101")
	list := saidIn(b, "overlay-list")
	b.do(chromedp.Reload())
	b.waitFor(planShown)
	b.waitFor(cellsDrawn + " && " + listTold)
	assert.Equal(t, list, saidIn(b, "overlay-list"))
	assert.Equal(t, "true", evaluate[string](b, `document.querySelector('[data-view="factor"]').getAttribute('aria-pressed')`))
	b.pressOnPlan("y")
	assert.Empty(t, evaluate[string](b, `location.search`))
}

// The workbench of a room with windows leads to its daylight; that of one without does
// not.
func TestWorkbench_leadsToDaylightOnThePlan(t *testing.T) {
	a := newApp(t, daylitScope())
	const link = storeyPlan + "?overlay=daylight&amp;room=room101&amp;view=zones"
	assert.Contains(t, a.get("/projects/p1/rooms/room101").body, link)
	assert.NotContains(t, a.get("/projects/p1/rooms/room102").body, "overlay=daylight")
}

// Zone rules are chosen where the project names no code, and the address keeps them.
func TestBrowser_planDaylightByTheRulesChosen(t *testing.T) {
	b, _ := openOverlay(t, daylitScope(), storeyPlan+"?overlay=daylight&view=zones&room=room101", 1440, 900)
	b.waitFor(cellsDrawn + " && " + listTold)
	assert.Contains(t, saidIn(b, "overlay-list"), "Zones as ASHRAE 90.1, 2013 to 2022 draws them.")
	evaluate[bool](b, `(s => { s.value = 'iecc-2018'; s.dispatchEvent(new Event('change', {bubbles: true})); return true; })(document.getElementById('zone-code'))`)
	b.waitFor(`document.getElementById('overlay-list').textContent.includes('IECC 2018')`)
	assert.False(t, evaluate[bool](b, `!!document.querySelector('#lower .o-area.o-secondary')`))
	assert.Contains(t, evaluate[string](b, `location.search`), "code=iecc-2018")
}

// A window that is dragged along its wall draws the zones anew in the same answer.
func TestBrowser_planOverlayOfDaylightFollowsADrag(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	drags := 6
	if measuring() {
		drags = 40
	}
	b, _ := openOverlay(t, daylitScope(), storeyPlan, 1440, 900)
	for _, c := range []struct {
		view, what string
		at         geom.Point
	}{
		{"zones", "zones, a luminaire moved", geom.Pt(5, 4.2)}, {"factor", "factors, a luminaire moved", geom.Pt(3, 7.6)}, {"sensors", "sensors, a sensor moved", geom.Pt(6, 7.1)},
		{"zones", "zones, a partition moved", geom.Pt(1.7, 6.3)}, {"factor", "factors, a partition moved", geom.Pt(1.7, 6.3)},
	} {
		b.open(b.address() + "?overlay=daylight&room=room101&view=" + c.view)
		b.waitFor(planShown)
		b.waitFor(listTold)
		b.clickPlan(c.at.X, c.at.Y)
		took := evaluate[[][]float64](b, fmt.Sprintf(dragged, c.at.X, c.at.Y, drags))
		t.Logf("%s, from the release to the paint: median %.1f ms, 95 %% %.1f ms, longest %.1f ms; the answer was in the page after median %.1f ms, 95 %% %.1f ms",
			c.what, part(took[0], 0.5), part(took[0], 0.95), part(took[0], 1), part(took[1], 0.5), part(took[1], 0.95))
		assert.Len(t, took[0], drags)
	}
}

func (b *browser) address() string {
	return evaluate[string](b, `location.origin + location.pathname`)
}

// Pictures of daylight at each width and in both themes, to be looked at.
func TestLooks_planDaylight(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	b, a := openOverlay(t, daylitScope(), storeyPlan, 1440, 900)
	for _, width := range []int{1440, 1024, 390} {
		for _, theme := range []string{"light", "dark"} {
			for _, view := range []string{"zones", "factor", "sensors"} {
				b.do(chromedp.EmulateViewport(int64(width), 900))
				b.open(a.url + storeyPlan + "?overlay=daylight&room=room101&view=" + view)
				b.waitFor(planShown)
				evaluate[bool](b, fmt.Sprintf("document.documentElement.dataset.theme = %q, true", theme))
				b.waitFor(listTold)
				assert.LessOrEqual(t, evaluate[int](b, "document.documentElement.scrollWidth"), width, "wider than its window")
				if failures := evaluate[string](b, contrast); failures != "" {
					assert.Fail(t, failures, "%s at %d in %s", view, width, theme)
				}
				b.screenshot(fmt.Sprintf("daylight-%s-%d-%s", view, width, theme))
			}
		}
	}
}

func TestLooks_planDaylightOfAWholeStorey(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	scope := demo.Scope()
	path := "/projects/" + string(scope.Project.ID) + "/storeys/" + string(scope.Rooms[0].StoreyID) + "/plan?overlay=daylight&of=storey&view="
	b, a := openOverlay(t, scope, path+"zones", 1440, 900)
	for _, view := range []string{"zones", "factor", "sensors"} {
		b.open(a.url + path + view)
		b.waitFor(planShown)
		b.waitFor(wholeStoreyTold)
		b.screenshot("daylight-storey-" + view)
	}
}

// BenchmarkEditWithDaylight edits a room of 12 by 9 m with three windows over HTTP, as
// a page does that shows its daylight: the edit, its findings, and what is new of the
// overlay, in one answer.
func BenchmarkEditWithDaylight(b *testing.B) {
	for _, c := range []struct{ name, thing string }{{"luminaire", "fixture/room101/f20"}, {"window", "opening/north/win1"}, {"partition", "wall/shelf"}} {
		for _, view := range []string{"", "zones", "factor", "sensors"} {
			b.Run(c.name+" "+view, func(b *testing.B) {
				a := newApp(b, daylitScope())
				edit := movingWith(b, a, c.thing, view)
				for i := range 4 {
					edit(i)
				}
				i := 4
				for b.Loop() {
					edit(i)
					i++
				}
			})
		}
	}
}

// movingWith moves a thing to and fro as a page does that shows a view of daylight.
func movingWith(b *testing.B, a *app, thing, view string) func(i int) {
	have := haveName.FindStringSubmatch(a.get(storeyPlan).body)[1]
	return func(i int) {
		raw := fmt.Sprintf(`{"do":"move","things":[%q],"by":[%g,0]}`, thing, 0.1*float64(1-i%2*2))
		r, err := http.NewRequest(http.MethodPost, a.url+storeyPlan+"/gesture", strings.NewReader(webtest.Form("gesture", raw).Encode()))
		require.NoError(b, err)
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("HX-Request", "true")
		r.Header.Set("Origin", a.url)
		r.Header.Set("X-Have", have)
		if view != "" {
			r.Header.Set("X-Overlay", have+" show=daylight&room=room101&view="+view)
		}
		answer := a.do(r)
		require.Equal(b, 200, answer.status, answer.body)
		require.Equal(b, view != "", strings.Contains(answer.body, `"overlay":`))
		have = haveName.FindStringSubmatch(answer.body)[2]
	}
}

// BenchmarkWholeStoreyDaylight fetches the daylight of 300 rooms that have windows.
func BenchmarkWholeStoreyDaylight(b *testing.B) {
	scope := bigStorey()
	scope.Plans = []domain.Plan{{ID: "s1"}}
	for i := range scope.Rooms {
		box := scope.Rooms[i].Outline.Bounds()
		scope.Plans[0].Walls = append(scope.Plans[0].Walls, domain.Wall{ID: domain.ID(fmt.Sprintf("glass%d", i)), Seq: 10_000 + i, A: box.Min, B: geom.Pt(box.Max.X, box.Min.Y), Kind: domain.FullWall,
			Openings: []domain.Opening{{ID: domain.ID(fmt.Sprintf("pane%d", i)), Seq: 1, Kind: domain.Window, At: 0.5, Width: 1.5, Sill: 0.9, Head: 2.4}}})
	}
	for _, view := range []string{"zones", "factor"} {
		b.Run(view, func(b *testing.B) {
			a := newApp(b, scope)
			a.get(storeyPlan)
			first := a.get(storeyPlan + "/overlay?show=daylight&view=" + view)
			require.Equal(b, 200, first.status)
			for b.Loop() {
				a.get(storeyPlan + "/overlay?show=daylight&view=" + view)
			}
			b.ReportMetric(float64(len(first.body)), "answer-B")
		})
	}
}
