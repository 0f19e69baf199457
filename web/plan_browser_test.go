package web

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
)

const planShown = `document.querySelector('#lower > svg') && document.getElementById('plan-zoom')?.textContent.endsWith('%')`

const storeyPlan = "/projects/p1/storeys/s1/plan"

// planScope is smallScope with rooms 101 and 103 drawn side by side, 101 with
// its first two devices and a seat in their places; 102 has no outline.
func planScope() *domain.Scope {
	scope := smallScope()
	scope.Rooms[0].Outline = geom.Rectangle(0, 0, 8, 10)
	a, b := geom.Pt(2, 2), geom.Pt(6, 2)
	scope.Rooms[0].Design.Devices[0].At, scope.Rooms[0].Design.Devices[1].At = &a, &b
	scope.Rooms[0].Sitting = []domain.Seat{{ID: "seat1", At: geom.Pt(4, 6)}}
	scope.Rooms[2].Outline = geom.Rectangle(8.2, 0, 6, 7)
	return scope
}

// openPlan opens the plan of the first storey at a size of window.
func openPlan(t *testing.T, width, height int) (*browser, *app) {
	t.Helper()
	b, a := newBrowser(t), newApp(t, planScope())
	b.do(chromedp.EmulateViewport(int64(width), int64(height)))
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	return b, a
}

// onScreen gives where a place of the plan, in meters, lies in the window.
func (b *browser) onScreen(x, y float64) (float64, float64) {
	b.t.Helper()
	at := evaluate[[]float64](b, fmt.Sprintf(`(() => {
		const svg = document.querySelector('#lower > svg'), d = svg.dataset, box = svg.getBoundingClientRect(), by = d.perMeter * box.width / svg.viewBox.baseVal.width;
		return [box.left + (%g - d.originX) * by, box.top + (d.originY - %g) * by];
	})()`, x, y))
	return at[0], at[1]
}

// mouse sends one event of the mouse at a place of the plan.
func (b *browser) mouse(kind string, x, y float64, more ...string) {
	b.t.Helper()
	sx, sy := b.onScreen(x, y)
	extra := ""
	for _, m := range more {
		extra += ", " + m
	}
	buttons := map[string]int{"pointerdown": 1, "pointermove": 1, "pointerup": 0, "hover": 0}[kind]
	if kind == "hover" {
		kind = "pointermove"
	}
	evaluate[bool](b, fmt.Sprintf(`(() => {
		const stage = document.getElementById('stage');
		stage.setPointerCapture = () => {};
		stage.dispatchEvent(new PointerEvent(%q, {bubbles: true, cancelable: true, pointerId: 1, pointerType: 'mouse', button: 0, buttons: %d, clientX: %g, clientY: %g%s}));
		return true;
	})()`, kind, buttons, sx, sy, extra))
}

func (b *browser) clickPlan(x, y float64, more ...string) {
	b.mouse("pointerdown", x, y, more...)
	b.mouse("pointerup", x, y, more...)
}

func (b *browser) drag(x1, y1, x2, y2 float64, more ...string) {
	b.mouse("pointerdown", x1, y1, more...)
	b.mouse("pointermove", (x1+x2)/2, (y1+y2)/2, more...)
	b.mouse("pointermove", x2, y2, more...)
	b.mouse("pointerup", x2, y2, more...)
}

// saved waits until an edit was stored, and forgets that it was.
func (b *browser) saved() {
	b.t.Helper()
	b.waitFor(stored)
	evaluate[bool](b, `document.getElementById('status').textContent = '', true`)
}

func (b *browser) inspector() string {
	return evaluate[string](b, `document.getElementById('inspector').textContent`)
}

func deviceAt(t *testing.T, a *app, room string, device domain.ID) geom.Point {
	t.Helper()
	at := roomNow(t, a, room).Design.Device(device).At
	require.NotNil(t, at)
	return *at
}

