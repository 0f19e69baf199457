package web

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

// slot puts the keyboard on a field within an intent's sentence.
func (b *browser) slot(path string) {
	b.t.Helper()
	ok := evaluate[bool](b, fmt.Sprintf(`(() => {
		const slot = document.querySelector('[data-fact="%s"]');
		slot?.focus();
		slot?.select?.();
		return document.activeElement === slot;
	})()`, path))
	require.True(b.t, ok, "no field %s", path)
}

// onSlot gives the path of the field with the keyboard.
func (b *browser) onSlot() string {
	return evaluate[string](b, `document.activeElement.dataset.fact ?? document.activeElement.id`)
}

func TestBrowser_editsASentenceByKeyboardAlone(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + room101)
	b.slot("intents/i2/delay_s")
	b.keys("1", "5", kb.Tab)
	b.waitFor(`document.querySelector('#intents_i2 .sentence').textContent.includes('vacant for 15 min')`)
	assert.Equal(t, "intents/i2/warn_to", b.onSlot(), "Tab goes to the next field and stays there when the sentence comes anew")
	assert.Equal(t, "15 min", evaluate[string](b, `document.querySelector('[data-fact="intents/i2/delay_s"]').value`))

	b.slot("intents/i2/delay_s")
	b.keys("s", "o", "o", "n", kb.Enter)
	b.waitFor(`document.getElementById('notice').textContent.includes('soon')`)
	assert.Equal(t, "true", evaluate[string](b, `document.querySelector('[data-fact="intents/i2/delay_s"]').getAttribute('aria-invalid')`))
	assert.Equal(t, "soon", evaluate[string](b, `document.querySelector('[data-fact="intents/i2/delay_s"]').value`), "what was typed stays")
	assert.EqualValues(t, 900, roomNow(t, a, "room101").Design.Intent("i2").Delay)
	b.slot("intents/i2/delay_s")
	b.keys("2", "0", kb.Enter)
	b.waitFor(stored)
}

func TestBrowser_ticksTheLoadsOfAnIntent(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + room101)
	b.slot("intents/i2/loads")
	b.keys(kb.Enter, kb.Tab, " ")
	b.waitFor(stored)
	b.waitFor(`document.querySelector('#s-intents_i2_loads > summary').textContent.includes('L1')`)
	assert.Equal(t, []domain.ID{"l1"}, roomNow(t, a, "room101").Design.Intent("i2").Loads)
	assert.Equal(t, "s-intents_i2_loads-l1", b.onSlot(), "the keyboard stays on the box")
	assert.True(t, evaluate[bool](b, `document.getElementById('s-intents_i2_loads').open`), "and the list stays open")
	b.keys(kb.Escape)
	assert.False(t, evaluate[bool](b, `document.getElementById('s-intents_i2_loads').open`))
	assert.Equal(t, "intents/i2/loads", b.onSlot())
}

// On a telephone nothing of a sentence lies beyond the edge.
func TestBrowser_sentencesFitATelephone(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.do(chromedp.EmulateViewport(390, 800))
	b.open(a.url + room101)
	evaluate[bool](b, `document.querySelectorAll('.fold').forEach((f) => { f.open = true; }), true`)
	assert.Empty(t, evaluate[[]string](b, `[...document.querySelectorAll('#sec-intents .slot, #sec-intents button')].filter((e) => e.getBoundingClientRect().right > innerWidth).map((e) => e.id || e.textContent)`))
	evaluate[bool](b, `document.querySelector('#sec-intents').scrollIntoView(), true`)
	b.screenshot("intents-phone")
}

func TestBrowser_startsFromTheUse(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	for _, id := range []string{"i1", "i2", "i3", "i4", "i5"} {
		require.Equal(t, 200, a.post(room101+"/remove", "", "row", "intents/"+id).status)
	}
	b.open(a.url + room101)
	b.waitFor(`document.querySelectorAll('#starting input[name=take]:checked').length === 5`)
	evaluate[bool](b, `document.querySelector('#sec-intents').scrollIntoView(), true`)
	b.screenshot("intents-start")
	evaluate[bool](b, `document.querySelector('#starting input[value="0"]').click(), true`)
	b.press("#starting", "Add the ticked intents")
	b.waitFor(`document.querySelectorAll('.statement').length === 4`)
	b.waitFor(`document.querySelector('#starting summary')?.textContent.includes('1 intent of kinds')`)
	assert.Len(t, roomNow(t, a, "room101").Design.Intents, 4, "all but the one whose tick was taken away")
}
