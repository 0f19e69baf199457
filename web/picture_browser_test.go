package web

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// planPDF writes a PDF of two sheets, A3 lying: a text, and a plan at 1:100 of
// two rooms, 8 x 10 m and 6 x 7 m, as planScope draws them, whose lower left
// corner lies 40 mm from the left and 60 mm from below.
func planPDF(t *testing.T) string {
	t.Helper()
	f := fpdf.New("L", "mm", "A3", "")
	f.SetFont("Helvetica", "", 18)
	f.AddPage()
	f.Text(40, 40, "Sheet list")
	f.AddPage()
	f.SetLineWidth(1.5)
	f.Rect(40, 297-60-100, 80, 100, "D")
	f.Rect(122, 297-60-70, 60, 70, "D")
	f.SetLineWidth(0.3)
	f.Line(40, 250, 120, 250)
	f.Text(70, 248, "8.00 m")
	f.Text(60, 190, "Classroom")
	f.Text(140, 200, "Office")
	f.Text(40, 280, "Invented plan, 1:100")
	file := filepath.Join(t.TempDir(), "plans.pdf")
	require.NoError(t, f.OutputFileAndClose(file))
	return file
}

// typeInto fills a field as typing does.
func (b *browser) typeInto(id, text string) {
	b.t.Helper()
	b.fill(id, text)
	evaluate[bool](b, fmt.Sprintf(`document.getElementById(%q).dispatchEvent(new Event('input', {bubbles: true}))`, id))
}

func TestBrowser_placesAPageOfAPDFByItsScale(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, planScope())
	b.do(chromedp.EmulateViewport(1440, 1000))
	b.send(a.url+"/projects/p1/import", planPDF(t))
	b.waitFor("document.querySelectorAll('.pages img').length === 2")
	b.waitFor("[...document.querySelectorAll('.pages img')].every((one) => one.complete && one.naturalWidth > 0)")
	b.screenshot("picture-pages")
	b.press(".pages li:nth-child(2)", "Page 2")
	b.waitFor("document.querySelector('#picture.live image')")
	assert.Contains(t, evaluate[string](b, "document.querySelector('h1 + .soft').textContent"), "page 2")
	b.waitFor("document.getElementById('by-scale').checked")
	// Its lower left corner lies 4 m left of and 6 m below that of the first room.
	for field, value := range map[string]string{"scale": "1:100", "x": "-4 m", "y": "-6 m", "opacity": "60"} {
		b.typeInto(field, value)
	}
	b.waitFor("document.getElementById('placing-said').textContent.includes('At 1:100 the picture is')")
	b.screenshot("picture-page-by-scale")
	b.press("#placing", "Place it")
	b.waitFor("location.pathname.endsWith('/plan')")
	b.waitFor("document.querySelector('g[data-layer=\"underlay\"] image')")
	b.waitFor(planShown)
	plan, _, err := a.store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.InDelta(t, 42, float64(plan.Underlay.Width), 0.02)
	b.screenshot("picture-page-placed")
	evaluate[bool](b, "document.documentElement.dataset.theme = 'dark', true")
	b.screenshot("picture-page-placed-dark")

	b.open(a.url + "/projects/p1/documents/plan.html?with=underlay&paper=a3")
	b.waitFor("document.querySelector('svg.plan-print image')")
	b.screenshot("picture-page-printed")
	assert.Empty(t, b.takeComplaints(), "the page's policy lets the picture through")
	b.open("about:blank")
}

