package web

import (
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/geom"
)

// overlayScope is one drawn room of 12 by 9 m with 32 devices, 16 of them
// routers, twelve seats, a door, a partition, and a metal closet with a sensor in
// it. The room beside it is empty.
func overlayScope() *domain.Scope {
	scope := smallScope()
	scope.Rooms = scope.Rooms[:2]
	r := &scope.Rooms[0]
	r.TypicalID, r.Outline, r.Use = "", geom.Rectangle(0, 0, 12, 9), "open office"
	scope.Rooms[1].Outline = geom.Rectangle(12.2, 0, 6, 9)
	r.Design.Devices = nil
	types := []string{"gw-room", "lc-2", "ps-ceiling", "rt-plug", "st-4-battery", "lc-2", "ps-corner", "rc-20"}
	for i := range 32 {
		at := geom.Pt(0.8+float64(i%8)*1.4, 1+float64(i/8)*2.2)
		d := domain.Device{ID: domain.ID(fmt.Sprintf("d%02d", i)), Seq: i + 1, Tag: fmt.Sprintf("D-%d", i+1), Type: types[i%8], At: &at}
		if i%8 == 0 && i > 0 {
			d.Type = "rt-plug"
		}
		r.Design.Devices = append(r.Design.Devices, d)
	}
	inCloset := geom.Pt(11.6, 8.6)
	r.Design.Devices[31].Type, r.Design.Devices[31].At = "ps-ceiling", &inCloset
	for i := range 12 {
		r.Sitting = append(r.Sitting, domain.Seat{ID: domain.ID(fmt.Sprintf("seat%d", i)), At: geom.Pt(1+float64(i%6)*1.9, 2+float64(i/6)*4)})
	}
	scope.Plans = append(scope.Plans, domain.Plan{ID: "s1", Walls: []domain.Wall{
		{ID: "south", Seq: 1, A: geom.Pt(0, 0), B: geom.Pt(12, 0), Kind: domain.FullWall, Thickness: 0.1, Material: domain.StudWall,
			Openings: []domain.Opening{{ID: "door", Seq: 1, Kind: domain.Door, At: 5, Width: 1, Head: 2.1}}},
		{ID: "east", Seq: 2, A: geom.Pt(12, 0), B: geom.Pt(12, 9), Kind: domain.FullWall, Thickness: 0.1, Material: domain.StudWall},
		{ID: "north", Seq: 3, A: geom.Pt(12, 9), B: geom.Pt(0, 9), Kind: domain.FullWall, Thickness: 0.1, Material: domain.StudWall},
		{ID: "west", Seq: 4, A: geom.Pt(0, 9), B: geom.Pt(0, 0), Kind: domain.FullWall, Thickness: 0.1, Material: domain.StudWall},
		{ID: "desks", Seq: 5, A: geom.Pt(3, 5), B: geom.Pt(8, 5), Kind: domain.Partition, Height: 1.5, Material: domain.ClearGlazing},
		{ID: "closet1", Seq: 6, A: geom.Pt(10.9, 9), B: geom.Pt(10.9, 8), Kind: domain.FullWall, Thickness: 0.05, Material: domain.MetalSheet},
		{ID: "closet2", Seq: 7, A: geom.Pt(10.9, 8), B: geom.Pt(12, 8), Kind: domain.FullWall, Thickness: 0.05, Material: domain.MetalSheet},
	}})
	return scope
}

func openOverlay(t *testing.T, scope *domain.Scope, path string, width, height int) (*browser, *app) {
	t.Helper()
	b, a := newBrowser(t), newApp(t, scope)
	b.do(chromedp.EmulateViewport(int64(width), int64(height)))
	b.open(a.url + path)
	b.waitFor(planShown)
	return b, a
}

const (
	cellsDrawn = `document.querySelector('#lower [data-layer="overlay-cells"] path')`
	listTold   = `document.getElementById('overlay-list').children.length > 0`

	wholeStoreyTold = `(of => of && !of.includes('room='))(document.getElementById('overlay-panel').dataset.of)`
)

func (b *browser) pressOnPlan(keys string) {
	b.t.Helper()
	evaluate[bool](b, `document.getElementById('stage').focus(), true`)
	b.do(chromedp.KeyEvent(keys))
}

