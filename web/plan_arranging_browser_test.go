package web

import (
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/export"
	"scopewright/store"
	"scopewright/web/webtest"
)

const upstairs = "/projects/p1/storeys/s2/plan"

// arrangedScope is planScope with room 103 beside 101, sharing a side, and an
// empty storey above.
func arrangedScope() *domain.Scope {
	scope := planScope()
	scope.Rooms[2].Outline = geom.Rectangle(8, 0, 6, 7)
	scope.Project.Buildings[0].Storeys = append(scope.Project.Buildings[0].Storeys, domain.Storey{ID: "s2", Seq: 2, Name: "Level 2"})
	return scope
}

func openArranged(t *testing.T) (*browser, *app) {
	t.Helper()
	b, a := newBrowser(t), newApp(t, arrangedScope())
	b.do(chromedp.EmulateViewport(1440, 900))
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	return b, a
}

func (b *browser) focusStage() { evaluate[bool](b, `document.getElementById('stage').focus(), true`) }

// chord presses a key with others held, such as "ctrlKey: true".
func (b *browser) chord(key, held string) {
	b.t.Helper()
	evaluate[bool](b, fmt.Sprintf(`document.activeElement.dispatchEvent(new KeyboardEvent('keydown', {key: %q, %s, bubbles: true, cancelable: true})), true`, key, held))
}

// clipboardEvent does what the browser does for Ctrl+C, X and V: text is what
// the clipboard holds; it gives what it holds afterwards.
func (b *browser) clipboardEvent(kind, text string) string {
	b.t.Helper()
	return evaluate[string](b, fmt.Sprintf(`(() => {
		const data = new DataTransfer();
		data.setData('text/plain', %q);
		document.activeElement.dispatchEvent(new ClipboardEvent(%q, {clipboardData: data, bubbles: true, cancelable: true}));
		return data.getData('text/plain');
	})()`, text, kind))
}

func (b *browser) said(part string) {
	b.t.Helper()
	b.waitFor(fmt.Sprintf(`document.getElementById('plan-said').textContent.includes(%q)`, part))
}

func storeyRooms(t *testing.T, a *app, storey domain.ID) map[string]*domain.Resolved {
	t.Helper()
	rooms, err := a.store.StoreyRooms(t.Context(), "p1", storey)
	require.NoError(t, err)
	out := map[string]*domain.Resolved{}
	for _, r := range rooms {
		out[r.Resolved.Number] = r.Resolved
	}
	return out
}

func TestBrowser_planMergesRoomsAndUndoes(t *testing.T) {
	b, a := openArranged(t)
	b.clickPlan(1, 9)
	b.clickPlan(12, 5, "shiftKey: true")
	b.waitFor(`document.querySelector('#inspector .actions button')?.textContent.includes('Merge into 101')`)
	b.screenshot("plan-merge-before")
	b.do(chromedp.Click(chromedp.CSS("#inspector .actions button")))
	b.saved()
	rooms := storeyRooms(t, a, "s1")
	require.NotContains(t, rooms, "103")
	assert.InDelta(t, 122, rooms["101"].Outline.Area(), 0.01) // 8 by 10 m and 6 by 7 m
	assert.Len(t, rooms["101"].Design.Devices, 12)
	b.screenshot("plan-merged")
	b.do(chromedp.Click(chromedp.CSS("#undo")))
	b.waitFor(`document.querySelector('.toast')?.textContent.includes('Undid: merged 103 into room 101')`)
	rooms = storeyRooms(t, a, "s1")
	require.Contains(t, rooms, "103")
	assert.InDelta(t, 80, rooms["101"].Outline.Area(), 1e-9)
	assert.Equal(t, domain.ID("t1"), rooms["103"].TypicalID)
}

func TestBrowser_planCopiesARoomToAnotherStorey(t *testing.T) {
	b, a := openArranged(t)
	b.focusStage()
	b.clickPlan(1, 9)
	text := b.clipboardEvent("copy", "")
	assert.Equal(t, "Thing\tWhat\tRoom\tx (m)\ty (m)\n101 Room\troom\t101 Room\t4\t5", text)
	b.said("Copied 1 thing")
	b.open(a.url + upstairs)
	b.waitFor(planShown)
	b.focusStage()
	b.clipboardEvent("paste", "something else")
	b.said("nothing that was copied on a plan")
	b.clipboardEvent("paste", text)
	b.saved()
	rooms := storeyRooms(t, a, "s2")
	require.Contains(t, rooms, "101 copy")
	assert.Equal(t, geom.Rectangle(0, 0, 8, 10), rooms["101 copy"].Outline, "from the keyboard: the same place")
	assert.Len(t, rooms["101 copy"].Design.Devices, 6)
	assert.Contains(t, b.inspector(), "101 copy", "it is selected")
	b.screenshot("plan-pasted")
	b.chord("z", "ctrlKey: true")
	b.waitFor(`document.querySelector('.toast')?.textContent.includes('Undid')`)
	assert.Empty(t, storeyRooms(t, a, "s2"))
}

