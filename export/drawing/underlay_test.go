package drawing_test

import (
	"encoding/base64"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// square is a closed square of 2 m and a line of 5 m beside it, in meters.
func square() []drawing.Stroke {
	return []drawing.Stroke{
		{Points: []geom.Point{{X: 10, Y: 20}, {X: 12, Y: 20}, {X: 12, Y: 22}, {X: 10, Y: 22}}, Closed: true},
		{Points: []geom.Point{{X: 13, Y: 20}, {X: 13, Y: 25}}},
		{Points: []geom.Point{{X: 11, Y: 21}, {X: 11, Y: 21}}}, // no length: left out
	}
}

func TestTracing_isAPictureOfAMillimeterAPixel(t *testing.T) {
	tracing, corner, err := drawing.NewTracing(square())
	require.NoError(t, err)
	assert.True(t, corner.Near(geom.Pt(9.9, 19.9), 1e-9), "%v", corner)
	assert.Equal(t, []int{3200, 5200}, []int{tracing.Width, tracing.Height}, "3 x 5 m, and 0.1 m around them")
	assert.Equal(t, 5, tracing.Pieces())
	assert.Len(t, tracing.Runs, 2)
	text := string(tracing.Encode())
	assert.Contains(t, text, `width="3200" height="5200" viewBox="0 0 32000 52000"`)
	assert.Contains(t, text, "M1000 51000l20000 0 0 -20000 -20000 0zM31000 51000l0 -50000")
	decoder := xml.NewDecoder(strings.NewReader(text))
	for {
		if _, err := decoder.Token(); err != nil {
			require.ErrorIs(t, err, io.EOF)
			break
		}
	}
}

func TestTracing_refuses(t *testing.T) {
	_, _, err := drawing.NewTracing(nil)
	assert.ErrorIs(t, err, drawing.ErrTracingEmpty)
	_, _, err = drawing.NewTracing([]drawing.Stroke{{Points: []geom.Point{{X: math.NaN()}, {X: 1}}}})
	assert.ErrorIs(t, err, drawing.ErrTracingEmpty)
	_, _, err = drawing.NewTracing([]drawing.Stroke{{Points: []geom.Point{{}, {X: 5000}}}})
	assert.ErrorIs(t, err, drawing.ErrTracingLarge)
	many := drawing.Stroke{}
	for i := range drawing.MaxTracingPoints + 2 {
		many.Points = append(many.Points, geom.Pt(float64(i%2), float64(i%1000)))
	}
	_, _, err = drawing.NewTracing([]drawing.Stroke{many})
	assert.ErrorIs(t, err, drawing.ErrTracingLarge)
}

// What is written is read again as it was, and nothing that was not.
func TestTracing_readsWhatItWrote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var lines []drawing.Stroke
		for range rapid.IntRange(1, 8).Draw(t, "runs") {
			l := drawing.Stroke{Closed: rapid.Bool().Draw(t, "closed")}
			for range rapid.IntRange(2, 9).Draw(t, "points") {
				l.Points = append(l.Points, geom.Pt(rapid.Float64Range(-300, 300).Draw(t, "x"), rapid.Float64Range(-300, 300).Draw(t, "y")))
			}
			lines = append(lines, l)
		}
		tracing, corner, err := drawing.NewTracing(lines)
		if errors.Is(err, drawing.ErrTracingEmpty) {
			t.Skip("all in one place")
		}
		if err != nil {
			t.Fatal(err)
		}
		again, err := drawing.ReadTracing(tracing.Encode())
		if err != nil {
			t.Fatal(err)
		}
		assert.Equal(t, tracing, again)
		first, at := lines[0].Points[0], again.Runs[0].Points[0]
		back := geom.Pt(corner.X+float64(at[0])/1e4, corner.Y+float64(again.Height)/1e3-float64(at[1])/1e4)
		if len(again.Runs) == len(lines) && !back.Near(first, 1e-4) {
			t.Fatalf("%v came back as %v", first, back)
		}
	})
}

func FuzzReadTracing(f *testing.F) {
	tracing, _, err := drawing.NewTracing(square())
	require.NoError(f, err)
	whole := string(tracing.Encode())
	f.Add(whole)
	for _, wrong := range []string{"", "<svg>", whole[:len(whole)/2], strings.Replace(whole, "M0 ", "M99999999999 ", 1), strings.Replace(whole, "<path", "<script>alert(1)</script><path", 1), strings.Replace(whole, "z", "", 1) + " "} {
		f.Add(wrong)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := drawing.ReadTracing([]byte(text))
		if err != nil {
			return
		}
		again, err := drawing.ReadTracing(got.Encode())
		if err != nil {
			t.Fatalf("read once and not again: %v", err)
		}
		assert.Equal(t, got, again)
	})
}

