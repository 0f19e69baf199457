package web

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const stored = `document.getElementById('status').textContent.startsWith('Saved')`

// focus puts the keyboard on a cell, as a click does.
func (b *browser) focus(path string) {
	b.t.Helper()
	ok := evaluate[bool](b, fmt.Sprintf(`(() => {
		const cell = [...document.querySelectorAll('.cell')].find((c) => c.dataset.path === %q);
		cell?.focus();
		return document.activeElement === cell;
	})()`, path))
	require.True(b.t, ok, "no cell %s", path)
}

func (b *browser) keys(keys ...string) {
	b.t.Helper()
	for _, k := range keys {
		b.do(chromedp.KeyEvent(k))
	}
}

// active gives the path of the focused cell, or of the cell that is edited.
func (b *browser) active() string {
	return evaluate[string](b, `document.activeElement.closest('.cell')?.dataset.path ?? document.activeElement.tagName`)
}

func (b *browser) cellText(path string) string {
	return evaluate[string](b, fmt.Sprintf(`[...document.querySelectorAll('.cell')].find((c) => c.dataset.path === %q)?.textContent ?? 'none'`, path))
}

func TestBrowser_editsCellsByKeyboardAlone(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + room101)

	b.focus("loads/l1/count")
	b.keys("1", "2", kb.Enter)
	b.waitFor(stored)
	assert.Equal(t, 12, roomNow(t, a, "room101").Design.Load("l1").Count)
	assert.Equal(t, "loads/l2/count", b.active(), "Enter saves and goes down")

	b.keys(kb.ArrowUp, kb.ArrowLeft)
	assert.Equal(t, "loads/l1/luminaire", b.active())
	b.keys(kb.Enter)
	assert.Equal(t, "SELECT", evaluate[string](b, "document.activeElement.tagName"), "closed values are chosen")
	b.keys(kb.Escape)
	if evaluate[bool](b, "document.activeElement.tagName === 'SELECT'") {
		b.keys(kb.Escape) // the first one closed the list that Enter had opened
	}
	assert.Equal(t, "loads/l1/luminaire", b.active(), "Escape leaves the cell as it was")
	assert.Equal(t, "A", b.cellText("loads/l1/luminaire"))

	b.keys(kb.Tab)
	assert.Equal(t, "loads/l1/count", b.active(), "Tab goes right")
	b.keys(kb.Escape, kb.Tab)
	assert.NotContains(t, b.active(), "loads/", "Escape and Tab leave the table")
}

func TestBrowser_undoAndRedoByKey(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + room101)
	b.focus("loads/l1/name")
	b.keys("X", kb.Enter)
	b.waitFor(stored)
	b.waitFor(`!document.getElementById('undo').disabled`)
	evaluate[bool](b, `document.dispatchEvent(new KeyboardEvent('keydown', {key: 'z', ctrlKey: true, bubbles: true})), true`)
	b.waitFor(`document.querySelector('.toast')?.textContent.includes('Undid')`)
	assert.Equal(t, "Front", b.cellText("loads/l1/name"))
	evaluate[bool](b, `document.dispatchEvent(new KeyboardEvent('keydown', {key: 'y', ctrlKey: true, bubbles: true})), true`)
	b.waitFor(`[...document.querySelectorAll('.toast')].some((t) => t.textContent.includes('Redid'))`)
	assert.Equal(t, "X", b.cellText("loads/l1/name"))
}

func (b *browser) paste(text string) {
	b.t.Helper()
	evaluate[bool](b, fmt.Sprintf(`(() => {
		const data = new DataTransfer();
		data.setData('text/plain', %q);
		document.activeElement.dispatchEvent(new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true}));
		return true;
	})()`, text))
}