func TestBrowser_planMovesADeviceByDragAndUndoes(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	first := planScope().Rooms[0].Design.Devices[0]
	b.screenshot("plan-before")
	b.clickPlan(2, 2)
	assert.Contains(t, b.inspector(), first.Tag)
	b.drag(2, 2, 3, 4, "ctrlKey: true")
	b.saved()
	at := deviceAt(t, a, "room101", first.ID)
	assert.InDelta(t, 3, at.X, 0.02)
	assert.InDelta(t, 4, at.Y, 0.02)
	b.do(chromedp.Click(chromedp.CSS("#undo")))
	b.waitFor(`document.querySelector('.toast')?.textContent.includes('Undid')`)
	assert.Equal(t, geom.Pt(2, 2), deviceAt(t, a, "room101", first.ID))
	b.screenshot("plan-1440")
}

func TestBrowser_planSelectsByRectangleAndNudgesInOneStep(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	devices := planScope().Rooms[0].Design.Devices
	b.drag(1, 1, 7, 3)
	assert.Contains(t, b.inspector(), "2 things")
	for range 3 {
		b.keys(kb.ArrowRight)
	}
	b.keys(kb.ArrowUp)
	b.saved()
	one, two := deviceAt(t, a, "room101", devices[0].ID), deviceAt(t, a, "room101", devices[1].ID)
	assert.Greater(t, one.X, 2.0)
	assert.InDelta(t, 4, two.X-one.X, 1e-3, "they keep their distance")
	assert.InDelta(t, (one.X-2)/3, one.Y-2, 1e-3)
	b.do(chromedp.Click(chromedp.CSS("#undo")))
	b.waitFor(`document.querySelector('.toast')?.textContent.includes('Undid')`)
	assert.Equal(t, geom.Pt(2, 2), deviceAt(t, a, "room101", devices[0].ID), "four arrows were one step")
	assert.Contains(t, b.inspector(), "2 things", "an undo leaves the selection")
}

func TestBrowser_planDrawsARoomWithTypedLengths(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	evaluate[bool](b, `document.getElementById('stage').focus(), true`)
	b.keys("p")
	b.clickPlan(0, 12, "ctrlKey: true")
	for _, side := range []struct{ length, way string }{{`20' 6"`, kb.ArrowRight}, {"3.81m", kb.ArrowUp}, {`20'6`, kb.ArrowLeft}} {
		for _, r := range side.length {
			b.keys(string(r))
		}
		b.keys(side.way)
	}
	b.keys(kb.Enter)
	b.waitFor(`document.getElementById('outline-dialog').open`)
	assert.Contains(t, evaluate[string](b, `document.getElementById('outline-room').selectedOptions[0].text`), "102")
	b.do(chromedp.Click(chromedp.CSS("#outline-form button.primary")))
	b.saved()
	shape := roomNow(t, a, "room102").Outline
	// 20 ft 6 in is 6.2484 m; times 3.81 m is 23.8064 m2.
	assert.InDelta(t, 23.8064, shape.Area(), 0.001)
	assert.Len(t, shape.Outer, 4)
}

func TestBrowser_planPlacesADeviceFromTheListByKeyboard(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	thing := evaluate[string](b, `(() => {
		const button = document.querySelector('[data-place^="device/room101/"]');
		button.closest('details').open = true;
		button.click();
		return button.dataset.place;
	})()`)
	b.keys(kb.ArrowLeft, kb.ArrowLeft, kb.Enter)
	b.saved()
	id := domain.ID(thing[len("device/room101/"):])
	at := deviceAt(t, a, "room101", id)
	assert.Less(t, at.X, 4.0, "to the left of the room's middle")
	assert.Contains(t, b.inspector(), roomNow(t, a, "room101").Design.Device(id).Tag, "it is selected")
	b.keys(kb.Delete)
	b.saved()
	assert.Nil(t, roomNow(t, a, "room101").Design.Device(id).At)
}

func TestBrowser_planTableSetsAPlace(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, planScope())
	b.open(a.url + storeyPlan + "?show=table")
	device := planScope().Rooms[0].Design.Devices[0].ID
	b.focus("device/room101/" + string(device) + "/x")
	b.keys("1", "0", "'", kb.Enter)
	b.waitFor(stored)
	assert.Equal(t, geom.Pt(3.048, 2), deviceAt(t, a, "room101", device))
	b.screenshot("plan-table")
}

