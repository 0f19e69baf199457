package web

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// crowdedScope has room 101 over a limit of four devices, with its devices at
// their places.
func crowdedScope() *domain.Scope {
	scope := planScope()
	for i := range scope.Project.Limits {
		if scope.Project.Limits[i].ID == domain.DevicesPerRoom {
			scope.Project.Limits[i].Value = 4
		}
	}
	places := map[domain.ID]geom.Point{"lc": {X: 2, Y: 2}, "st": {X: 0, Y: 3}, "ps": {X: 4, Y: 2}, "ds": {X: 4, Y: 9}, "gw": {X: 2, Y: 8}, "rc": {X: 6, Y: 8}}
	for i := range scope.Rooms[0].Design.Devices {
		d := &scope.Rooms[0].Design.Devices[i]
		d.At = new(places[d.ID])
	}
	return scope
}

func TestBrowser_planDividesARoomByKeyboardAlone(t *testing.T) {
	b, a := newBrowser(t), newApp(t, crowdedScope())
	b.do(chromedp.EmulateViewport(1440, 900))
	b.open(a.url + storeyPlan)
	b.waitFor(planShown)
	b.focusStage()
	for range 40 {
		if evaluate[bool](b, `document.getElementById('inspector').textContent.includes('Divide into areas that fit')`) {
			break
		}
		b.keys("n")
	}
	b.chord("F10", "shiftKey: true")
	b.waitFor(`document.querySelector('#plan-menu [role=menuitem]') === document.activeElement`)
	for range 10 {
		if evaluate[bool](b, `document.activeElement.textContent.includes('Divide into areas that fit')`) {
			break
		}
		b.keys(kb.ArrowDown)
	}
	b.keys(kb.Enter)
	b.waitFor(`document.getElementById('divide-form')`)
	b.screenshot("plan-divide")
	evaluate[bool](b, `document.querySelector('#divide-form input[name=number]').focus(), true`)
	b.keys(kb.Enter)
	b.waitFor(planShown)
	rooms := storeyRooms(t, a, "s1")
	require.Contains(t, rooms, "101A")
	assert.InDelta(t, 80, rooms["101"].Outline.Area()+rooms["101A"].Outline.Area(), 1e-3)
	b.screenshot("plan-divided")
	b.focusStage()
	b.chord("z", "ctrlKey: true")
	b.waitFor(`document.querySelector('.toast')?.textContent.includes('Undid: divided room 101')`)
	rooms = storeyRooms(t, a, "s1")
	require.NotContains(t, rooms, "101A")
	assert.InDelta(t, 80, rooms["101"].Outline.Area(), 1e-9)
}