func TestBrowser_pastesABlockFromASpreadsheet(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + room101)
	b.focus("loads/l1/count")
	b.paste("7\tLP-3\r\n8\tLP-4\r\n")
	b.waitFor(stored)
	d := roomNow(t, a, "room101").Design
	assert.Equal(t, []any{7, "LP-1", 8}, []any{d.Load("l1").Count, d.Load("l1").Circuit, d.Load("l2").Count},
		"the second column is what the load takes, which is only read")

	b.focus("loads/l1/circuit")
	b.keys(kb.ArrowDown)
	evaluate[bool](b, `document.activeElement.dispatchEvent(new KeyboardEvent('keydown', {key: 'ArrowUp', shiftKey: true, bubbles: true, cancelable: true})), true`)
	assert.Equal(t, 2, evaluate[int](b, `document.querySelectorAll('.cell[aria-selected=true]').length`))
	b.paste("LP-9")
	b.waitFor(`document.getElementById('version').dataset.base.endsWith('=3')`)
	d = roomNow(t, a, "room101").Design
	assert.Equal(t, []string{"LP-9", "LP-9"}, []string{d.Load("l1").Circuit, d.Load("l2").Circuit})
}

func TestBrowser_aRefusedCellKeepsWhatWasTypedWithTheReason(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + room101)
	b.focus("loads/l1/count")
	b.keys("m", "a", "n", "y", kb.Enter)
	b.waitFor(`document.getElementById('notice').textContent.includes('is not a number')`)
	b.waitFor(`document.activeElement.matches('.cell-error input')`)
	assert.Equal(t, "many", evaluate[string](b, "document.activeElement.value"))
	assert.Equal(t, "Not saved", evaluate[string](b, "document.getElementById('status').textContent"))
	assert.Equal(t, 6, roomNow(t, a, "room101").Design.Load("l1").Count)
	before := evaluate[int](b, "performance.getEntriesByType('resource').length")
	evaluate[bool](b, "document.activeElement.blur(), true")
	evaluate[bool](b, "new Promise((done) => setTimeout(() => done(true), 150))")
	assert.Equal(t, before, evaluate[int](b, "performance.getEntriesByType('resource').length"), "leaving it as it is does not send it again")
	b.focus("loads/l1/count")
	b.keys("4", kb.Enter)
	b.waitFor(stored)
	assert.Equal(t, 4, roomNow(t, a, "room101").Design.Load("l1").Count)
	assert.Equal(t, "", evaluate[string](b, "document.getElementById('notice').textContent.trim()"))
}

func TestBrowser_aSecondWindowSeesTheChange(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + room101)
	b.waitFor("document.getElementById('live')")
	evaluate[bool](b, "new Promise((done) => setTimeout(() => done(true), 300))") // the stream opens
	require.Equal(t, 200, a.post(room101+"/set", "", "path", "loads/l1/name", "text", "From elsewhere").status)
	b.waitFor(`[...document.querySelectorAll('.cell')].some((c) => c.textContent === 'From elsewhere')`)
	assert.Contains(t, evaluate[string](b, "document.getElementById('version').dataset.base"), "=2")
}

func TestBrowser_aStaleEditShowsBothValues(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + room101)
	b.focus("loads/l1/name")
	b.keys("M", "i", "n", "e")
	evaluate[bool](b, `document.getElementById('live').remove(), true`) // a window that missed the news
	require.Equal(t, 200, a.post(room101+"/set", "", "path", "loads/l1/name", "text", "Theirs").status)
	b.keys(kb.Enter)
	b.waitFor(`document.querySelector('.conflict')`)
	text := evaluate[string](b, `document.querySelector('.conflict').textContent`)
	assert.Contains(t, text, "Mine")
	assert.Contains(t, text, "Theirs")
	assert.Equal(t, "Theirs", roomNow(t, a, "room101").Design.Load("l1").Name)
	b.do(chromedp.Click(chromedp.CSS(".conflict form button")))
	b.waitFor(stored)
	assert.Equal(t, "Mine", roomNow(t, a, "room101").Design.Load("l1").Name)
}

func TestBrowser_aFindingLeadsToItsThingAndIsFixed(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	require.Equal(t, 200, a.post(room101+"/set", "", "path", "devices/ps/parent", "text", "").status)
	b.open(a.url + room101)
	b.do(chromedp.Click(chromedp.CSS(".finding a[data-locate]")))
	assert.Equal(t, "devices/ps/tag", b.active())
	b.do(chromedp.Click(chromedp.CSS(".finding .actions > button")))
	b.waitFor(`document.querySelector('.findings .badge.ok')`)
	assert.NotEmpty(t, roomNow(t, a, "room101").Design.Device("ps").Parent)
}