// By keys alone: the overlay, the device in the metal closet, why its link is
// bad, another router instead, and the plan only again.
func TestBrowser_planOverlayByKeyboardSaysWhyALinkIsBad(t *testing.T) {
	b, a := openOverlay(t, overlayScope(), storeyPlan, 1440, 900)
	inWhy := func() string { return evaluate[string](b, `document.getElementById('overlay-why').textContent`) }
	pressed := func(show string) string {
		return evaluate[string](b, fmt.Sprintf(`document.querySelector('[data-show=%q]').getAttribute('aria-pressed')`, show))
	}
	b.clickPlan(11.6, 8.6)
	b.pressOnPlan("l")
	b.waitFor(cellsDrawn + " && " + listTold + ` && document.getElementById('why-title')`)
	assert.Equal(t, "true", pressed("margin"))
	assert.Contains(t, inWhy(), "too weak")
	assert.Contains(t, inWhy(), "through: metal")
	assert.True(t, evaluate[bool](b, `!!document.querySelector('#upper .u-crossed')`), "the wall is marked on the plan")
	assert.Contains(t, evaluate[string](b, `document.getElementById('plan-said').textContent`), "is needed", "read aloud")
	assert.Positive(t, evaluate[int](b, `document.querySelectorAll('#lower .o-area.o-bad').length`))

	// The first line of the list is the weakest link; in focus it is marked.
	evaluate[bool](b, `document.querySelector('#overlay-list button').focus(), true`)
	assert.True(t, evaluate[bool](b, `!!document.querySelector('#upper .u-link')`))
	evaluate[bool](b, `(s => { s.value = [...s.options].find((o) => o.textContent.startsWith('D-1,')).value; s.dispatchEvent(new Event('change', {bubbles: true})); return true; })(document.getElementById('why-b'))`)
	b.waitFor(`document.getElementById('why-title')?.textContent.includes('D-32 to D-1')`)

	// Out of the closet the answer brings good margins, the panel too.
	b.clickPlan(11.6, 8.6)
	b.drag(11.6, 8.6, 9.9, 6.5, "ctrlKey: true")
	b.saved()
	b.waitFor(`document.getElementById('why-title')?.textContent.includes('good')`)
	assert.InDelta(t, 6.5, deviceAt(t, a, "room101", "d31").Y, 0.1)
	b.pressOnPlan("l")
	assert.Equal(t, "true", pressed(""))
	assert.False(t, evaluate[bool](b, "!!("+cellsDrawn+")"), "the plan only")
	assert.True(t, evaluate[bool](b, `document.getElementById('overlay-panel').hidden && document.getElementById('overlay-legend').hidden`))
}

// An overlay follows what others do, and an undo.
func TestBrowser_planOverlayFollowsUndoAndOthers(t *testing.T) {
	b, _ := openOverlay(t, overlayScope(), storeyPlan, 1440, 900)
	b.clickPlan(3.6, 1)
	b.pressOnPlan("e")
	b.waitFor(cellsDrawn + " && " + listTold)
	share := func() string {
		return evaluate[string](b, `document.getElementById('overlay-list').firstElementChild.textContent`)
	}
	before := share()
	b.drag(3.6, 1, 9.2, 5.6, "ctrlKey: true")
	b.saved()
	assert.NotEqual(t, before, share(), "in the same answer")
	b.do(chromedp.Click(chromedp.CSS("#undo")))
	b.waitFor(`document.querySelector('.toast')?.textContent.includes('Undid')`)
	assert.Equal(t, before, share())
}

// Pictures of both overlays at each width and in both themes, to be looked at.
func TestLooks_planOverlays(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	b, a := openOverlay(t, overlayScope(), storeyPlan, 1440, 900)
	for _, width := range []int{1440, 1024, 390} {
		for _, theme := range []string{"light", "dark"} {
			b.do(chromedp.EmulateViewport(int64(width), 900))
			b.open(a.url + storeyPlan)
			b.waitFor(planShown)
			evaluate[bool](b, fmt.Sprintf("document.documentElement.dataset.theme = %q, true", theme))
			b.clickPlan(11.6, 8.6)
			for _, key := range []string{"l", "e"} {
				b.pressOnPlan(key)
				b.waitFor(cellsDrawn + " && " + listTold)
				assert.LessOrEqual(t, evaluate[int](b, "document.documentElement.scrollWidth"), width, "wider than its window")
				b.screenshot(fmt.Sprintf("overlay-%s-%d-%s", key, width, theme))
			}
		}
	}
}

func TestLooks_planOverlayOfAWholeStorey(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	scope := demo.Scope()
	b, _ := openOverlay(t, scope, "/projects/"+string(scope.Project.ID)+"/storeys/"+string(scope.Rooms[0].StoreyID)+"/plan", 1440, 900)
	for _, key := range []string{"l", "e"} {
		b.pressOnPlan(key)
		b.do(chromedp.Click(chromedp.CSS(`[data-scope="storey"]`)))
		b.waitFor(wholeStoreyTold)
		time.Sleep(300 * time.Millisecond) // until the drawing is sharp again
		b.screenshot("overlay-storey-" + key)
	}
}

