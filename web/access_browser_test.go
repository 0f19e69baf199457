package web

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// screenPages are one page of every kind, of smallScope.
var screenPages = []string{"/", "/projects/p1", room101, "/projects/p1/rooms/room103", "/projects/p1/typicals/t1?edit=1", "/projects/p1/luminaires", "/projects/p1/circuits", "/projects/p1/energy", "/projects/p1/energy/rooms/room101", "/projects/p1/code", "/projects/p1/code/rooms/room101", "/projects/p1/code/worksheets", "/projects/p1/code/worksheets/ws?part=duties", "/projects/p1/equipment",
	"/projects/p1/documents", "/projects/p1/documents/issue", "/projects/p1/documents/scope.html?room=room101", "/projects/p1/review", "/projects/p1/review/room101",
	"/projects/p1/checklist", "/projects/p1/settings", "/projects/p1/history", "/projects/p1/import", "/projects/p1/remove", "/rules"}

// usable are roles that a person acts on: each must have a name (WCAG 2.2,
// success criterion 4.1.2).
var usable = []string{"button", "link", "textbox", "searchbox", "combobox", "listbox", "checkbox", "radio", "switch", "slider", "spinbutton", "tab", "menuitem",
	"DisclosureTriangle", "dialog", "image", "img", "progressbar", "region"}

func TestAccess_everythingUsableHasAName(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	for _, page := range screenPages {
		b.open(a.url + page)
		b.waitFor("document.readyState === 'complete'")
		evaluate[bool](b, "document.querySelectorAll('details').forEach((d) => { d.open = true }), true")
		tree, err := chromedp.Run(b.ctx, func(ctx context.Context, t *chromedp.Target) (accessibility.GetFullAXTreeResult, error) {
			return cdp.Call(ctx, t, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
		})
		require.NoError(t, err)
		require.Greater(t, len(tree.Nodes), 20, page)
		for _, n := range tree.Nodes {
			role := axText(n.Role)
			if !n.Ignored && slices.Contains(usable, role) && axText(n.Name) == "" {
				assert.Fail(t, "a "+role+" has no name", "%s: node %d", page, n.BackendDOMNodeID)
			}
		}
	}
}

func axText(v *accessibility.Value) (text string) {
	if v != nil {
		_ = json.Unmarshal(v.Value, &text) // numbers and states are of no interest
	}
	return text
}

// markStops notes everything on the page that Tab should stop at.
const markStops = `(() => {
	const seen = (e) => e.checkVisibility({ visibilityProperty: true }) && !e.closest('[inert], dialog:not([open])');
	const all = [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex]')]
		.filter((e) => e.tabIndex >= 0 && !e.disabled && e.type !== 'hidden' && seen(e));
	window.stops = new Set(all);
	document.body.focus();
	return all.length;
})()`

const missedStops = `[...window.stops].map((e) => e.outerHTML.slice(0, 140)).join('\n')`

// The whole room page can be walked with Tab alone, and the walk ends.
func TestAccess_tabReachesEverythingOnTheRoomPage(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	for _, page := range []string{room101, "/projects/p1"} {
		b.open(a.url + page)
		b.waitFor("document.readyState === 'complete'")
		require.Greater(t, evaluate[int](b, markStops), 20)
		for i := 0; ; i++ {
			require.Less(t, i, 800, "%s: Tab is caught at %s", page, b.active())
			b.keys(kb.Tab)
			if evaluate[bool](b, "window.stops.delete(document.activeElement), document.activeElement === document.body || window.stops.size === 0") {
				break
			}
		}
		assert.Empty(t, evaluate[string](b, missedStops), "%s: Tab never stops here", page)
	}
}

// The focus can be seen wherever it is: it has an outline or a border that
// differs (WCAG 2.2, success criterion 2.4.7).
func TestAccess_focusCanBeSeen(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.open(a.url + room101)
	b.waitFor("document.readyState === 'complete'")
	for range 60 {
		b.keys(kb.Tab)
		said := evaluate[string](b, `(() => {
			const e = document.activeElement, s = getComputedStyle(e);
			if (e === document.body) return '';
			return s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 1 || s.boxShadow !== 'none' ? '' : e.outerHTML.slice(0, 140);
		})()`)
		assert.Empty(t, said, "the focus cannot be seen")
	}
}

// contrast gives every text that is hard to read: less than 4.5 to 1 against
// what lies behind it, 3 to 1 for large text (WCAG 2.2, success criterion
// 1.4.3, with its formula of relative luminance).
const contrast = `(() => {
	const canvas = new OffscreenCanvas(1, 1).getContext('2d', { willReadFrequently: true });
	const rgba = (color) => {
		canvas.clearRect(0, 0, 1, 1);
		canvas.fillStyle = color;
		canvas.fillRect(0, 0, 1, 1);
		return canvas.getImageData(0, 0, 1, 1).data;
	};
	const light = ([r, g, b]) => [r, g, b].map((v) => v / 255).map((v) => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
		.reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
	const behind = (e) => {
		for (; e; e = e.parentElement) {
			const c = rgba(getComputedStyle(e).backgroundColor);
			if (c[3] > 250) return c;
		}
		return rgba(getComputedStyle(document.documentElement).backgroundColor);
	};
	const hard = new Map();
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	for (let n = walk.nextNode(); n; n = walk.nextNode()) {
		const e = n.parentElement, s = getComputedStyle(e);
		if (!n.data.trim() || !e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) || e.closest('[disabled], .visually-hidden, option, script, style, svg')) continue;
		if (e.getBoundingClientRect().width < 2) continue;
		const [a, b] = [light(rgba(s.color)), light(behind(e))].sort((x, y) => y - x);
		const ratio = (a + 0.05) / (b + 0.05), size = parseFloat(s.fontSize);
		const least = size >= 24 || size >= 18.66 && s.fontWeight >= 700 ? 3 : 4.5;
		if (ratio < least) hard.set(e.tagName + '.' + e.className, ratio.toFixed(2) + ' ' + n.data.trim().slice(0, 30));
	}
	return [...hard].map((h) => h.join(': ')).join('\n');
})()`

func TestAccess_textCanBeReadOnItsGround(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	for _, scheme := range []string{"light", "dark"} {
		b.emulate("prefers-color-scheme", scheme)
		for _, page := range screenPages {
			b.open(a.url + page)
			b.waitFor("document.readyState === 'complete'")
			assert.Empty(t, evaluate[string](b, contrast), "%s in the %s look", page, scheme)
		}
	}
}

func (b *browser) emulate(feature, value string) {
	b.t.Helper()
	_, err := chromedp.Run(b.ctx, func(ctx context.Context, t *chromedp.Target) (cdp.Empty, error) {
		return cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: feature, Value: value}}})
	})
	require.NoError(b.t, err)
}

