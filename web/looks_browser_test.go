package web

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
)

// Every screen fits its window at desk, small laptop and phone width: tables
// scroll in their own box and never the page. With SCOPEWRIGHT_SCREENSHOTS the
// pictures are kept, to be looked at.
func TestLooks_everyScreenFitsEveryWidth(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	for _, s := range []struct{ name, path string }{
		{"room", room101}, {"room-empty", "/projects/p1/rooms/room102"}, {"first-design", "/projects/p1/rooms/room102/first-design"}, {"typical", "/projects/p1/typicals/t1"},
	} {
		for _, width := range []int{1440, 1024, 390} {
			b.do(chromedp.EmulateViewport(int64(width), 900))
			b.open(a.url + s.path)
			b.waitFor("document.readyState === 'complete'")
			name := fmt.Sprintf("%s-%d", s.name, width)
			assert.LessOrEqual(t, evaluate[int](b, "document.documentElement.scrollWidth"), width, "%s is wider than its window", name)
			b.screenshot(name)
		}
	}
	b.do(chromedp.EmulateViewport(1440, 900))
	evaluate[bool](b, "document.documentElement.dataset.theme = 'dark', true")
	b.open(a.url + room101)
	evaluate[bool](b, "document.documentElement.dataset.theme = 'dark', true")
	b.screenshot("room-dark")
}
