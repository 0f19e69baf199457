package web

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// dayScope is drawnScope at 40 N 105 W with a window of 6 m in the wall before
// which L3 hangs, and its daylight sensor on the plan.
func dayScope() *domain.Scope {
	scope := drawnScope()
	north, west := 40.0, -105.0
	scope.Project.Latitude, scope.Project.Longitude, scope.Project.Zone = &north, &west, "America/Denver"
	r := &scope.Rooms[0]
	plan := domain.Plan{ID: "s1"}
	for i, a := range r.Outline.Outer {
		plan.Walls = append(plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", i)), Seq: i + 1, A: a, B: r.Outline.Outer[(i+1)%4], Kind: domain.FullWall, Thickness: 0.15})
	}
	plan.Walls[0].Openings = []domain.Opening{{ID: "o", Seq: 1, Kind: domain.Window, At: 1, Width: 6, Sill: 0.9, Head: 2.4}}
	scope.Plans = []domain.Plan{plan}
	for i := range 4 {
		r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("day", i)), Load: "l3", At: geom.Pt(1+2*float64(i), 1.2)})
	}
	at := geom.Pt(4, 1.8)
	r.Design.Device("ds").At = &at
	return scope
}

// A day's daylight is loaded into the rehearsal and dims the loads as its hours pass;
// it fits every width.
func TestRehearse_aDayOfDaylightPlays(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, dayScope())
	for _, width := range []int{1440, 1024, 390} {
		b.do(chromedp.EmulateViewport(int64(width), 900))
		b.rehearsal(a.url + rehearse101)
		assert.LessOrEqual(t, evaluate[int](b, "document.documentElement.scrollWidth"), width, "%d", width)
	}
	b.do(chromedp.EmulateViewport(1440, 900))
	b.rehearsal(a.url + rehearse101 + "?day=2025-06-21&sky=overcast#sec-day")
	b.click("#sec-day [data-play-steps]")
	b.waitFor(`document.getElementById('clock-day').textContent.includes('2025-06-21')`)
	b.click("#go-minute")
	b.waitFor(`document.querySelector('[data-load-row=l3] .level').textContent === '100 %'`)
	evaluate[bool](b, `(() => { const at = document.getElementById('go-clock'); at.value = '12:30'; at.form.requestSubmit(); return true })()`)
	b.waitFor(`document.getElementById('happened').textContent.includes('DS-1 reads')`)
	b.waitFor(`parseFloat(document.querySelector('[data-load-row=l3] .level').textContent) < 100`)
	assert.Contains(t, b.happened(), "overcast)")
	assert.Equal(t, "100 % on", b.level("l1"), "no daylight sensor acts on it")
	b.screenshot("rehearse-day")
}