func TestBrowser_seesAStretchedScan(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.do(chromedp.EmulateViewport(1440, 1000))
	b.send(a.url+"/projects/p1/import", picture(t, 1200, 800))
	b.waitFor("document.querySelector('#picture.live image')")
	evaluate[bool](b, `(() => { document.getElementById('second-pair').open = true; return true; })()`)
	evaluate[bool](b, `(() => { document.getElementById('picture').scrollIntoView({block: 'end'}); return true; })()`)
	click := func(x, y float64) {
		at := evaluate[[]float64](b, fmt.Sprintf(`(() => { const p = new DOMPoint(%g, %g).matrixTransform(document.querySelector('#picture svg').getScreenCTM()); return [p.x, p.y]; })()`, x, y))
		b.do(chromedp.MouseClickXY(at[0], at[1]))
	}
	click(100, 700)
	click(1100, 700)
	click(100, 700+0) // on A: it is taken up again, not set anew
	click(150, 650)
	click(150, 150)
	b.waitFor("document.getElementById('apart').textContent.includes('C to D: ')")
	b.typeInto("distance", "50 ft")
	b.typeInto("second", "26 ft")
	b.waitFor("document.getElementById('placing-said').textContent.includes('The picture is stretched: down lengths are 4')")
	b.screenshot("picture-stretched")
	b.press("#placing", "Place it")
	b.waitFor("location.pathname.endsWith('/plan')")
	plan, _, err := a.store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	u := plan.Underlay
	assert.InDelta(t, 26.0/25, float64(u.Height/800)/float64(u.Width/1200), 0.005, "500 pixels down are 26 ft, across they are 25")
	b.open("about:blank")
}

// tracedDXF writes a drawing in meters: the outline of a room of 8 x 10 m, and a
// short line that ends at 12.34, 5.67.
func tracedDXF(t *testing.T) string {
	t.Helper()
	lines := [][4]float64{{0, 0, 8, 0}, {8, 0, 8, 10}, {8, 10, 0, 10}, {0, 10, 0, 0}, {11, 5, 12.34, 5.67}}
	var s strings.Builder
	s.WriteString("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n6\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n")
	for _, l := range lines {
		fmt.Fprintf(&s, "0\nLINE\n8\nA-WALL\n10\n%g\n20\n%g\n11\n%g\n21\n%g\n", l[0], l[1], l[2], l[3])
	}
	s.WriteString("0\nENDSEC\n0\nEOF\n")
	file := filepath.Join(t.TempDir(), "level-1.dxf")
	require.NoError(t, os.WriteFile(file, []byte(s.String()), 0o600))
	return file
}

func TestBrowser_snapsToTheLinesOfADrawingBeneath(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.do(chromedp.EmulateViewport(1440, 1000))
	b.send(a.url+"/projects/p1/import", tracedDXF(t))
	b.do(chromedp.Click(chromedp.CSS("a[href$='/beneath']")))
	b.waitFor("document.querySelector('h1')?.textContent.startsWith('Which lines')")
	b.screenshot("picture-lines-layers")
	b.press("form[action$='/beneath']", "Take these lines")
	b.waitFor("document.querySelector('#picture.live image')")
	b.screenshot("picture-lines")
	b.press("#placing", "Place it")
	b.waitFor("location.pathname.endsWith('/plan')")
	b.waitFor("document.querySelector('g[data-layer=\"underlay\"] image')")
	b.waitFor(planShown)

	// The wall tool's point jumps to the line's end, to the millimeter.
	b.do(chromedp.Click(chromedp.CSS("button[data-tool='wall']")))
	require.Eventually(t, func() bool {
		b.mouse("hover", 12.36, 5.69)
		return evaluate[string](b, "document.getElementById('plan-snapped').textContent") == "corner"
	}, patience, patience/50)
	b.screenshot("picture-lines-snapped")
	b.clickPlan(12.36, 5.69)
	b.clickPlan(8.03, 9.98)
	b.do(chromedp.KeyEvent("\r"))
	var walls []domain.Wall
	require.Eventually(t, func() bool {
		plan, _, err := a.store.Plan(t.Context(), "p1", "s1")
		walls = plan.Walls
		return err == nil && len(walls) == 1
	}, patience, patience/50)
	assert.True(t, walls[0].A.Near(geom.Pt(12.34, 5.67), 0.0006), "%v", walls[0].A)
	assert.True(t, walls[0].B.Near(geom.Pt(8, 10), 0.0006), "%v", walls[0].B)

	b.saved()
	b.open("about:blank")
}
