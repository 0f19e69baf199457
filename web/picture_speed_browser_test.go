package web

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/store"
)

// A drawing of 100,000 pieces beneath a storey of 100 x 80 m does not slow the
// plan down, nor the search for ends to snap to.
func TestBrowser_planOver100000LinesStaysSmooth(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	b, a := newBrowserAlone(t), newApp(t, planScope())
	var lines []drawing.Stroke
	for i := range 100_000 {
		x, y := float64(i%1000)/10, float64(i/1000)*0.8
		lines = append(lines, drawing.Stroke{Points: []geom.Point{{X: x, Y: y}, {X: x + 0.07, Y: y + 0.3}}})
	}
	tracing, corner, err := drawing.NewTracing(lines)
	require.NoError(t, err)
	sha, err := a.store.PutPicture(t.Context(), "p1", drawing.TracingMedia, tracing.Width, tracing.Height, tracing.Encode())
	require.NoError(t, err)
	_, err = a.store.Edit(t.Context(), store.Request{ProjectID: "p1", Scope: store.PlanSubject("s1")}, func(tx *store.Tx) (string, error) {
		return "placed lines", tx.PutPlan(&domain.Plan{ID: "s1", Underlay: &domain.Underlay{Picture: sha, At: corner,
			Width: units.Metres(tracing.Width) / 1000, Height: units.Metres(tracing.Height) / 1000, Opacity: 0.7}})
	})
	require.NoError(t, err)

	b.do(chromedp.EmulateViewport(1440, 900))
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	b.waitFor(`performance.getEntriesByType('resource').some((one) => one.name.endsWith('` + sha + `'))`)
	for name, wheel := range map[string]string{"pan": `{deltaY: n < 30 ? 12 : -12, shiftKey: true}`, "zoom": `{deltaY: n < 30 ? -18 : 18}`} {
		took := evaluate[[]float64](b, fmt.Sprintf(frames, wheel))
		t.Logf("%s: median %.1f ms, 95 %% %.1f ms, longest %.1f ms", name, took[len(took)/2], took[len(took)*95/100], took[len(took)-1])
		assert.Less(t, took[len(took)/4], 34.0, "two frames of %s, also beside other work on the machine", name)
	}
	b.screenshot("picture-lines-100000")
	for range 8 {
		b.do(chromedp.Click(chromedp.CSS("#plan-in")))
	}
	b.do(chromedp.Click(chromedp.CSS("button[data-tool='wall']")))
	took := evaluate[float64](b, `(() => {
		const stage = document.getElementById('stage'), box = stage.getBoundingClientRect();
		stage.setPointerCapture = () => {};
		const start = performance.now();
		for (let i = 0; i < 100; i++) stage.dispatchEvent(new PointerEvent('pointermove', {bubbles: true, pointerId: 1, pointerType: 'mouse', clientX: box.left + 300 + i, clientY: box.top + 200 + i}));
		return (performance.now() - start) / 100;
	})()`)
	t.Logf("a move of the pointer over the lines: %.2f ms", took)
	assert.Less(t, took, 8.0, "half a frame")
	b.screenshot("picture-lines-100000-near")
	b.open("about:blank")
}
