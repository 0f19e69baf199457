package web

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// send chooses a file on the import page and sends it, as a person does.
func (b *browser) send(page, file string) {
	b.t.Helper()
	whole, err := filepath.Abs(file)
	require.NoError(b.t, err)
	b.open(page)
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#file"), []string{whole}))
	b.press("form[data-upload]", "Read it")
	b.waitFor("location.pathname.includes('/import/')")
	b.waitFor("document.readyState === 'complete'")
}

// Areas of the file's rooms in square feet, as it states them.
const classroomArea, storeArea, galleryArea = 600, 200, 800

func TestBrowser_importsABuildingModel(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.send(a.url+"/projects/p1/import", "intake/testdata/three-rooms.gbxml.xml")
	b.waitFor("document.querySelectorAll('svg.thumb').length === 2")
	b.screenshot("import-plan-preview")
	type shape struct {
		Title string
		Width float64
	}
	shapes := evaluate[[]shape](b, `[...document.querySelectorAll('svg.thumb path:has(title)')].map((p) => ({ Title: p.textContent, Width: p.getBBox().width }))`)
	require.Len(t, shapes, 3)
	assert.InDelta(t, 3, shapes[0].Width/shapes[1].Width, 0.01, "the classroom is 30 ft wide, the store 10 ft")
	assert.NotEqual(t, evaluate[string](b, `getComputedStyle(document.querySelector('.thumb-new')).fill`), evaluate[string](b, `getComputedStyle(document.querySelector('.thumb-update')).fill`))

	b.press("#apply", "")
	b.waitFor("document.querySelector('h1')?.textContent === 'The plan is in'")
	b.waitFor("document.querySelectorAll('svg.thumb').length === 2")
	b.screenshot("import-plan-report")
	assert.Equal(t, "/projects/p1/storeys/s1/plan", evaluate[string](b, `document.querySelector('.storey a').getAttribute('href')`))
	scope, err := a.store.Load(t.Context(), "p1")
	require.NoError(t, err)
	areas := map[string]float64{}
	for i := range scope.Rooms {
		areas[scope.Rooms[i].Number] = scope.Rooms[i].Outline.Area() / (0.3048 * 0.3048)
	}
	assert.InDelta(t, classroomArea, areas["101"], 0.1)
	assert.InDelta(t, storeArea, areas["104"], 0.1)
	assert.InDelta(t, galleryArea, areas["U1"], 0.1)

	// Once more: nothing to do, and the page says so.
	b.send(a.url+"/projects/p1/import", "intake/testdata/three-rooms.gbxml.xml")
	b.waitFor("document.body?.textContent.includes('Nothing to store.')")
}

func TestBrowser_importsADrawingAfterItsQuestions(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	// R12 without a unit: one room of 360 x 240 units (30 ft x 20 ft in inches) on a layer that says nothing.
	const drawing = "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" +
		"0\nPOLYLINE\n8\nSHAPES\n66\n1\n70\n1\n" +
		"0\nVERTEX\n8\nSHAPES\n10\n0\n20\n0\n0\nVERTEX\n8\nSHAPES\n10\n360\n20\n0\n0\nVERTEX\n8\nSHAPES\n10\n360\n20\n240\n0\nVERTEX\n8\nSHAPES\n10\n0\n20\n240\n" +
		"0\nSEQEND\n8\nSHAPES\n0\nTEXT\n8\nWORDS\n10\n100\n20\n100\n40\n8\n1\n102 Meeting\n0\nENDSEC\n0\nEOF\n"
	file := filepath.Join(t.TempDir(), "level-1.dxf")
	require.NoError(t, os.WriteFile(file, []byte(drawing), 0o600))
	b.send(a.url+"/projects/p1/import", file)
	b.waitFor("document.body?.textContent.includes('The drawing names no unit.')")
	b.screenshot("import-drawing-questions")
	evaluate[bool](b, `(() => {
		document.getElementById('unit').value = 'in';
		const row = [...document.querySelectorAll('.layers tr')].find((r) => r.textContent.includes('SHAPES'));
		row.querySelector('select').value = 'rooms';
		return true;
	})()`)
	b.press("#answers", "Read it like this")
	b.waitFor("document.querySelectorAll('svg.thumb path:has(title)').length === 1")
	b.press("#apply", "")
	b.waitFor("document.querySelector('h1')?.textContent === 'The plan is in'")
	room, err := a.store.Room(t.Context(), "room102")
	require.NoError(t, err)
	assert.InDelta(t, 600*0.3048*0.3048, room.Resolved.Outline.Area(), 0.01)
}

// picture writes a PNG of a black frame on white.
func picture(t *testing.T, width, height int) string {
	t.Helper()
	pic := image.NewGray(image.Rect(0, 0, width, height))
	for x := range width {
		for y := range height {
			if x > 20 && y > 20 && x < width-20 && y < height-20 {
				pic.Set(x, y, color.White)
			}
		}
	}
	file := filepath.Join(t.TempDir(), "scan.png")
	out, err := os.Create(file)
	require.NoError(t, err)
	require.NoError(t, png.Encode(out, pic))
	require.NoError(t, out.Close())
	return file
}

func TestBrowser_placesAPictureBeneathAStorey(t *testing.T) {
	b := newBrowser(t)
	a := newApp(t, smallScope())
	b.send(a.url+"/projects/p1/import", picture(t, 1200, 800))
	b.waitFor("document.querySelector('#picture.live image')")
	// Two clicks, a quarter and three quarters of the way across, in the middle.
	evaluate[bool](b, `(() => { document.getElementById('picture').scrollIntoView(); return true; })()`)
	for _, part := range []float64{0.25, 0.75} {
		x := evaluate[float64](b, fmt.Sprintf(`(() => { const svg = document.querySelector('#picture svg'); const m = svg.getScreenCTM(); return new DOMPoint(%g, 300).matrixTransform(m).x; })()`, part*1200))
		y := evaluate[float64](b, `new DOMPoint(0, 300).matrixTransform(document.querySelector('#picture svg').getScreenCTM()).y`)
		b.do(chromedp.MouseClickXY(x, y))
	}
	b.waitFor("document.getElementById('apart').textContent.startsWith('A to B: ')")
	assert.InDelta(t, 300, evaluate[float64](b, "Number(document.getElementById('ax').value)"), 2)
	assert.InDelta(t, 900, evaluate[float64](b, "Number(document.getElementById('bx').value)"), 2)
	b.typeInto("distance", "15 m")
	b.waitFor("document.getElementById('placing-said').textContent.includes('0.33 % wrong')") // 2 pixels of 600
	b.screenshot("import-picture")
	b.press("#placing", "Place it")
	b.waitFor("location.pathname.endsWith('/plan')")
	b.waitFor("document.querySelector('g[data-layer=\"underlay\"] image')")
	b.screenshot("import-picture-placed")
	loaded := evaluate[float64](b, `new Promise((done) => { const pic = new Image(); pic.onload = () => done(pic.naturalWidth); pic.onerror = () => done(0);
		pic.src = document.querySelector('g[data-layer="underlay"] image').getAttribute('href'); })`)
	assert.InDelta(t, 1200, loaded, 0, "the picture is served to the plan")
	plan, _, err := a.store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.InDelta(t, 30, float64(plan.Underlay.Width), 0.15, "600 of 1200 pixels are 15 m")
	b.open("about:blank") // ends the stream before the server
}
