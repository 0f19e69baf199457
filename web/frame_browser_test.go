package web

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// The last crumb says where one is: it is read whole at every width of a desk, also while
// the saved state stands in the line, and the page does not scroll sideways.
func TestBrowser_theWayHereCanBeRead(t *testing.T) {
	b := newBrowser(t)
	scope := smallScope()
	scope.Project.Name = "Long Pier Learning and Office Building, second phase (invented)"
	a := newApp(t, scope)
	b.open(a.url + room101)
	b.focus("loads/l1/count")
	b.keys("9", kb.Enter)
	b.waitFor(stored)
	for _, width := range []int64{1024, 1200, 1440, 1679, 1680, 1920} {
		b.do(chromedp.EmulateViewport(width, 900))
		assert.LessOrEqual(t, evaluate[int](b, `(() => { const last = [...document.querySelectorAll('.crumbs li')].pop(); return last.scrollWidth - last.clientWidth; })()`), 0, "%d: the last crumb is cut", width)
		assert.GreaterOrEqual(t, evaluate[int](b, `Math.min(...[...document.querySelectorAll('.crumbs a')].map((one) => one.parentElement.clientWidth))`), 40, "%d: a crumb is too narrow to be known or hit", width)
		assert.LessOrEqual(t, evaluate[int](b, `document.documentElement.scrollWidth - innerWidth`), 0, "%d: the page is too wide", width)
	}
}

// A cell that the keyboard goes to never stays under the buttons of its row, nor the
// last column when a grid has been scrolled to its end.
func TestBrowser_rowButtonsHideNoCell(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.do(chromedp.EmulateViewport(1440, 900))
	b.open(a.url + room101)
	assert.Equal(t, 0, evaluate[int](b, `[...document.querySelectorAll('table.grid:has(td.row-actions)')].filter((t) => !t.querySelector('thead th.row-actions')).length`), "the buttons' column has a head")
	const covered = `(() => {
		const cell = document.activeElement;
		return cell.getBoundingClientRect().right > cell.closest('tr').querySelector('td.row-actions').getBoundingClientRect().left + 1;
	})()`
	b.focus("devices/lc/tag")
	for n := evaluate[int](b, `document.querySelectorAll('#grid-devices thead th').length`); n > 2; n-- {
		b.keys(kb.ArrowRight)
		assert.False(t, evaluate[bool](b, covered), "%s", b.active())
	}
	assert.Greater(t, evaluate[int](b, `document.querySelector('#grid-devices').closest('.scroll').scrollLeft`), 0, "it had to scroll")
	assert.LessOrEqual(t, evaluate[float64](b, `document.querySelector('#grid-loads td.row-actions').getBoundingClientRect().width`), 64.0)
}

// A project's fact is stored by Enter without the page being loaded anew, although it is
// a form for browsers without script.
func TestBrowser_aFactIsStoredByEnter(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + "/projects/p1/settings")
	evaluate[bool](b, `window.sameLoad = true, document.getElementById('fact-project-client').focus(), true`)
	b.keys("Y", kb.Enter)
	b.waitFor(stored)
	p, _, err := a.store.Project(t.Context(), "p1")
	assert.NoError(t, err)
	assert.Contains(t, p.Client, "Y")
	assert.True(t, evaluate[bool](b, `window.sameLoad === true`))
	assert.Equal(t, "fact-project-client", evaluate[string](b, `document.activeElement.id`))
}
