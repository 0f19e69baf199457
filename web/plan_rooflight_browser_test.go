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

// glazedScope is planScope with a wall between its two rooms that has a window in
// it, which nobody marked as giving on another room.
func glazedScope() *domain.Scope {
	scope := planScope()
	scope.Plans = []domain.Plan{{ID: "s1", Walls: []domain.Wall{{ID: "w1", Seq: 1, A: geom.Pt(8.1, 0), B: geom.Pt(8.1, 7), Kind: domain.FullWall, Thickness: 0.2,
		Openings: []domain.Opening{{ID: "o1", Seq: 1, Kind: domain.Window, At: 3, Width: 1.2, Sill: 0.9, Head: 2.1}}}}}}
	return scope
}

func openGlazed(t *testing.T, width, height int) (*browser, *app) {
	t.Helper()
	b, a := newBrowser(t), newApp(t, glazedScope())
	b.do(chromedp.EmulateViewport(int64(width), int64(height)))
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	return b, a
}

func drawnPlan(t *testing.T, a *app) *domain.Plan {
	t.Helper()
	p, _, err := a.store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	return p
}

// fillField types a value into a field of the panel beside the plan.
func (b *browser) fillField(id, text string) {
	b.t.Helper()
	evaluate[bool](b, fmt.Sprintf(`(() => {
		const field = document.getElementById(%q);
		field.focus();
		field.value = %q;
		field.dispatchEvent(new Event('change', {bubbles: true}));
		return true;
	})()`, id, text))
}

func TestBrowser_planDrawsARooflightByDragAndSetsItsFields(t *testing.T) {
	b, a := openGlazed(t, 1440, 900)
	b.focusStage()
	b.keys("t")
	b.drag(2, 6, 4, 9, "ctrlKey: true")
	b.saved()
	lights := drawnPlan(t, a).Rooflights
	require.Len(t, lights, 1)
	assert.InDelta(t, 3, lights[0].At.X, 0.03)
	assert.InDelta(t, 7.5, lights[0].At.Y, 0.03)
	assert.InDelta(t, 2, float64(lights[0].Width), 0.05)
	assert.InDelta(t, 3, float64(lights[0].Length), 0.05)
	b.waitFor(`document.getElementById('field-glass')`) // the new one is selected
	b.fillField("field-width", "5 ft")
	b.saved()
	b.fillField("field-glass", "55 %")
	b.saved()
	b.fillField("field-glass", "bright")
	b.waitFor(`document.getElementById('field-glass').getAttribute('aria-invalid') === 'true'`)
	assert.Contains(t, evaluate[string](b, `document.getElementById('field-glass-error').textContent`), "0.68 or 68 %")
	assert.Equal(t, "bright", evaluate[string](b, `document.getElementById('field-glass').value`), "what was typed stays")
	b.screenshot("plan-rooflight-refused")
	b.takeComplaints() // the browser tells of the answer 422
	l := drawnPlan(t, a).Rooflights[0]
	assert.InDelta(t, 5*0.3048, float64(l.Width), 1e-4)
	assert.InDelta(t, 0.55, l.Glass, 1e-9)

	b.focusStage()
	b.keys(kb.Escape)
	b.keys(kb.Escape)
	b.clickPlan(3, 7)
	assert.Contains(t, b.inspector(), "Rooflight 1", "a click within selects it")
	b.focusStage()
	b.keys("]")
	b.saved()
	assert.InDelta(t, 345, drawnPlan(t, a).Rooflights[0].Turn, 1e-9, "turned clockwise by 15 degrees")
	b.keys(kb.ArrowRight)
	b.saved()
	assert.Greater(t, drawnPlan(t, a).Rooflights[0].At.X, l.At.X)
	b.keys(kb.Delete)
	b.saved()
	assert.Empty(t, drawnPlan(t, a).Rooflights)
	b.do(chromedp.Click(chromedp.CSS("#undo")))
	b.waitFor(`document.querySelector('[id^="rooflight-"]')`)
	require.Len(t, drawnPlan(t, a).Rooflights, 1)
	b.screenshot("plan-rooflight")
}

func TestBrowser_planMarksAWindowBetweenRoomsByItsFinding(t *testing.T) {
	b, a := openGlazed(t, 1440, 900)
	b.waitFor(`document.querySelector('[data-fix-rule]')`)
	b.clickPlan(8.1, 3.6)
	b.waitFor(`document.getElementById('field-indoors')?.value === 'no'`)
	b.screenshot("plan-window-fields")
	b.do(chromedp.Click(chromedp.CSS("[data-fix-rule]")))
	b.saved()
	assert.True(t, drawnPlan(t, a).Walls[0].Openings[0].Indoors)
	b.waitFor(`!document.querySelector('[data-fix-rule]') && document.getElementById('field-indoors').value === 'yes'`)
	b.fillField("field-blocked", "20")
	b.saved()
	assert.InDelta(t, 20, drawnPlan(t, a).Walls[0].Openings[0].Blocked, 1e-9)
	assert.Equal(t, "20 deg", evaluate[string](b, `document.getElementById('field-blocked').value`), "shown as it is kept")
}

func TestBrowser_planFieldsOnASmallScreen(t *testing.T) {
	b, _ := openGlazed(t, 390, 844)
	b.clickPlan(8.1, 3.6)
	b.waitFor(`document.getElementById('field-indoors')`)
	assert.True(t, evaluate[bool](b, `document.documentElement.scrollWidth <= innerWidth`), "nothing sticks out")
	evaluate[bool](b, `document.getElementById('inspector').scrollIntoView(), true`)
	b.screenshot("plan-window-fields-390")
}

func TestBrowser_planTableHoldsWindowsAndRooflights(t *testing.T) {
	scope := glazedScope()
	scope.Plans[0].Rooflights = []domain.Rooflight{{ID: "r1", Seq: 1, At: geom.Pt(4, 8), Width: 1.2, Length: 2.4, Turn: 30, Glass: 0.55}, {ID: "r2", Seq: 2, At: geom.Pt(2, 8), Width: 1, Length: 1}}
	b, a := newBrowser(t), newApp(t, scope)
	for _, width := range []int64{1440, 1024, 390} {
		b.do(chromedp.EmulateViewport(width, 800))
		b.open(a.url + storeyPlan + "?show=table")
		b.waitFor(`document.getElementById('plan-rooflights')`)
		assert.True(t, evaluate[bool](b, `document.documentElement.scrollWidth <= innerWidth`), "nothing sticks out at %d", width)
		evaluate[bool](b, `document.getElementById('openings-title').scrollIntoView(), true`)
		b.screenshot(fmt.Sprintf("plan-table-glass-%d", width))
		assert.Equal(t, "55 %", evaluate[string](b, `document.querySelector('[data-path="rooflight/r1/glass"]').textContent`))
	}
}