func TestBrowser_planCutsADeviceIntoAnotherRoom(t *testing.T) {
	b, a := openArranged(t)
	b.focusStage()
	b.clickPlan(2, 2)
	first := arrangedScope().Rooms[0].Design.Devices[0].ID
	text := b.clipboardEvent("cut", "")
	b.saved()
	assert.Nil(t, roomNow(t, a, "room101").Design.Device(first))
	b.mouse("hover", 11, 3)
	b.clipboardEvent("paste", text)
	b.saved()
	devices := storeyRooms(t, a, "s1")["103"].Design.Devices
	require.Len(t, devices, 7)
	placed := 0
	for _, d := range devices {
		if d.At != nil {
			placed++
			assert.InDelta(t, 11, d.At.X, 0.3, "at the pointer, on the grid")
			assert.InDelta(t, 3, d.At.Y, 0.3)
		}
	}
	assert.Equal(t, 1, placed)
}

func TestBrowser_planDragsACopyAndRepeatsIt(t *testing.T) {
	b, a := openArranged(t)
	b.focusStage()
	b.clickPlan(4, 6)
	b.drag(4, 6, 5, 6, "ctrlKey: true", "altKey: true")
	b.saved()
	require.Len(t, roomNow(t, a, "room101").Sitting, 2)
	b.waitFor(`document.getElementById('inspector').textContent.includes('Seat 2') || document.getElementById('inspector').textContent.includes('Seat 1')`)
	b.chord("d", "ctrlKey: true")
	b.saved()
	seats := roomNow(t, a, "room101").Sitting
	require.Len(t, seats, 3)
	xs := map[int]bool{}
	for _, s := range seats {
		xs[int(s.At.X*10+0.5)] = true
		assert.InDelta(t, 6, s.At.Y, 0.02)
	}
	assert.Len(t, xs, 3, "an even row: 4, 5 and 6 m: %v", seats)
	assert.True(t, xs[40], "the first stays")
}

func TestBrowser_planMovesASelectedRoomByDrag(t *testing.T) {
	b, a := openArranged(t)
	b.clickPlan(12, 5)
	b.drag(12, 5, 13, 4, "ctrlKey: true")
	b.saved()
	box := storeyRooms(t, a, "s1")["103"].Outline.Bounds()
	assert.InDelta(t, 9, box.Min.X, 0.03)
	assert.InDelta(t, -1, box.Min.Y, 0.03)
}

func TestBrowser_planAlignsAndDistributes(t *testing.T) {
	b := newBrowser(t)
	scope := arrangedScope()
	scope.Rooms[0].Sitting[0].At = geom.Pt(5, 6)
	a := newApp(t, scope)
	b.do(chromedp.EmulateViewport(1440, 900))
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	b.drag(1, 1, 7, 7)
	assert.Contains(t, b.inspector(), "3 things")
	b.screenshot("plan-align")
	b.press("#inspector", "Align top")
	b.saved()
	r := roomNow(t, a, "room101")
	assert.InDelta(t, 6, r.Design.Devices[0].At.Y, 1e-9)
	assert.InDelta(t, 6, r.Design.Devices[1].At.Y, 1e-9)
	b.press("#inspector", "Equal gaps across")
	b.saved()
	r = roomNow(t, a, "room101")
	assert.InDelta(t, 4, r.Sitting[0].At.X, 1e-9, "half way between 2 and 6 m")
	b.chord("z", "ctrlKey: true")
	b.waitFor(`document.querySelector('.toast')?.textContent.includes('distributed') || document.querySelector('.toast')?.textContent.includes('aligned')`)
}

