package drawing

import (
	"math"

	"scopewright/domain/units"
)

// Chart is a picture of numbers that takes the width that it is given. It says in
// words and patterns what it shows, so that it reads without color; the numbers
// stand in a table beside it.
type Chart interface {
	// Picture draws the chart as wide as a space, in millimeters.
	Picture(width float64) *Picture
	// Words lists what the picture says.
	Words() []string
}

// Pattern fills a part of a chart.
type Pattern string

// The patterns.
const (
	Filled  Pattern = "filled"
	Hatched Pattern = "hatched"
	Hollow  Pattern = "hollow" // a dashed outline: what is not there
)

// Series is one part of each bar.
type Series struct {
	Name    string
	Pattern Pattern
}

// Sizes of charts on paper, millimeters.
const (
	chartText   = 2.6
	chartRow    = 6.2
	chartBar    = 3.8
	chartSwatch = 3.2
	chartGap    = 1.6
)

// cutTo shortens a text to a width.
func cutTo(t string, size, width float64) string {
	if textWidth(t, size, false) <= width {
		return t
	}
	letters := []rune(t)
	for len(letters) > 1 && textWidth(string(letters)+"…", size, false) > width {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}

// canvas gathers a chart's shapes.
type canvas struct{ shapes []Shape }

func (c *canvas) text(x, y float64, t string, a Anchor, style Style) {
	c.shapes = append(c.shapes, Text{At: Point{X: x, Y: y}, Text: t, Size: chartText, Anchor: a, Style: style})
}

func (c *canvas) line(style Style, points ...Point) {
	c.shapes = append(c.shapes, Line{Points: points, Style: style})
}

// field draws a rectangle in a pattern; one without an extent is left out.
func (c *canvas) field(x, y, width, height float64, p Pattern) {
	if width < 0.05 || height < 0.05 {
		return
	}
	ring := []Point{{X: x, Y: y}, {X: x + width, Y: y}, {X: x + width, Y: y + height}, {X: x, Y: y + height}}
	switch p {
	case Filled:
		c.shapes = append(c.shapes, Area{Rings: [][]Point{ring}, Style: StyleFacing})
	case Hatched:
		c.shapes = append(c.shapes, Area{Rings: [][]Point{ring}, Style: StyleLuminaire})
		c.hatch(x, y, width, height)
		c.line(StyleFrame, append(ring, ring[0])...)
	case Hollow:
		c.line(StyleBoundary, append(ring, ring[0])...)
	}
}

// hatchStep is how far apart the lines of a hatch are, level.
const hatchStep = 1.3

// hatch draws lines that rise at 45 degrees:
//
//	y   /| / | /
//	   / |/  |/
func (c *canvas) hatch(x, y, width, height float64) {
	for from := x - height + hatchStep/2; from < x+width; from += hatchStep {
		a, b := max(from, x), min(from+height, x+width)
		if b > a {
			c.line(StyleFrame, Point{X: a, Y: y + height - (a - from)}, Point{X: b, Y: y + height - (b - from)})
		}
	}
}

// legend draws what the patterns mean, in as many rows as the width asks for, and
// gives how high it is.
func (c *canvas) legend(width float64, series []Series) float64 {
	x, y := 0.0, 0.0
	for _, s := range series {
		wide := chartSwatch + 1 + textWidth(s.Name, chartText, false) + 4
		if x > 0 && x+wide > width {
			x, y = 0, y+chartText*1.7
		}
		c.field(x, y, chartSwatch, chartText, s.Pattern)
		c.text(x+chartSwatch+1, y+chartText*0.88, s.Name, Start, StyleText)
		x += wide
	}
	return y + chartText + chartGap
}

func (c *canvas) picture(title string, width, height float64) *Picture {
	return &Picture{Title: title, Scale: Scale{Ratio: 1, Name: "none"}, Width: width, Height: height, Items: []Item{{Shapes: c.shapes}}}
}

// leastShown is the number under which a chart shows nothing.
const leastShown = 1e-9

// ticks gives round steps from 0 that reach a number, at most some of them: 1, 2 or
// 5 times a power of ten. A number too small to show, or without bound, gets one step
// of 1.
func ticks(most float64, atMost int) (step float64, n int) {
	if !(most >= leastShown) || math.IsInf(most, 1) {
		return 1, 1
	}
	p := math.Pow10(int(math.Floor(math.Log10(most))))
	for _, k := range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10} {
		step = k * p
		if n = int(math.Ceil(most/step - 1e-9)); n <= atMost {
			return step, n
		}
	}
	return step, n
}

func tickText(v float64) string { return units.Trim(v, 3) }
