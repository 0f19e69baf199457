package intake

import (
	"bytes"
	"image/png"
	"net/http"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/store"
)

// plans is a PDF of pages of 420 x 297 mm, with a line on each.
func plans(t *testing.T, pages int, change ...func(*fpdf.Fpdf)) string {
	t.Helper()
	f := fpdf.New("L", "mm", "A3", "")
	for _, c := range change {
		c(f)
	}
	for range pages {
		f.AddPage()
		f.Line(20, 20, 400, 20)
	}
	var out bytes.Buffer
	require.NoError(t, f.Output(&out))
	return out.String()
}

// sent sends a file and waits until it is read.
func (a *app) sent(name, content string) string {
	a.T.Helper()
	got := a.send(name, content, "", "")
	require.Equal(a.T, http.StatusSeeOther, got.Code, got.Body.String())
	address := got.Header().Get("Location")
	a.settled(address)
	return address
}

func (a *app) settled(address string) *parcel {
	a.T.Helper()
	p, err := a.screen.shelf.get("p1", address[len(imports)+1:])
	require.NoError(a.T, err)
	if p.reading != nil {
		<-p.reading.finished
		return a.settled(address)
	}
	return p
}

func TestPages_aPageIsChosenPlacedByItsScaleAndUndone(t *testing.T) {
	a := newApp(t)
	address := a.sent("plans.pdf", plans(t, 3))
	page := a.Get(address).Body.String()
	assert.Contains(t, page, "Which page shows the plan?")
	assert.Contains(t, page, "3 pages")
	assert.Contains(t, page, "420 x 297 mm (A3)")
	small := a.Get(address + "/page/2")
	assert.Equal(t, "image/png", small.Header().Get("Content-Type"))
	_, err := png.Decode(small.Body)
	assert.NoError(t, err)
	assert.Equal(t, 422, a.Get(address+"/page/9").Code)

	for _, wrong := range []string{"4", "0", "-1", "two", "1e3"} {
		got := a.Plain(address+"/page", "page", wrong)
		assert.Equal(t, 422, got.Code, wrong)
		assert.Contains(t, got.Body.String(), "it has pages 1 to 3", wrong)
	}
	require.Equal(t, 303, a.Plain(address+"/page", "page", "2").Code)
	kept := a.settled(address)
	require.NotNil(t, kept.picture)
	page = a.Get(address).Body.String()
	assert.Contains(t, page, "plans.pdf, page 2, 2481 x 1754 pixels", "420 x 297 mm at 150 dots to the inch")
	assert.Contains(t, page, "Another page")
	assert.Contains(t, page, "The sheet is 420 x 297 mm (A3)")

	place := []string{"storey", "s1", "size", "scale", "scale", "1:100", "turn", "0", "x", "1 m", "y", "2 m", "opacity", "40"}
	wrong := append([]string{}, place...)
	wrong[5] = "one to a hundred"
	assert.Contains(t, a.Plain(address+"/apply", wrong...).Body.String(), "is no scale")
	require.Equal(t, 303, a.Plain(address+"/apply", place...).Code)
	plan, _, err := a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.InDelta(t, 42, float64(plan.Underlay.Width), 0.02, "420 mm at 1:100")
	assert.InDelta(t, 29.7, float64(plan.Underlay.Height), 0.02)
	assert.InDelta(t, 1, plan.Underlay.At.X, 1e-9)
	history, err := a.Store.History(t.Context(), "p1", store.HistoryFilter{})
	require.NoError(t, err)
	assert.Contains(t, history[0].Said, "placed page 2 of plans.pdf beneath Ground")
	assert.Contains(t, history[0].Said, "by its scale of 1:100")
	assert.Equal(t, "image/png", a.Get("/projects/p1/pictures/"+plan.Underlay.Picture).Header().Get("Content-Type"))

	_, err = a.Store.Undo(t.Context(), store.Request{ProjectID: "p1", Scope: store.PlanSubject("s1")})
	require.NoError(t, err)
	plan, _, err = a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Nil(t, plan.Underlay)
}

func TestPages_aSinglePageIsTakenAtOnce(t *testing.T) {
	a := newApp(t)
	address := a.sent("plan.pdf", plans(t, 1))
	page := a.Get(address).Body.String()
	assert.Contains(t, page, "Place this picture beneath a storey")
	assert.NotContains(t, page, "Another page")
}

func TestPages_refuses(t *testing.T) {
	a := newApp(t)
	locked := plans(t, 1, func(f *fpdf.Fpdf) { f.SetProtection(fpdf.CnProtectPrint, "secret", "owner") })
	for want, content := range map[string]string{
		"locked with a password": locked,
		"cut short or damaged":   plans(t, 1)[:120],
	} {
		got := a.send("plan.pdf", content, "", "")
		body := got.Body.String()
		if got.Code == 303 { // it took longer than the page waits
			a.settled(got.Header().Get("Location"))
			body = a.Get(got.Header().Get("Location")).Body.String()
		}
		assert.Contains(t, body, want)
		assert.Contains(t, body, "The file was not taken")
	}
}