func TestBrowser_planFillsARoomWithAGrid(t *testing.T) {
	b, a := openArranged(t)
	b.focusStage()
	b.clickPlan(1, 9)
	b.keys("g")
	b.waitFor(`document.getElementById('grid-dialog').open`)
	evaluate[bool](b, `(() => { for (const [id, n] of [['grid-columns', 2], ['grid-rows', 3]]) { const f = document.getElementById(id); f.value = n; f.dispatchEvent(new Event('input', {bubbles: true})); } return true; })()`)
	b.waitFor(`document.getElementById('grid-said').textContent.startsWith('6 places, 13 ft')`) // 4 m are 13 ft 1.48 in
	b.screenshot("plan-grid")
	b.do(chromedp.Click(chromedp.CSS("#grid-place")))
	b.saved()
	r := roomNow(t, a, "room101")
	require.Len(t, r.Fixtures, 6)
	assert.Equal(t, domain.ID("l1"), r.Fixtures[0].Load)
	assert.Contains(t, b.inspector(), "6 things", "they are selected")
	b.screenshot("plan-grid-placed")
}

func TestBrowser_planMovesCornersFromTheKeyboard(t *testing.T) {
	b, a := openArranged(t)
	b.focusStage()
	b.clickPlan(1, 9)
	b.keys("]")
	b.said("Corner 1 of 4")
	b.keys("]", "]")
	b.said("Corner 3 of 4")
	b.chord("ArrowUp", "shiftKey: true")
	b.saved()
	area := roomNow(t, a, "room101").Outline.Area()
	assert.Greater(t, area, 80.5)
	b.said("Corner") // it stays chosen
	b.waitFor(`document.querySelector('#upper .u-handle-on')`)
	b.screenshot("plan-corner")
	b.keys(kb.Insert)
	b.saved()
	require.Len(t, roomNow(t, a, "room101").Outline.Outer, 5)
	b.waitFor(`document.querySelector('#upper .u-handle-on')`)
	b.keys(kb.Delete)
	b.saved()
	require.Len(t, roomNow(t, a, "room101").Outline.Outer, 4)
	assert.InDelta(t, area, roomNow(t, a, "room101").Outline.Area(), 1e-6)

	b.do(chromedp.Click(chromedp.CSS("#corner-list summary")))
	evaluate[bool](b, `(() => { const field = document.getElementById('corner-2-y'); field.focus(); field.value = "32' 9.7\""; field.dispatchEvent(new Event('change', {bubbles: true})); return true; })()`)
	b.saved()
	assert.InDelta(t, 80, roomNow(t, a, "room101").Outline.Area(), 0.2) // 32 ft 9.7 in are 9.9998 m
	b.screenshot("plan-corner-table")
}

func TestBrowser_planMenuOffersWhatCanBeDone(t *testing.T) {
	b, a := openArranged(t)
	b.focusStage()
	b.clickPlan(2, 2)
	b.chord("F10", "shiftKey: true")
	b.waitFor(`document.querySelector('#plan-menu [role=menuitem]') === document.activeElement`)
	b.screenshot("plan-menu")
	items := evaluate[string](b, `document.getElementById('plan-menu').textContent`)
	for _, want := range []string{"Copy", "Cut", "Take off the plan", "Turn by 90 degrees"} {
		assert.Contains(t, items, want)
	}
	assert.NotContains(t, items, "Merge")
	b.keys(kb.Escape)
	b.waitFor(`!document.getElementById('plan-menu') && document.activeElement.id === 'stage'`)
	sx, sy := b.onScreen(4, 6)
	evaluate[bool](b, fmt.Sprintf(`document.getElementById('stage').dispatchEvent(new MouseEvent('contextmenu', {clientX: %g, clientY: %g, bubbles: true, cancelable: true})), true`, sx, sy))
	b.waitFor(`document.getElementById('inspector').textContent.includes('Seat 1')`)
	b.press("#plan-menu", "Take off the plan")
	b.saved()
	assert.Empty(t, roomNow(t, a, "room101").Sitting)

	b.focusStage()
	b.keys("?")
	b.waitFor(`document.getElementById('plan-keys').open`)
	assert.False(t, evaluate[bool](b, `document.getElementById('keys').open`))
	b.screenshot("plan-keys")
}