// dragged drags a device to and fro and gives, for each drag, the time from the
// release to when the answer's findings and overlay were painted, and to when they
// were in the page, in milliseconds.
const dragged = `(async () => {
	const stage = document.getElementById('stage'), lower = document.getElementById('lower'), took = [], arrived = [];
	stage.setPointerCapture = () => {};
	const screen = (x, y) => {
		const svg = lower.querySelector('svg'), d = svg.dataset;
		return new DOMPoint((x - d.originX) * d.perMeter, (d.originY - y) * d.perMeter).matrixTransform(svg.getScreenCTM());
	};
	const send = (kind, x, y, buttons) => {
		const p = screen(x, y);
		stage.dispatchEvent(new PointerEvent(kind, {bubbles: true, cancelable: true, pointerId: 1, pointerType: 'mouse', button: 0, buttons, ctrlKey: kind !== 'pointerdown', clientX: p.x, clientY: p.y}));
	};
	const frame = () => new Promise(requestAnimationFrame);
	let [x, y] = [%g, %g];
	for (let i = 0; i < %d; i++) {
		const [nx, ny] = i %% 2 ? [x - 0.5, y - 0.4] : [x + 0.5, y + 0.4];
		send('pointerdown', x, y, 1);
		for (let k = 1; k <= 4; k++) {
			send('pointermove', x + (nx - x) * k / 4, y + (ny - y) * k / 4, 1);
			await frame();
		}
		await new Promise((done) => {
			const start = performance.now();
			const watch = new MutationObserver(() => {
				watch.disconnect();
				arrived.push(performance.now() - start);
				requestAnimationFrame(() => {
					const after = new MessageChannel();
					after.port1.onmessage = () => { took.push(performance.now() - start); done(); };
					after.port2.postMessage(0); // comes after the frame is painted
				});
			});
			for (const shown of ['#lower [data-layer="overlay-lines"]', '#lower [data-layer="overlay-cells"]', '#overlay-list']) watch.observe(document.querySelector(shown), {subtree: true, childList: true});
			send('pointerup', nx, ny, 0);
		});
		[x, y] = [nx, ny];
		await new Promise((done) => setTimeout(done, 250));
	}
	return [took.sort((a, b) => a - b), arrived.sort((a, b) => a - b)];
})()`

// measuring tells that numbers are wanted, for which things are done more often.
func measuring() bool { return os.Getenv("SCOPEWRIGHT_MEASURE") != "" }

func TestBrowser_planOverlayFollowsADrag(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	drags := 6
	if measuring() {
		drags = 40
	}
	b, a := openOverlay(t, overlayScope(), storeyPlan, 1440, 900)
	for _, c := range []struct {
		key, what string
		device    int
	}{{"l", "margins, a router moved", 19}, {"e", "sight, a sensor moved", 2}, {"l", "margins, a sensor moved", 2}} {
		at := *roomNow(t, a, "room101").Design.Devices[c.device].At
		b.clickPlan(at.X, at.Y)
		b.pressOnPlan(c.key)
		b.waitFor(cellsDrawn + " && " + listTold)
		took := evaluate[[][]float64](b, fmt.Sprintf(dragged, at.X, at.Y, drags))
		t.Logf("%s, from the release to the paint: median %.1f ms, 95 %% %.1f ms, longest %.1f ms; the answer was in the page after median %.1f ms, 95 %% %.1f ms",
			c.what, part(took[0], 0.5), part(took[0], 0.95), part(took[0], 1), part(took[1], 0.5), part(took[1], 0.95))
		assert.Len(t, took[0], drags)
		b.pressOnPlan(c.key)
	}
}

// The overlay of a whole storey of 300 rooms moves with the sheet as the plan
// alone does.
func TestBrowser_planOverlayOf300RoomsStaysSmooth(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	keys := []string{"l"}
	if measuring() {
		keys = []string{"", "l", "e"}
	}
	for _, key := range keys {
		t.Run("overlay "+key, func(t *testing.T) {
			b, _ := openOverlay(t, bigStorey(), storeyPlan, 1440, 900)
			if key != "" {
				b.pressOnPlan(key)
				evaluate[bool](b, `document.querySelector('[data-scope="storey"]').click(), true`)
				b.waitFor(wholeStoreyTold)
			}
			time.Sleep(500 * time.Millisecond) // until the drawing is sharp again
			for _, wheel := range [][2]string{{"pan", `{deltaY: n < 30 ? 12 : -12, shiftKey: true}`}, {"zoom", `{deltaY: n < 30 ? -18 : 18}`}} {
				var took []float64
				events := b.trace(func() { took = evaluate[[]float64](b, fmt.Sprintf(frames, wheel[1])) })
				t.Logf("%s, as the page sees it: median %.1f ms, 95 %% %.1f ms, longest %.1f ms", wheel[0], part(took, 0.5), part(took, 0.95), part(took, 1))
				report(t, wheel[0], events)
			}
		})
	}
}