// On paper the picture shows only where it was handed over, beneath rooms
// without their ground, and no further than the drawing.
func TestUnderlay_prints(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	plan.Underlay = underlay()
	held := map[string]drawing.Stored{"abc": {Media: "image/png", Data: []byte("pixels")}}
	without := drawing.StoreyView(p, plan, rooms, drawing.Options{Furniture: true}).Draw(drawing.DefaultScale)
	view := drawing.StoreyView(p, plan, rooms, drawing.Options{Furniture: true, Beneath: held})
	pic := view.Draw(drawing.DefaultScale)
	assert.Equal(t, []float64{without.Width, without.Height}, []float64{pic.Width, pic.Height}, "the drawing is no larger for it")
	require.NotNil(t, pic.Underlay)
	assert.Equal(t, held["abc"], pic.Underlay.Stored)
	assert.Less(t, pic.Underlay.Clip.Max.Y, pic.Height, "the legend stays clear")
	assert.NotContains(t, pic.Texts(), "The picture beneath the drawing is left out of this print.")
	assert.Contains(t, pic.Texts(), "The picture beneath is a drawing by others, as received: no part of this design.")
	for _, item := range pic.Items {
		if item.Layer != drawing.LayerRooms {
			continue
		}
		for _, s := range item.Shapes {
			if a, ok := s.(drawing.Area); ok {
				assert.NotEqual(t, drawing.StyleRoom, a.Style, "the ground of a room would cover it")
			}
		}
	}
	text := svgOf(t, pic, drawing.SVGOptions{File: true})
	assert.Contains(t, text, `href="data:image/png;base64,`+base64.StdEncoding.EncodeToString([]byte("pixels")))
	assert.Contains(t, text, `overflow="hidden"`)
	assert.Contains(t, text, `opacity="0.5"`)
	page := svgOf(t, pic, drawing.SVGOptions{PictureURL: func(sha string) string { return "/pictures/" + sha }})
	assert.Contains(t, page, `href="/pictures/abc"`)
	assert.NotContains(t, page, "data:image")

	none := drawing.RoomView(p, plan, rooms[0], rooms, drawing.Options{Furniture: true, Beneath: held}).Draw(drawing.DefaultScale)
	assert.Nil(t, none.Underlay, "a room's own plan, which people sign, is without it")
}

// A tracing prints as lines: at 1:100 the square of 2 m is 20 mm wide.
func TestUnderlay_tracingPrintsAsLines(t *testing.T) {
	tracing, _, err := drawing.NewTracing(square())
	require.NoError(t, err)
	p, plan, rooms := classrooms(1, units.SI)
	plan.Underlay = underlay()
	plan.Underlay.At, plan.Underlay.Turn = geom.Pt(1, 1), 0
	plan.Underlay.Width, plan.Underlay.Height = 3.2, 5.2
	held := map[string]drawing.Stored{"abc": {Media: drawing.TracingMedia, Data: tracing.Encode()}}
	pic := drawing.StoreyView(p, plan, rooms, drawing.Options{Furniture: true, Beneath: held}).Draw(drawing.DefaultScale)
	lines := pic.Underlay.Lines(tracing)
	require.Len(t, lines, 2)
	box, _ := geom.BoundsOf(lines[0].Points...)
	assert.InDelta(t, 20, box.Width(), 1e-6)
	assert.True(t, pic.ToPaper(geom.Pt(1.1, 1.1)).Near(lines[0].Points[0], 1e-6), "its corner lies where the plan says")
	text := svgOf(t, pic, drawing.SVGOptions{File: true})
	assert.NotContains(t, text, "<image")
	assert.Contains(t, text, `<g fill="none" stroke="#000" stroke-width="0.09" opacity="0.5"><path d="M`)

	plan.Underlay.At = geom.Pt(500, 500)
	pic = drawing.StoreyView(p, plan, rooms, drawing.Options{Furniture: true, Beneath: held}).Draw(drawing.DefaultScale)
	assert.Empty(t, pic.Underlay.Lines(tracing), "what lies beyond the drawing is left out")
}
