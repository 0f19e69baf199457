package drawing_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// tagBoxes gives the places of tags and room names, by a width that usual faces keep.
func tagBoxes(pic *drawing.Picture) (texts []string, boxes []geom.Box) {
	for _, i := range pic.Items {
		if i.Class != "device" && i.Class != "name" {
			continue
		}
		for _, s := range i.Shapes {
			if t, ok := s.(drawing.Text); ok {
				half := float64(len(t.Text)) * t.Size * 0.5 / 2
				texts = append(texts, t.Text)
				boxes = append(boxes, geom.Box{Min: drawing.Point{X: t.At.X - half, Y: t.At.Y - 0.75*t.Size}, Max: drawing.Point{X: t.At.X + half, Y: t.At.Y}})
			}
		}
	}
	return texts, boxes
}

func TestRoom_labelsOfAnOrdinaryRoomKeepApart(t *testing.T) {
	p, plan, rooms := classrooms(4, units.US)
	pic := drawing.RoomView(p, plan, rooms[2], rooms, drawing.Options{Furniture: true, Spread: true}).Fit(190, 136)
	texts, boxes := tagBoxes(pic)
	require.Contains(t, texts, "103")
	require.Contains(t, texts, "PS-1")
	for i := range boxes {
		for j := range i {
			overlap := boxes[i].Min.X < boxes[j].Max.X && boxes[j].Min.X < boxes[i].Max.X && boxes[i].Min.Y < boxes[j].Max.Y && boxes[j].Min.Y < boxes[i].Max.Y
			assert.False(t, overlap, "%s lies over %s", texts[i], texts[j])
		}
	}
}

func TestSpread_symbolsOfOnePlaceStandBesideEachOther(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	at := geom.Pt(4, 3.5)
	for i := range rooms[0].Design.Devices {
		rooms[0].Design.Devices[i].At = &at
	}
	symbols := func(opt drawing.Options) (out []drawing.Symbol) {
		for _, i := range drawing.Storey(p, plan, rooms, opt).Items {
			for _, s := range i.Shapes {
				if symbol, ok := s.(drawing.Symbol); ok {
					out = append(out, symbol)
				}
			}
		}
		return out
	}
	apart := symbols(drawing.Options{Spread: true})
	for i := range apart {
		for j := range i {
			assert.Greater(t, apart[i].At.Distance(apart[j].At), apart[i].Size*0.6, "%s and %s", apart[i].Name, apart[j].Name)
		}
	}
	for _, s := range symbols(drawing.Options{}) {
		assert.Equal(t, apart[0].At, s.At, "on screen each stands in its place")
	}
}

func TestStorey_overviewSaysWhatItLeavesOut(t *testing.T) {
	p, plan, rooms := classrooms(40, units.SI)
	small := drawing.StoreyView(p, plan, rooms, drawing.Options{Furniture: true}).Fit(190, 150)
	require.Greater(t, small.Scale.Ratio, 260.0)
	text := strings.Join(small.Texts(), "\n")
	assert.Contains(t, text, "Overview: tags, luminaires and seats have no room at this scale")
	assert.NotContains(t, text, "PS-1")
	for _, r := range rooms {
		assert.Contains(t, text, r.Number, "every room is named at every scale")
	}
	large := drawing.StoreyView(p, plan, rooms, drawing.Options{Furniture: true}).Fit(890, 500)
	text = strings.Join(large.Texts(), "\n")
	assert.NotContains(t, text, "Overview")
	assert.Equal(t, 40, strings.Count(text, "PS-1\n"))
	for _, w := range drawing.StoreyView(p, plan, rooms, drawing.Options{Furniture: true}).Words() {
		assert.Contains(t, text, w)
	}
}

// The bar must measure what its labels say: it is what counts on a print of another size.
func TestScaleBar_measuresWhatItSays(t *testing.T) {
	for _, sys := range []units.System{units.SI, units.US} {
		p, plan, rooms := classrooms(2, sys)
		pic := drawing.StoreyView(p, plan, rooms, drawing.Options{Furniture: true}).Fit(250, 180)
		var length float64
		var label string
		for _, i := range pic.Items {
			if i.Class != "scale-bar" {
				continue
			}
			for _, s := range i.Shapes {
				switch s := s.(type) {
				case drawing.Area:
					for _, at := range s.Rings[0] {
						length = max(length, at.X-i.Shapes[0].(drawing.Area).Rings[0][0].X)
					}
				case drawing.Text:
					if strings.HasSuffix(s.Text, " m") || strings.HasSuffix(s.Text, " ft") {
						label = s.Text
					}
				}
			}
		}
		want, err := units.ParseLength(label, sys)
		require.NoError(t, err, label)
		assert.InDelta(t, float64(want)*pic.Scale.PerMeter(), length, 0.01, label)
	}
}

func TestNorth_turnsClockwise(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	letter := func(degrees float64) (drawing.Point, drawing.Point) {
		plan.North = degrees
		for _, i := range drawing.StoreyView(p, plan, rooms, drawing.Options{Furniture: true}).Fit(200, 200).Items {
			if i.Class == "north" {
				tip := i.Shapes[1].(drawing.Area).Rings[0][0]
				return tip, i.Shapes[0].(drawing.Disc).At
			}
		}
		return drawing.Point{}, drawing.Point{}
	}
	tip, middle := letter(0)
	assert.Less(t, tip.Y, middle.Y, "up the sheet")
	assert.InDelta(t, middle.X, tip.X, 1e-9)
	tip, middle = letter(90)
	assert.Greater(t, tip.X, middle.X, "to the right")
	assert.InDelta(t, middle.Y, tip.Y, 1e-9)
}

func TestWalls_areCutAtOpeningsAndFillCorners(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	pic := drawing.Storey(p, plan, rooms, drawing.Options{})
	pieces := map[string][]drawing.Shape{}
	for _, i := range pic.Items {
		pieces[i.ID] = i.Shapes
	}
	outer := pieces["wall-o0"]
	require.Len(t, outer, 3, "two windows leave three pieces")
	first := outer[0].(drawing.Area).Rings[0]
	k := pic.Scale.PerMeter()
	left, right := first[0].X, first[1].X
	assert.InDelta(t, pic.ToPaper(geom.Pt(-0.075, 0)).X, left, 1e-6, "half of the 0.15 m of the wall at its corner")
	assert.InDelta(t, (1+0.075)*k, right-left, 1e-6, "from there to the window at 1 m")
	assert.Len(t, pieces["opening-o0-1"], 2, "glass, and a line in it")
	assert.Len(t, pieces["opening-i0-3"], 3, "two jambs and the door's line")
}

func TestUnderlay_showsOnScreenAndIsOwnedUpToOnPaper(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	plan.Underlay = underlay()
	pic := drawing.Storey(p, plan, rooms, drawing.Options{Furniture: true})
	address := func(picture string) string { return "/pictures/" + picture }
	assert.Contains(t, svgOf(t, drawing.Storey(p, plan, rooms, drawing.Options{}), drawing.SVGOptions{Screen: true, PictureURL: address}), `<image href="/pictures/abc"`)
	plan.Underlay.Turn = 90 // counterclockwise about its lower left corner: it lies left of it
	wide := drawing.Storey(p, plan, rooms, drawing.Options{})
	assert.InDelta(t, (7+8+0.15)*10+10, wide.Width, 1e-6, "7 m of picture, 8 m of room and its wall at 1:100, and 5 mm on each side")
	assert.NotContains(t, svgOf(t, pic, drawing.SVGOptions{File: true}), "<image")
	assert.Contains(t, pic.Texts(), "The picture beneath the drawing is left out of this print.")
}
