package web

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// bigStorey has 300 rooms of 6 by 7 m in rows, with ten devices each at their
// places.
func bigStorey() *domain.Scope {
	scope := smallScope()
	design := scope.Rooms[0].Design
	for i := 0; len(design.Devices) < 10; i++ {
		d := design.Devices[3]
		d.ID, d.Seq, d.Tag = domain.ID(fmt.Sprintf("more%d", i)), 10+i, fmt.Sprintf("PS-%d", i+2)
		design.Devices = append(design.Devices, d)
	}
	scope.Rooms = nil
	for n := range 300 {
		x, y := float64(n%20)*6.2, float64(n/20)*7.2
		room := domain.Room{ID: domain.ID(fmt.Sprintf("big%d", n)), StoreyID: "s1", Number: fmt.Sprint(1000 + n), Name: "Classroom", Area: 42, Outline: geom.Rectangle(x, y, 6, 7), Design: design.Clone()}
		for i := range room.Design.Devices {
			at := geom.Pt(x+1+float64(i%3)*2, y+1+float64(i/3)*1.5)
			room.Design.Devices[i].At = &at
		}
		scope.Rooms = append(scope.Rooms, room)
	}
	return scope
}

// frames turns or pushes the wheel on the stage once a frame, and gives how long
// the frames took, in milliseconds, in order of length.
const frames = `new Promise((done) => {
	const stage = document.getElementById('stage'), box = stage.getBoundingClientRect(), took = [];
	let last = performance.now(), n = 0;
	const next = (now) => {
		took.push(now - last); last = now;
		if (++n > 60) return done(took.slice(5).sort((a, b) => a - b));
		const more = %s;
		stage.dispatchEvent(new WheelEvent('wheel', {clientX: box.left + 500, clientY: box.top + 300, bubbles: true, cancelable: true, ...more}));
		requestAnimationFrame(next);
	};
	requestAnimationFrame(next);
})`

func TestBrowser_planOf3000DevicesStaysSmooth(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	b, a := newBrowserAlone(t), newApp(t, bigStorey())
	b.do(chromedp.EmulateViewport(1440, 900))
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	for _, pointer := range []string{"", " under a mouse"} {
		if pointer != "" {
			b.hover(500, 300)
		}
		for _, turn := range [][2]string{{"pan", `{deltaY: n < 30 ? 12 : -12, shiftKey: true}`}, {"zoom", `{deltaY: n < 30 ? -18 : 18}`}} {
			var took []float64
			name := turn[0] + pointer
			events := b.trace(func() { took = evaluate[[]float64](b, fmt.Sprintf(frames, turn[1])) })
			t.Logf("%s, as the page sees it: median %.1f ms, 95 %% %.1f ms, longest %.1f ms", name, part(took, 0.5), part(took, 0.95), part(took, 1))
			report(t, name, events)
			assert.Less(t, drawingLaidOut(events), 15, "%s: the drawing is not laid out in each of 60 frames", name)
		}
	}
	t.Logf("what lies under a point, of 3,000 devices: %.3f ms", evaluate[float64](b, hits))
	b.do(chromedp.Click(chromedp.CSS("#plan-fit")))
	b.clickPlan(1, 1)
	first := a.scope.Rooms[0].Design.Devices[0].ID
	element := fmt.Sprintf(`document.getElementById('device-big0-%s')`, first)
	evaluate[bool](b, element+`.kept = document.getElementById('room-big1').kept = true`)
	time.Sleep(500 * time.Millisecond) // until the drawing is sharp again
	events := b.trace(func() {
		took := evaluate[float64](b, fmt.Sprintf(moved, "device/big0/"+string(first)))
		t.Logf("a device moved: %.0f ms from the gesture to the second frame after its answer", took)
	})
	report(t, "a device moved", events)
	assert.True(t, evaluate[bool](b, `!`+element+`.kept && document.getElementById('room-big1').kept`), "only what has changed is drawn anew")
	b.screenshot("plan-big")
}

// hover puts the browser's own mouse on the stage, so many pixels from its corner.
// While it rests there the browser looks after each frame what lies under it.
func (b *browser) hover(x, y float64) {
	b.t.Helper()
	corner := evaluate[[]float64](b, `((box) => [box.left, box.top])(document.getElementById('stage').getBoundingClientRect())`)
	b.do(chromedp.MouseEvent(chromedp.MouseMoved, corner[0]+x, corner[1]+y))
}

// drawingLaidOut counts how often the letters of the storey were laid out: the
// page around the drawing has far fewer of them.
func drawingLaidOut(events []traced) int {
	count := 0
	for _, e := range events {
		if e.Name == "Layout" && e.Args.BeginData.Dirty > 5000 {
			count++
		}
	}
	return count
}

// While the view moves the drawing is a picture that the browser scales; the
// tools must find it where it is seen, then and afterwards.
func TestBrowser_planIsDrawnSharpOnceTheViewIsStill(t *testing.T) {
	b, _ := openPlan(t, 1440, 900)
	b.hover(300, 200)
	sharp := `document.getElementById('lower').style.willChange === '' && new DOMMatrix(getComputedStyle(document.getElementById('lower')).transform).m44 === 1`
	b.waitFor(sharp)
	x, y := b.onScreen(1, 1)
	left, top := b.onScreen(0, 0)
	b.do(chromedp.Click(chromedp.CSS("#plan-in")))
	b.waitFor(`!(` + sharp + `)`)
	check := func(when string) {
		zoomedX, zoomedY := b.onScreen(1, 1)
		zoomedLeft, zoomedTop := b.onScreen(0, 0)
		assert.InDelta(t, (x-left)*1.25, zoomedX-zoomedLeft, 0.01, when)
		assert.InDelta(t, (y-top)*1.25, zoomedY-zoomedTop, 0.01, when)
	}
	check("moving")
	b.waitFor(sharp)
	check("still")
	assert.True(t, evaluate[bool](b, `((box) => document.elementFromPoint(box.left + 300, box.top + 200).id === 'stage')(document.getElementById('stage').getBoundingClientRect())`), "the stage takes the pointer, not one of thousands of shapes")
}

// moved nudges a device and gives the time until the browser has painted it at
// its new place, in milliseconds.
const moved = `new Promise((done) => {
	const start = performance.now(), lower = document.getElementById('lower');
	const watch = new MutationObserver(() => {
		watch.disconnect();
		requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - start)));
	});
	watch.observe(lower, {subtree: true, childList: true});
	window.htmx.ajax('POST', document.getElementById('board').dataset.gesture, {source: '#bench', target: '#bench', swap: 'none',
		values: {gesture: JSON.stringify({do: 'move', things: ['%s'], by: [0.4, 0.3]})}});
})`

// hits finds what lies under points all over the storey, and gives the time that
// one takes, in milliseconds.
const hits = `(async () => {
	const [hit, read] = await Promise.all([import('/static/js/plan/hit.js'), import('/static/js/plan/model.js')]);
	const model = read.read(document.getElementById('plan-model').textContent);
	const start = performance.now();
	let found = 0;
	for (let i = 0; i < 1000; i++) if (hit.at(model, [(i % 40) * 3, Math.floor(i / 40) * 4], 0.3)) found++;
	if (found < 500) throw new Error('only ' + found + ' points hit something');
	return (performance.now() - start) / 1000;
})()`
