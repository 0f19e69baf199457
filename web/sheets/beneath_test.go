package sheets

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/store"
	"scopewright/store/intake/pdfpage"
)

// layBeneath puts a picture beneath the ground floor.
func (a *app) layBeneath(media string, data []byte, u domain.Underlay) {
	a.T.Helper()
	sha, err := a.Store.PutPicture(a.T.Context(), "p1", media, 10, 10, data)
	require.NoError(a.T, err)
	_, err = a.Store.Edit(a.T.Context(), store.Request{ProjectID: "p1", Scope: store.PlanSubject("s1")}, func(tx *store.Tx) (string, error) {
		plan, err := tx.Plan("s1")
		if err != nil {
			return "", err
		}
		u.Picture = sha
		plan.Underlay = &u
		return "placed a picture", tx.PutPlan(plan)
	})
	require.NoError(a.T, err)
}

func black(t *testing.T) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, image.NewGray(image.Rect(0, 0, 10, 10))))
	return out.Bytes()
}

// halfBlack draws the plan sheet and gives the box, in millimeters, and the area,
// in square millimeters, of what is black at half opacity.
func (a *app) halfBlack(query string) (box image.Rectangle, area, pixel float64) {
	a.T.Helper()
	got := a.Get(documents + "/plan.pdf?storey=s1&paper=a3" + query)
	require.Equal(a.T, http.StatusOK, got.Code, got.Body.String())
	page, err := pdfpage.Render(a.T.Context(), got.Body.Bytes(), 1, nil)
	require.NoError(a.T, err)
	m, err := png.Decode(bytes.NewReader(page.Data))
	require.NoError(a.T, err)
	pixel = 1000 * float64(page.Across)
	gray := func(x, y int) bool {
		g, ok := m.At(x, y).(color.Gray)
		return ok && g.Y > 120 && g.Y < 136
	}
	n := 0
	for y := range page.Height {
		for x := range page.Width {
			if gray(x, y) && (gray(x+2, y) && gray(x, y+2) && gray(x+2, y+2) || gray(x-2, y) && gray(x, y-2) && gray(x-2, y-2)) { // no edge of a letter
				box = box.Union(image.Rect(x, y, x+1, y+1))
				n++
			}
		}
	}
	return box, float64(n) * pixel * pixel, pixel
}

// A black picture of 2 x 2 m within the room of 8 x 7 m comes out in gray, as
// large as it is at a standard scale.
func TestPlan_printsThePictureBeneathWhereItIsWanted(t *testing.T) {
	a := newApp(t)
	assert.Contains(t, a.Get(documents).Body.String(), `name="with" value="underlay"`)
	a.layBeneath("image/png", black(t), domain.Underlay{At: geom.Pt(1, 4), Width: 2, Height: 2, Opacity: 0.5})

	_, area, _ := a.halfBlack("")
	assert.Less(t, area, 1.0, "without being asked it does not print")
	_, area, _ = a.halfBlack("&with=underlay")
	ratio := 2000 / math.Sqrt(area)
	near := math.Inf(1)
	for _, s := range drawing.StandardScales(units.US) {
		near = min(near, math.Abs(ratio/s.Ratio-1))
	}
	assert.Less(t, near, 0.03, "1:%.1f", ratio)

	svg := a.Get(documents + "/plan.svg?storey=s1&with=underlay").Body.String()
	assert.Contains(t, svg, `href="data:image/png;base64,`)
	assert.NotContains(t, a.Get(documents+"/plan.svg?storey=s1").Body.String(), "<image")
	page := a.Get(documents + "/plan.html?with=underlay").Body.String()
	assert.Contains(t, page, `<image href="/projects/p1/pictures/`)
	assert.Contains(t, page, "plan.pdf?open=1&amp;paper=letter&amp;with=underlay", "the page's own PDF shows it too")
	assert.Equal(t, 422, a.Get(documents+"/plan.pdf?with=devices").Code)
}

// One that is larger than the sheet ends where the drawing ends.
func TestPlan_clipsThePictureToTheDrawing(t *testing.T) {
	a := newApp(t)
	a.layBeneath("image/png", black(t), domain.Underlay{At: geom.Pt(-100, -100), Width: 300, Height: 300, Opacity: 0.5})
	box, _, pixel := a.halfBlack("&with=underlay")
	assert.Greater(t, float64(box.Min.X)*pixel, 11.0, "the margin of the sheet stays white")
	assert.Greater(t, float64(box.Min.Y)*pixel, 30.0, "and its title block")
	assert.Less(t, float64(box.Max.Y)*pixel, 297-30.0, "and its legend and foot")
}

func TestPlan_printsLinesBeneath(t *testing.T) {
	a := newApp(t)
	lines, _, err := drawing.NewTracing([]drawing.Stroke{{Points: []geom.Point{{X: 0, Y: 0}, {X: 8, Y: 7}}}})
	require.NoError(t, err)
	a.layBeneath(drawing.TracingMedia, lines.Encode(), domain.Underlay{At: geom.Pt(0, 0), Width: 8.2, Height: 7.2})
	svg := a.Get(documents + "/plan.svg?storey=s1&with=underlay").Body.String()
	assert.Contains(t, svg, `<g fill="none" stroke="#000" stroke-width="0.09" opacity="0.5"><path`)
	got := a.Get(documents + "/plan.pdf?storey=s1&with=underlay")
	assert.Equal(t, http.StatusOK, got.Code)
	assert.Contains(t, got.Body.String(), "/ca 0.5")
}

// A picture that is gone is told, not left out in silence.
func TestPlan_saysThatAPictureIsMissing(t *testing.T) {
	a := newApp(t)
	_, err := a.Store.Edit(t.Context(), store.Request{ProjectID: "p1", Scope: store.PlanSubject("s1")}, func(tx *store.Tx) (string, error) {
		return "placed a picture", tx.PutPlan(&domain.Plan{ID: "s1", Underlay: &domain.Underlay{Picture: "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef", Width: 3, Height: 3}})
	})
	require.NoError(t, err)
	got := a.Get(documents + "/plan.pdf?with=underlay")
	assert.Equal(t, http.StatusNotFound, got.Code)
	assert.Contains(t, got.Body.String(), "bring it in again")
}
