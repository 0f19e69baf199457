package web

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
)

const rehearse101 = room101 + "/rehearse"

// drawnScope is smallScope with room 101 drawn: a station, a sensor and the
// luminaires of two loads at their places.
func drawnScope() *domain.Scope {
	scope := smallScope()
	r := &scope.Rooms[0]
	r.Outline = geom.Rectangle(0, 0, 8, 6)
	for id, at := range map[domain.ID]geom.Point{"st": geom.Pt(7.8, 1), "ps": geom.Pt(4, 3), "lc": geom.Pt(0.2, 0.5)} {
		r.Design.Device(id).At = &at
	}
	for i := range 6 {
		r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("f", i)), Load: []domain.ID{"l1", "l2"}[i%2], At: geom.Pt(1+float64(i), 2+float64(i%3))})
	}
	return scope
}

// rehearsal opens the screen and waits for its first answer.
func (b *browser) rehearsal(url string) {
	b.t.Helper()
	b.open(url)
	b.waitFor(`document.getElementById('clock-day').textContent.startsWith('Mon')`)
}

// level gives what a load's row shows: "60 % dimmed".
func (b *browser) level(load string) string {
	b.t.Helper()
	return evaluate[string](b, fmt.Sprintf(`(() => { const row = document.querySelector('[data-load-row=%s]'); return row.querySelector('.level').textContent + ' ' + row.querySelector('.word').textContent })()`, load))
}

func (b *browser) click(selector string) {
	b.t.Helper()
	b.do(chromedp.Click(chromedp.CSS(selector)))
}

// pressButton presses a button of the station in the list of inputs.
func (b *browser) pressButton(n int) {
	b.t.Helper()
	b.click(fmt.Sprintf(`#inputs [data-press][data-device=st][data-button="%d"]`, n))
}

func (b *browser) happened() string {
	return evaluate[string](b, `document.querySelector('#happened tbody').innerText`)
}

func TestRehearse_aPressLightsAndTheDelayRunsOut(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.rehearsal(a.url + rehearse101)
	assert.Equal(t, "0 % off", b.level("l2"))

	b.pressButton(2)
	b.waitFor(`document.querySelector('[data-load-row=l2] .level').textContent === '60 %'`)
	assert.Equal(t, "60 % dimmed", b.level("l2"))
	b.waitFor(`document.querySelector('[data-load-row=l3] .level').textContent === '100 %'`) // its fade is longer
	assert.Equal(t, "100 % on", b.level("l3"))
	assert.Contains(t, b.happened(), "ST-1 button 2 Present is pressed")
	b.waitFor(`document.getElementById('rehearse-said').textContent.includes('L2 goes to 60 %')`)

	b.click("#inputs [data-report=occupied]")
	b.waitFor(`document.getElementById('room-state').textContent.includes('occupied')`)
	b.click("#inputs [data-report=vacant]")
	b.waitFor(`document.getElementById('coming').textContent.includes('L2 to 30 %')`)
	assert.Regexp(t, `^In (19 min|20 min)`, evaluate[string](b, `document.getElementById('coming').textContent`))

	b.click("#go-next")
	b.waitFor(`document.querySelector('[data-load-row=l2] .word').textContent === 'warning'`)
	assert.Equal(t, "30 % warning", b.level("l2"), "half of 60 %")
	b.click("#go-next")
	b.waitFor(`document.querySelector('[data-load-row=l2] .word').textContent === 'off'`)
	assert.Equal(t, "09:21", evaluate[string](b, `document.getElementById('clock-time').textContent.slice(0, 5)`), "20 min and a warning of 1 min")

	for left := range 3 { // the reports and the press
		b.click("#step-back")
		b.waitFor(fmt.Sprintf(`JSON.parse(sessionStorage.getItem('rehearsal ' + location.pathname)).steps.length === %d`, 2-left))
	}
	b.waitFor(`document.getElementById('step-back').disabled`)
	b.waitFor(`document.getElementById('nothing-happened').checkVisibility()`)
	assert.Equal(t, "0 % off", b.level("l2"))
	assert.Equal(t, "09:00:00", evaluate[string](b, `document.getElementById('clock-time').textContent`))
}

func TestRehearse_saysWhy(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.rehearsal(a.url + rehearse101)
	b.pressButton(2)
	b.click(`[data-why=l2]`)
	b.waitFor(`document.getElementById('why-title').textContent === 'Why is L2 at 60 %?'`)
	b.waitFor(`document.getElementById('why-lines').textContent.includes('So its output is 60 %.')`)
	assert.Contains(t, evaluate[string](b, `document.getElementById('why-lines').textContent`), "ST-1 button 2 Present is pressed (intent 1, By hand, class manual)")
}

func TestRehearse_keysAloneDoIt(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, drawnScope())
	b.rehearsal(a.url + rehearse101)
	evaluate[bool](b, `document.getElementById('device-room101-st').focus(), true`)
	b.keys(kb.Enter)
	b.waitFor(`document.activeElement.id === 'hand'`)
	b.keys(kb.Tab, kb.Enter) // the first button: Teach
	b.waitFor(`document.querySelector('[data-load-row=l1] .level').textContent === '100 %'`)
	b.waitFor(`document.querySelectorAll('.fixture.lit').length === 6`)
	assert.Equal(t, "100 %", evaluate[string](b, `document.querySelector('.lamp-text').textContent`), "the number stands beside the light")
	b.keys(kb.Escape)
	assert.Equal(t, "device-room101-st", evaluate[string](b, "document.activeElement.id"), "the focus goes back to the drawing")
	b.keys("p")
	b.waitFor(`document.getElementById('play').textContent === 'Run'`)
	b.keys("M")
	b.waitFor(`document.getElementById('clock-time').textContent.startsWith('09:10:')`)
	b.keys("b")
	b.waitFor(`document.querySelector('[data-load-row=l1] .level').textContent === '0 %'`)
	assert.Equal(t, "09:00:00", evaluate[string](b, `document.getElementById('clock-time').textContent`))
}

