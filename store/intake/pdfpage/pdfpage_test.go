package pdfpage

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/png"
	"testing"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/raster"
)

// pdf makes a PDF of pages in millimeters, each with a black bar 100 mm long and
// 2 mm high, 30 mm from the left and 20 mm from the top.
func pdf(t testing.TB, pages [][2]float64, change ...func(*fpdf.Fpdf)) []byte {
	t.Helper()
	f := fpdf.New("P", "mm", "A4", "")
	for _, f2 := range change {
		f2(f)
	}
	for _, p := range pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: p[0], Ht: p[1]})
		f.SetFillColor(0, 0, 0)
		f.Rect(30, 20, 100, 2, "F")
	}
	var out bytes.Buffer
	require.NoError(t, f.Output(&out))
	return out.Bytes()
}

func gray(t testing.TB, p *raster.Picture) *image.Gray {
	t.Helper()
	m, err := png.Decode(bytes.NewReader(p.Data))
	require.NoError(t, err)
	g, ok := m.(*image.Gray)
	require.True(t, ok, "%T", m)
	return g
}

// The bar of an A3 page is found where it was drawn: the picture's own scale is
// that of the paper. 100 mm at 150 dots to the inch are 590.6 pixels.
func TestRender_keepsThePapersScale(t *testing.T) {
	data := pdf(t, [][2]float64{{210, 297}, {420, 297}})
	got, err := Render(t.Context(), data, 2, nil)
	require.NoError(t, err)
	width, height := got.Paper()
	assert.InDelta(t, 0.420, float64(width), 0.0003, "ISO 216: A3 is 420 mm wide")
	assert.InDelta(t, 0.297, float64(height), 0.0003)

	m, left, right := gray(t, got), -1, -1
	row := int(0.021 / float64(got.Down))
	for x := range got.Width {
		if m.GrayAt(x, row).Y < 128 {
			if left < 0 {
				left = x
			}
			right = x + 1
		}
	}
	assert.InDelta(t, 0.030, float64(left)*float64(got.Across), 0.0002)
	assert.InDelta(t, 0.100, float64(right-left)*float64(got.Across), 0.0003)

	again, err := raster.Read(got.Data)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(got.Across), float64(again.Across), 1e-4, "the picture itself says its resolution")
}

func TestSurvey_countsAndMeasures(t *testing.T) {
	var stages []int64
	got, err := Survey(t.Context(), pdf(t, [][2]float64{{210, 297}, {841, 594}, {609.6, 914.4}}), func(done, total int64) {
		assert.EqualValues(t, 100, total)
		stages = append(stages, done)
	})
	require.NoError(t, err)
	assert.Equal(t, 3, got.Pages)
	require.Len(t, got.Sizes, 3)
	assert.InDelta(t, 0.841, float64(got.Sizes[1].Width), 1e-4, "ISO 216: A1 lying")
	assert.InDelta(t, 36*units.MetresPerInch, float64(got.Sizes[2].Height), 1e-4, "Arch D is 24 x 36 in")
	assert.Equal(t, []int64{ready, opened}, stages)
}

func TestOnly_drawsAtOnceWhereThereIsNothingToChoose(t *testing.T) {
	picture, contents, err := Only(t.Context(), pdf(t, [][2]float64{{210, 297}}), nil)
	require.NoError(t, err)
	assert.Equal(t, 1, contents.Pages)
	require.NotNil(t, picture)
	picture, contents, err = Only(t.Context(), pdf(t, [][2]float64{{210, 297}, {210, 297}}), nil)
	require.NoError(t, err)
	assert.Equal(t, 2, contents.Pages)
	assert.Nil(t, picture)
}

func TestThumbnail_fitsItsBox(t *testing.T) {
	got, err := Thumbnail(t.Context(), pdf(t, [][2]float64{{210, 297}, {841, 594}}), 2, 240)
	require.NoError(t, err)
	assert.InDelta(t, 230, got.Width, 12, "7 dots to the inch of 33 inches")
	assert.LessOrEqual(t, got.Width, 240)
	_, err = Thumbnail(t.Context(), pdf(t, [][2]float64{{210, 297}}), 2, 240)
	assert.ErrorContains(t, err, "there is no page 2")
}