// At 200 % a window of 1440 pixels lays out as one of 720; at 400 % of 1280, as
// one of 320 (WCAG 2.2, success criteria 1.4.4 and 1.4.10). Tables may scroll
// in their own box.
func TestAccess_zoomNeverScrollsThePageSideways(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	for _, width := range []int{720, 320} {
		b.do(chromedp.EmulateViewport(int64(width), 450))
		for _, page := range screenPages {
			b.open(a.url + page)
			b.waitFor("document.readyState === 'complete'")
			if evaluate[int](b, "document.documentElement.scrollWidth") > width {
				assert.Fail(t, "the page scrolls sideways", "%s at %d: %s", page, width, evaluate[string](b, tooWide))
			}
		}
	}
}

// tooWide names what reaches beyond the window and does not scroll by itself.
const tooWide = `[...document.body.querySelectorAll('*')].filter((e) => {
	for (let p = e.parentElement; p && p !== document.body; p = p.parentElement) if (getComputedStyle(p).overflowX !== 'visible') return false;
	return e.getBoundingClientRect().right > innerWidth + 0.5;
}).map((e) => e.tagName + '#' + e.id + '.' + e.className + ' ' + Math.round(e.getBoundingClientRect().right)).slice(0, 8).join('; ')`

// Who asked for less motion gets none.
func TestAccess_lessMotionMeansNone(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.emulate("prefers-reduced-motion", "reduce")
	for _, page := range []string{"/", "/projects/p1", room101, "/projects/p1/documents"} {
		b.open(a.url + page)
		b.waitFor("document.readyState === 'complete'")
		moving := evaluate[string](b, `[...document.querySelectorAll('*')].filter((e) => { const s = getComputedStyle(e);
			return [...s.transitionDuration.split(','), ...s.animationDuration.split(',')].some((d) => parseFloat(d) > 0.01) || s.scrollBehavior === 'smooth';
		}).map((e) => e.tagName + '.' + e.className).slice(0, 5).join(', ')`)
		assert.Empty(t, moving, fmt.Sprintf("%s moves", page))
	}
}