func TestBrowser_planSelectsSeveralFromTheKeyboard(t *testing.T) {
	b, _ := openArranged(t)
	b.focusStage()
	b.keys("n", "k", "n", "n")
	assert.Contains(t, b.inspector(), "3 things")
	b.keys(kb.Escape)
	b.keys("n")
	assert.NotContains(t, b.inspector(), "things")
	b.clickPlan(2, 2)
	first := b.inspector()
	b.clickPlan(2, 2, "altKey: true")
	assert.Contains(t, b.inspector(), "101 Room", "what lies under it")
	assert.NotEqual(t, first, b.inspector())
}

// What a switched server does.
const (
	up        = iota
	away      // breaks every connection before it reads the request
	lostReply // does the work, and breaks the connection instead of answering
)

// newSwitched is newApp behind a switch that tells how the server fares.
func newSwitched(t *testing.T, scope *domain.Scope) (*app, *atomic.Int32) {
	t.Helper()
	judge := NewJudge(fixedNow)
	s := webtest.OpenStore(t, store.Options{Summarize: judge.Summarize, Hash: export.RoomHash(fixedNow)}, scope)
	done, state := make(chan struct{}), new(atomic.Int32)
	server := httptest.NewUnstartedServer(nil)
	inner := Handler(Options{Store: s, Log: slog.New(slog.DiscardHandler), Now: fixedNow, Judge: judge}, server.Listener.Addr().String(), done)
	server.Config.Handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		now := state.Load()
		if r.Method == http.MethodGet || now == up {
			inner.ServeHTTP(w, r)
			return
		}
		if now == lostReply {
			inner.ServeHTTP(httptest.NewRecorder(), r)
		}
		panic(http.ErrAbortHandler)
	})
	server.Start()
	t.Cleanup(func() { close(done); server.Close() })
	return &app{t: t, url: server.URL, handler: inner, store: s, scope: scope}, state
}

func openSwitched(t *testing.T) (*browser, *app, *atomic.Int32) {
	t.Helper()
	b := newBrowser(t)
	a, state := newSwitched(t, arrangedScope())
	b.do(chromedp.EmulateViewport(1440, 900))
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	return b, a, state
}

// onlyLostConnections takes what the console says of requests without answer,
// and nothing else.
func (b *browser) onlyLostConnections() {
	b.t.Helper()
	for _, c := range b.takeComplaints() {
		assert.Contains(b.t, c, "Failed to fetch")
	}
}

func TestBrowser_planKeepsEditsWhileTheServerIsAway(t *testing.T) {
	b, a, state := openSwitched(t)
	first := arrangedScope().Rooms[0].Design.Devices[0].ID
	b.clickPlan(2, 2)
	state.Store(away)
	b.drag(2, 2, 3, 4, "ctrlKey: true")
	b.waitFor(`document.getElementById('status').textContent === 'Not saved: 1 edit kept here' && document.getElementById('plan-unsent').textContent.includes('Not saved: server not reachable, 1 edit kept here, trying again')`)
	b.focusStage()
	b.keys("c")
	b.clickPlan(10, 3, "ctrlKey: true")
	b.clickPlan(11, 3, "ctrlKey: true")
	b.clickPlan(12, 3, "ctrlKey: true")
	b.waitFor(`document.getElementById('plan-unsent').textContent.includes('4 edits kept here')`)
	b.chord("z", "ctrlKey: true")
	b.waitFor(`document.getElementById('plan-unsent').textContent.includes('3 edits kept here')`)
	b.screenshot("plan-away")
	assert.Equal(t, geom.Pt(2, 2), deviceAt(t, a, "room101", first))

	// A reload keeps them.
	assert.True(t, evaluate[bool](b, `!window.dispatchEvent(new Event('beforeunload', {cancelable: true}))`), "it asks before the page is left")
	evaluate[bool](b, `BeforeUnloadEvent.prototype.preventDefault = () => {}, true`)
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	b.waitFor(`document.getElementById('plan-unsent')?.textContent.includes('3 edits kept here')`)
	state.Store(up)
	b.do(chromedp.Click(chromedp.CSS("#plan-retry")))
	b.saved()
	b.waitFor(`!document.getElementById('plan-unsent')`)
	require.Eventually(t, func() bool { return len(storeyRooms(t, a, "s1")["103"].Sitting) == 2 }, patience, 20e6, "both, though the first changed what the second was made on")
	at := deviceAt(t, a, "room101", first)
	assert.InDelta(t, 3, at.X, 0.02)
	assert.InDelta(t, 4, at.Y, 0.02)
	b.onlyLostConnections()
	assert.Equal(t, "null", evaluate[string](b, `String(Object.keys(localStorage).find((key) => key.startsWith('unsent')) ?? null)`))
}