// However large the page, the picture stays within its bounds.
func TestDotsOf_staysWithinThePixels(t *testing.T) {
	for _, s := range []Size{{0.21, 0.297}, {0.841, 1.189}, {1.2, 1.2}, {5.08, 5.08}, {0.05, 5.08}, {0.02, 0.02}} {
		dots, err := dotsOf(s)
		require.NoError(t, err)
		width, height := float64(s.Width/units.MetresPerInch)*float64(dots)+1, float64(s.Height/units.MetresPerInch)*float64(dots)+1
		assert.LessOrEqual(t, width*height, float64(raster.MaxPixels), "%v at %d", s, dots)
		assert.LessOrEqual(t, dots, MaxDots)
	}
	_, err := dotsOf(Size{0.001, 0.3})
	assert.ErrorContains(t, err, "too small for a plan")
	_, err = dotsOf(Size{})
	assert.ErrorContains(t, err, "no size")
}

// Each file that cannot be used says what it is and what to do.
func TestPDF_refusals(t *testing.T) {
	whole := pdf(t, [][2]float64{{210, 297}})
	locked := pdf(t, [][2]float64{{210, 297}}, func(f *fpdf.Fpdf) { f.SetProtection(fpdf.CnProtectPrint, "secret", "owner") })
	empty := bytes.Replace(bytes.Replace(whole, []byte("/Count 1"), []byte("/Count 0"), 1), []byte("/Kids [3 0 R "), []byte("/Kids [      "), 1)
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"locked":       {locked, "locked with a password"},
		"only a head":  {[]byte("%PDF-1.7\n"), "cut short or damaged"},
		"nonsense":     {append([]byte("%PDF-1.7\n"), bytes.Repeat([]byte{0xFE, 7}, 5000)...), "cut short or damaged"},
		"cut short":    {whole[:len(whole)/8], "cut short or damaged"},
		"without page": {empty, "The PDF"},
		"nothing":      {nil, "cut short or damaged"},
	} {
		_, err := Render(t.Context(), c.data, 1, nil)
		var refused *building.Refusal
		require.ErrorAs(t, err, &refused, name)
		assert.Contains(t, err.Error(), c.want, name)
	}
	_, err := Render(t.Context(), whole, 2, nil)
	assert.EqualError(t, err, "The PDF has 1 page; there is no page 2.")
	_, err = Render(t.Context(), whole, 0, nil)
	assert.ErrorContains(t, err, "there is no page 0")
}

func TestRender_canBeStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := Render(ctx, pdf(t, [][2]float64{{210, 297}}), 1, nil)
	assert.ErrorIs(t, err, context.Canceled)

	// A page that fills itself with fine hatching takes a while to draw.
	slow := pdf(t, nil, func(f *fpdf.Fpdf) {
		f.AddPageFormat("P", fpdf.SizeType{Wd: 841, Ht: 1189})
		for i := range 60_000 {
			f.Line(0, float64(i%1189), 841, float64((i*7919)%1189))
		}
	})
	ctx, cancel = context.WithCancel(t.Context())
	begun := make(chan struct{}, 8)
	failed := make(chan error, 1)
	go func() {
		_, err := Render(ctx, slow, 1, func(done, _ int64) {
			if done == opened {
				begun <- struct{}{}
			}
		})
		failed <- err
	}()
	<-begun
	time.Sleep(50 * time.Millisecond)
	cancel()
	stopped := time.Now()
	select {
	case err = <-failed:
	case <-time.After(20 * time.Second):
		t.Fatal("still drawing 20 s after it was stopped")
	}
	assert.True(t, errors.Is(err, context.Canceled), "%v", err)
	assert.Less(t, time.Since(stopped), 10*time.Second)
}

// Whatever the bytes: a picture within its bounds, or a refusal. A fault of the
// engine is neither.
func FuzzRender(f *testing.F) {
	f.Add(pdf(f, [][2]float64{{210, 297}}))
	f.Add([]byte("%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj 2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj 3 0 obj<</Type/Page/MediaBox[0 0 99999999 9]>>endobj trailer<</Root 1 0 R>>"))
	f.Add([]byte("%PDF-1.7"))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := Render(t.Context(), data, 1, nil)
		var refused *building.Refusal
		if err != nil && !errors.As(err, &refused) {
			t.Fatalf("neither picture nor refusal: %v", err)
		}
		if err == nil && (got.Width <= 0 || got.Height <= 0 || got.Width > raster.MaxPixels/got.Height || got.Across <= 0) {
			t.Fatalf("taken: %d x %d", got.Width, got.Height)
		}
	})
}