func TestLooks_planFitsEveryWidth(t *testing.T) {
	b, a := newBrowser(t), newApp(t, planScope())
	for _, width := range []int{1440, 1024, 390} {
		for name, path := range map[string]string{"plan": storeyPlan, "plan-table": storeyPlan + "?show=table"} {
			b.do(chromedp.EmulateViewport(int64(width), 900))
			b.open(a.url + path)
			b.waitFor("document.readyState === 'complete'")
			b.screenshot(fmt.Sprintf("%s-%d", name, width))
			assert.LessOrEqual(t, evaluate[int](b, "document.documentElement.scrollWidth"), width, "%s at %d", name, width)
		}
	}
	b.do(chromedp.EmulateViewport(1440, 900))
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	evaluate[bool](b, "document.documentElement.dataset.theme = 'dark', true")
	b.clickPlan(1, 9)
	b.waitFor(`document.querySelectorAll('#upper .u-handle').length === 4`)
	b.screenshot("plan-dark")
}

func TestBrowser_planShowsWhatAnotherWindowChanged(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	first := planScope().Rooms[0].Design.Devices[0]
	b.clickPlan(2, 2)
	zoom := `((box) => [box.left, box.top, box.width].map(Math.round).join())(document.getElementById('lower').getBoundingClientRect())`
	b.do(chromedp.Click(chromedp.CSS("#plan-in")))
	before := evaluate[string](b, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(`+zoom+`))))`)
	require.NotEmpty(t, before)
	b.do(chromedp.Click(chromedp.CSS("#plan-layers summary")), chromedp.Click(chromedp.CSS("#layer-seats")))
	raw := fmt.Sprintf(`{"do":"place device","things":["device/room101/%s"],"at":[[5,5]]}`, first.ID)
	require.Equal(t, 200, a.post(storeyPlan+"/gesture", "", "gesture", raw).status)
	b.waitFor(`document.getElementById('inspector').textContent.includes('16 ft 4.75 in')`)
	assert.Equal(t, before, evaluate[string](b, zoom), "the view stays")
	assert.True(t, evaluate[bool](b, `document.querySelector('#lower [data-layer=seats]').hasAttribute('hidden')`), "a hidden layer stays hidden")
	assert.Contains(t, b.inspector(), "16 ft 4.75 in", "what is selected shows its new place")
}

func TestBrowser_planMovesACornerOfARoom(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	b.clickPlan(1, 9)
	b.waitFor(`document.querySelectorAll('#upper .u-handle').length === 4`)
	b.drag(8, 10, 8, 12, "ctrlKey: true")
	b.saved()
	assert.InDelta(t, 88, roomNow(t, a, "room101").Outline.Area(), 0.2) // 80 m2 and a triangle of 8 by 2 m
	evaluate[bool](b, `document.getElementById('stage').focus(), true`)
	b.keys(kb.Escape)
	assert.Contains(t, b.inspector(), "Nothing is selected")
}

func TestBrowser_planRefusesAnOutlineThatCrossesItself(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	b.clickPlan(1, 9)
	b.waitFor(`document.querySelectorAll('#upper .u-handle').length === 4`)
	b.drag(0, 0, 9, 5, "ctrlKey: true")
	b.waitFor(`document.querySelector('#notice .banner.error')`)
	assert.InDelta(t, 80, roomNow(t, a, "room101").Outline.Area(), 1e-9)
	b.waitFor(`!document.querySelector('#upper .u-outline')`)
}

func TestBrowser_planPlacesLuminairesInRows(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	evaluate[bool](b, `document.querySelector('[data-place-load="l1"][data-room="room101"]').click(), true`)
	b.keys(kb.ArrowDown, kb.Enter)
	b.saved()
	r := roomNow(t, a, "room101")
	require.Len(t, r.Fixtures, r.Design.Load("l1").Count)
	for _, f := range r.Fixtures {
		assert.True(t, r.Outline.Contains(f.At))
	}
	b.screenshot("plan-rows")
}

func TestBrowser_planDrawsWallsWithADoorAndAWindow(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	evaluate[bool](b, `document.getElementById('stage').focus(), true`)
	b.keys("w")
	b.clickPlan(0, 12, "ctrlKey: true")
	b.keys("6", "m", kb.ArrowRight, "4", "m", kb.ArrowUp, kb.Enter)
	b.saved()
	plan, _, err := a.store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	require.Len(t, plan.Walls, 2)
	assert.InDelta(t, 6, plan.Walls[0].A.Distance(plan.Walls[0].B), 1e-3)
	assert.InDelta(t, 4, plan.Walls[1].A.Distance(plan.Walls[1].B), 1e-3)

	b.keys("d")
	b.clickPlan(2, 12.05, "ctrlKey: true")
	b.saved()
	b.keys("o", "2", "m", kb.Enter)
	b.clickPlan(6.05, 14, "ctrlKey: true")
	b.saved()
	plan, _, err = a.store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	require.Len(t, plan.Walls[0].Openings, 1)
	require.Len(t, plan.Walls[1].Openings, 1)
	assert.Equal(t, domain.Door, plan.Walls[0].Openings[0].Kind)
	assert.InDelta(t, 2, float64(plan.Walls[1].Openings[0].Width), 1e-9, "the typed width")
	b.keys(kb.Escape)
	b.clickPlan(6, 14)
	assert.Contains(t, b.inspector(), "window")
	b.screenshot("plan-walls")
	b.keys(kb.Delete)
	b.saved()
	plan, _, err = a.store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Empty(t, plan.Walls[1].Openings)
	for range 4 {
		b.do(chromedp.Click(chromedp.CSS("#undo")))
		b.saved()
	}
	plan, _, err = a.store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Empty(t, plan.Walls)
}

func TestBrowser_planPlacesSeatsInTheRoomUnderThem(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	evaluate[bool](b, `document.getElementById('stage').focus(), true`)
	b.keys("c")
	b.clickPlan(10, 3, "ctrlKey: true")
	b.saved()
	require.Len(t, roomNow(t, a, "room103").Sitting, 1)
	b.clickPlan(20, 9, "ctrlKey: true")
	b.waitFor(`document.getElementById('plan-said').textContent.includes('here is none')`)
	assert.Len(t, roomNow(t, a, "room103").Sitting, 1)
}

func TestBrowser_planMakesARoomOfWallsAndCopiesThem(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	evaluate[bool](b, `document.getElementById('stage').focus(), true`)
	b.keys("w")
	b.clickPlan(9, 8, "ctrlKey: true")
	b.keys("4", kb.ArrowRight, "2", "m", kb.ArrowUp, "4", kb.ArrowLeft, "2", "m", kb.ArrowDown)
	b.saved() // back at the first corner, the chain ends by itself
	b.keys("i")
	b.clickPlan(9.5, 9)
	b.waitFor(`document.getElementById('outline-dialog').open`)
	evaluate[bool](b, `document.getElementById('outline-room').value = '', document.getElementById('outline-number').value = '109', true`)
	b.do(chromedp.Click(chromedp.CSS("#outline-form button.primary")))
	b.saved()
	rooms, err := a.store.StoreyRooms(t.Context(), "p1", "s1")
	require.NoError(t, err)
	require.Len(t, rooms, 4)
	assert.InDelta(t, 4*0.3048*2, rooms[3].Resolved.Outline.Area(), 0.001) // a bare 4 is feet in a US project

	b.clickPlan(2, 2)
	evaluate[bool](b, `document.getElementById('stage').dispatchEvent(new KeyboardEvent('keydown', {key: 'd', ctrlKey: true, bubbles: true, cancelable: true})), true`)
	b.saved()
	d := roomNow(t, a, "room101").Design
	require.Len(t, d.Devices, len(planScope().Rooms[0].Design.Devices)+1)
	b.waitFor(`document.getElementById('inspector').textContent.includes('LC-2')`)
	b.screenshot("plan-copy")
}

func TestBrowser_planSplitsARoom(t *testing.T) {
	b, a := openPlan(t, 1440, 900)
	evaluate[bool](b, `document.getElementById('stage').focus(), true`)
	b.keys("x")
	b.clickPlan(0, 7)
	b.mouse("hover", 8, 7)
	b.clickPlan(8, 7)
	b.waitFor(`document.getElementById('outline-dialog').open`)
	evaluate[bool](b, `document.getElementById('outline-number').value = '101A', true`)
	b.do(chromedp.Click(chromedp.CSS("#outline-form button.primary")))
	b.saved()
	assert.InDelta(t, 56, roomNow(t, a, "room101").Outline.Area(), 0.3)
	rooms, err := a.store.StoreyRooms(t.Context(), "p1", "s1")
	require.NoError(t, err)
	require.Len(t, rooms, 4)
	b.screenshot("plan-split")
}