func TestBrowser_planDoesNotRepeatWhatOnlyLostItsAnswer(t *testing.T) {
	b, a, state := openSwitched(t)
	b.focusStage()
	b.keys("c")
	state.Store(lostReply)
	b.clickPlan(10, 3, "ctrlKey: true")
	b.waitFor(`document.getElementById('plan-unsent')?.textContent.includes('1 edit kept here')`)
	require.Len(t, storeyRooms(t, a, "s1")["103"].Sitting, 1, "stored, but the page does not know")
	state.Store(up)
	b.do(chromedp.Click(chromedp.CSS("#plan-retry")))
	b.saved()
	assert.Len(t, storeyRooms(t, a, "s1")["103"].Sitting, 1)
	b.onlyLostConnections()
}

func TestBrowser_planDropsAKeptEditThatOthersOvertook(t *testing.T) {
	b, a, state := openSwitched(t)
	first := arrangedScope().Rooms[0].Design.Devices[0].ID
	b.clickPlan(2, 2)
	state.Store(away)
	b.drag(2, 2, 3, 4, "ctrlKey: true")
	b.waitFor(`document.getElementById('plan-unsent')`)
	_, err := a.store.Edit(t.Context(), store.Request{ProjectID: "p1", Who: "B. Other"}, func(tx *store.Tx) (string, error) {
		r, err := tx.Room("room101")
		if err != nil {
			return "", err
		}
		at := geom.Pt(7, 7)
		r.Design.Devices[0].At = &at
		return "moved it elsewhere", tx.PutRoom(r)
	})
	require.NoError(t, err)
	state.Store(up)
	b.do(chromedp.Click(chromedp.CSS("#plan-retry")))
	b.waitFor(`document.querySelector('#notice .banner.error')?.textContent.includes('Not saved')`)
	b.waitFor(`!document.getElementById('plan-unsent')`)
	assert.Equal(t, geom.Pt(7, 7), deviceAt(t, a, "room101", first), "the other person's place stays")
	b.onlyLostConnections()
}

func TestBrowser_planTakesADeviceDraggedFromTheList(t *testing.T) {
	b, a := openArranged(t)
	sx, sy := b.onScreen(3, 7)
	thing := evaluate[string](b, fmt.Sprintf(`(() => {
		const button = document.querySelector('[data-place^="device/room101/"]');
		button.closest('details').open = true;
		const box = button.getBoundingClientRect();
		const send = (kind, target, x, y) => target.dispatchEvent(new PointerEvent(kind, {bubbles: true, cancelable: true, pointerId: 7, pointerType: 'mouse', button: 0, clientX: x, clientY: y, ctrlKey: true}));
		send('pointerdown', button, box.left + 5, box.top + 5);
		send('pointermove', document.body, box.left - 40, box.top);
		const stage = document.getElementById('stage');
		send('pointermove', stage, %g, %g);
		send('pointerup', stage, %g, %g);
		return button.dataset.place;
	})()`, sx, sy, sx, sy))
	b.saved()
	at := deviceAt(t, a, "room101", domain.ID(thing[len("device/room101/"):]))
	assert.InDelta(t, 3, at.X, 0.02)
	assert.InDelta(t, 7, at.Y, 0.02)
}

func TestBrowser_planOpensItsMenuUnderARestingFinger(t *testing.T) {
	b, _ := openArranged(t)
	b.mouse("pointerdown", 2, 2, "pointerType: 'touch'")
	b.waitFor(`document.getElementById('plan-menu')?.textContent.includes('Take off the plan')`)
	b.mouse("pointerup", 2, 2, "pointerType: 'touch'")
	assert.Contains(t, b.inspector(), arrangedScope().Rooms[0].Design.Devices[0].Tag)
}

func TestBrowser_planShowsTheStoreyBelow(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, arrangedScope())
	b.open(a.url + upstairs)
	b.waitFor(planShown)
	b.do(chromedp.Click(chromedp.CSS("#plan-layers summary")), chromedp.Click(chromedp.CSS("#layer-below")))
	b.waitFor(`document.querySelectorAll('#upper .u-below').length === 2`)
	b.do(chromedp.Click(chromedp.CSS("#layer-below")))
	b.waitFor(`document.querySelectorAll('#upper .u-below').length === 0`)
}
