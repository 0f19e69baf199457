package drawing

import (
	"math"

	"scopewright/domain/equipment"
)

// glyph is a symbol of height 1 around its middle: an outline, or a disc where
// there is none, with letters within.
type glyph struct {
	outline []Point
	inner   float64 // a second disc of that radius
	style   Style
	letters string
	sign    Style   // of the letters
	size    float64 // of the letters, 0: 0.44
	drop    float64 // how far the letters sit below the middle
}

// square, wide and so on are the plain shapes that symbols are made of.
var (
	square   = box(1, 1)
	wide     = box(1.3, 0.8)
	diamond  = polygon(4, 0, 0.68)
	hexagon  = polygon(6, 0, 0.56)
	octagon  = polygon(8, math.Pi/8, 0.54)
	pentagon = polygon(5, -math.Pi/2, 0.6)
	triangle = []Point{{X: 0, Y: -0.58}, {X: 0.66, Y: 0.5}, {X: -0.66, Y: 0.5}}
	slanted  = []Point{{X: -0.42, Y: -0.42}, {X: 0.68, Y: -0.42}, {X: 0.42, Y: 0.42}, {X: -0.68, Y: 0.42}}
	house    = []Point{{X: -0.5, Y: -0.2}, {X: 0, Y: -0.56}, {X: 0.5, Y: -0.2}, {X: 0.5, Y: 0.5}, {X: -0.5, Y: 0.5}}
)

func box(w, h float64) []Point {
	return []Point{{X: -w / 2, Y: -h / 2}, {X: w / 2, Y: -h / 2}, {X: w / 2, Y: h / 2}, {X: -w / 2, Y: h / 2}}
}

func polygon(n int, start, radius float64) []Point {
	out := make([]Point, n)
	for i := range out {
		sin, cos := math.Sincos(start + 2*math.Pi*float64(i)/float64(n))
		out[i] = Point{X: radius * cos, Y: radius * sin}
	}
	return out
}

// Letters are those of the tags (equipment.Traits), so that symbol, tag and
// schedule speak alike. A tinted ground means that the device switches loads.
var glyphs = map[string]glyph{
	symbolName(equipment.Controller): {outline: square, style: StyleMains, letters: "LC"},
	symbolName(equipment.WallBox):    {outline: diamond, style: StyleMains, letters: "WB", size: 0.36},
	symbolName(equipment.Plug):       {outline: house, style: StyleMains, letters: "RC", drop: 0.1},
	symbolName(equipment.Station):    {outline: wide, style: StyleDevice, letters: "ST"},
	symbolName(equipment.Presence):   {style: StyleDevice, letters: "PS"},
	symbolName(equipment.Daylight):   {outline: hexagon, style: StyleDevice, letters: "DS"},
	symbolName(equipment.Contact):    {outline: triangle, style: StyleDevice, letters: "CN", size: 0.36, drop: 0.2},
	symbolName(equipment.Gateway):    {outline: pentagon, style: StyleDevice, letters: "GW", size: 0.38, drop: 0.05},
	symbolName(equipment.AV):         {outline: slanted, style: StyleDevice, letters: "AV"},
	symbolName(equipment.Router):     {style: StyleDevice, inner: 0.4, letters: "RT", size: 0.36},
	symbolName(""):                   {outline: octagon, style: StyleDevice, letters: "?"},
	"finding-error":                  {outline: octagon, style: StyleError, letters: "!", sign: StyleOnMark, size: 0.75},
	"finding-warning":                {outline: triangle, style: StyleWarning, letters: "!", sign: StyleOnMark, size: 0.62, drop: 0.17},
	"finding-info":                   {style: StyleInfo, letters: "i", sign: StyleOnMark, size: 0.75},
}

// symbolName is what a kind's symbol is called in pictures.
func symbolName(k equipment.Kind) string {
	if _, known := kindNames[k]; !known {
		return "device-unknown"
	}
	return "device-" + string(k)
}

var kindNames = func() map[equipment.Kind]string {
	out := map[equipment.Kind]string{}
	for _, k := range equipment.Kinds() {
		out[k] = k.Traits().Name
	}
	return out
}()

// parts takes a symbol apart into plain shapes. The shape turns with nothing:
// a pointer says which way the device faces, so that letters stay readable.
func (s Symbol) parts() []Shape {
	g := glyphs[s.Name]
	var out []Shape
	if s.Facing {
		out = append(out, s.pointer())
	}
	if g.outline == nil {
		out = append(out, Disc{s.At, s.Size * 0.5, g.style})
	} else {
		ring := make([]Point, len(g.outline))
		for i, p := range g.outline {
			ring[i] = s.At.Add(p.Times(s.Size))
		}
		out = append(out, Area{[][]Point{ring}, g.style})
	}
	if g.inner > 0 {
		out = append(out, Disc{s.At, s.Size * g.inner, g.style})
	}
	if s.Bare {
		return out
	}
	size, sign := g.size, g.sign
	if size == 0 {
		size = 0.44
	}
	if sign == "" {
		sign = StyleText
	}
	return append(out, Text{At: s.At.Add(Point{Y: s.Size * (g.drop + size*0.36)}), Text: g.letters, Size: s.Size * size, Anchor: Middle, Bold: true, Style: sign})
}

// halfWidth is how far the symbol reaches to its sides.
func (s Symbol) halfWidth() float64 {
	half := 0.0
	for _, p := range glyphs[s.Name].outline {
		half = max(half, p.X)
	}
	if half == 0 {
		half = 0.5
	}
	return half * s.Size
}

// pointer is a small wedge beyond the symbol's edge.
func (s Symbol) pointer() Shape {
	tip, side := s.Size*0.92, s.Size*0.22
	foot := s.Size * 0.4
	ring := []Point{{X: tip}, {X: foot, Y: -side}, {X: foot, Y: side}}
	for i := range ring {
		ring[i] = s.At.Add(turned(ring[i], s.Turn))
	}
	return Area{[][]Point{ring}, StyleFacing}
}