func TestRehearse_aRehearsalOutlivesAReload(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.rehearsal(a.url + rehearse101)
	b.pressButton(1)
	b.waitFor(`document.querySelector('[data-load-row=l1] .level').textContent === '100 %'`)
	b.click("#go-minutes")
	b.waitFor(`document.getElementById('clock-time').textContent.startsWith('09:10:')`)
	b.do(chromedp.Reload())
	b.waitFor(`document.getElementById('clock-time')?.textContent.startsWith('09:1')`)
	b.waitFor(`document.querySelector('[data-load-row=l1] .level').textContent === '100 %'`)
}

func TestRehearse_savedScenarioFailsWhenTheDesignBreaksIt(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.rehearsal(a.url + rehearse101)
	b.pressButton(2)
	b.waitFor(`document.querySelector('[data-load-row=l2] .level').textContent === '60 %'`)
	b.click(`[data-opens="#save-scenario"]`)
	b.waitFor(`document.getElementById('save-scenario').open`)
	assert.Contains(t, evaluate[string](b, `document.querySelector('#save-scenario [data-summary]').textContent`), "L2 60 %")
	b.do(chromedp.SendKeys(chromedp.CSS("#save-name"), "Present is on\r"))
	b.waitFor(`document.querySelector('.scenario .badge.ok')`)
	assert.False(t, evaluate[bool](b, `document.getElementById('save-scenario').open`))
	require.Len(t, roomNow(t, a, "room101").Design.Scenarios, 1)
	evaluate[bool](b, "new Promise((done) => setTimeout(() => done(true), 300))") // the stream opens

	require.Equal(t, 200, a.post(room101+"/set", "", "path", "scenes/s2/levels/l2", "text", "35").status)
	b.waitFor(`document.querySelector('.scenario .badge.error')`)
	assert.Contains(t, evaluate[string](b, `document.querySelector('.scenario summary').textContent`), "expected L2 at 60 %, got 35 %")
	b.waitFor(`!document.getElementById('design-changed').hidden`)
	b.waitFor(`document.querySelector('[data-load-row=l2] .level').textContent === '35 %'`)

	b.click(".scenario summary")
	b.click(".scenario [data-play-steps]")
	b.waitFor(`document.getElementById('clock-time').textContent === '09:00:00'`)
	b.waitFor(`document.getElementById('happened').textContent.includes('Present is pressed')`)
	assert.Equal(t, "0 % off", b.level("l2"), "it waits at the start, where the button was pressed")
	b.click("#play")
	b.waitFor(`document.querySelector('[data-load-row=l2] .level').textContent === '35 %'`)
}

func TestRehearse_fitsEveryWidth(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, drawnScope())
	require.Equal(t, 200, a.post(rehearse101+"/save", "", "run", `{"now_s":60,"steps":[{"at_s":1,"happen":"press","device":"st","button":2}]}`, "name", "Present is on").status)
	for _, width := range []int{1440, 1024, 390} {
		b.do(chromedp.EmulateViewport(int64(width), 900))
		b.rehearsal(a.url + rehearse101)
		evaluate[bool](b, `document.querySelector('.scenario').open = true`)
		b.pressButton(1)
		b.waitFor(`document.querySelector('[data-load-row=l1] .level').textContent === '100 %'`)
		assert.LessOrEqual(t, evaluate[int](b, "document.documentElement.scrollWidth"), width, "%d", width)
		b.screenshot(fmt.Sprintf("rehearse-%d", width))
		b.click("#clear")
	}
}

// trappedScope is smallScope with a contact in room 101 that locks the light and
// nothing that releases it.
func trappedScope() *domain.Scope {
	scope := smallScope()
	b := domaintest.Classroom().Device("cn", "cn-2").Intent("lock", domain.ByContact).
		Set("intents/lock/device", "CN-1", "intents/lock/command", "closed", "intents/lock/do", "locks at the level", "intents/lock/level", "100")
	scope.Rooms[0].Design = b.R.Design
	return scope
}

func TestRehearse_provesAndPlaysWhatItFound(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, trappedScope())
	b.rehearsal(a.url + rehearse101)
	b.click("#prove-start")
	b.waitFor(`document.querySelector('#proof .finding')`)
	assert.Contains(t, evaluate[string](b, `document.getElementById('proof').textContent`), "Nothing can put L1 off again after: the contact at CN-1, input 1, closes")
	b.screenshot("prove-1440")
	b.click("#proof [data-play-steps]")
	b.waitFor(`document.getElementById('happened').textContent.includes('The contact at CN-1, input 1, closes')`)
	b.waitFor(`document.querySelector('[data-load-row=l1] .word').textContent === 'locked'`)
	assert.Equal(t, "100 % locked", b.level("l1"), "the claim is true")
	b.pressButton(4)
	b.waitFor(`document.getElementById('happened').textContent.includes('ST-1 button 4 Off is pressed')`)
	assert.Equal(t, "100 % locked", b.level("l1"), "and nothing puts it off")

	evaluate[bool](b, "new Promise((done) => setTimeout(() => done(true), 300))") // the stream is open
	require.Equal(t, 200, a.post(room101+"/set", "", "path", "loads/l1/name", "text", "Front row").status)
	b.waitFor(`!document.getElementById('proof-old').hidden`)
}
