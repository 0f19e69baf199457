package gbxml

import (
	"fmt"
	"strings"
	"unicode/utf16"
)

// The sketches below write small invented models for tests.

// file wraps the content of a Campus.
func file(root, building, campus string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>
<gbXML xmlns="http://www.gbxml.org/schema" version="6.01" ` + root + `>
<Campus id="c">
<Building id="b" buildingType="Office">
` + building + `
</Building>
` + campus + `
</Campus>
</gbXML>
`
}

const metric = `lengthUnit="Meters" areaUnit="SquareMeters"`

func polyLoop(points ...[]float64) string {
	var b strings.Builder
	b.WriteString("<PolyLoop>")
	for _, p := range points {
		b.WriteString("<CartesianPoint>")
		for _, c := range p {
			fmt.Fprintf(&b, "<Coordinate>%v</Coordinate>", c)
		}
		b.WriteString("</CartesianPoint>")
	}
	b.WriteString("</PolyLoop>")
	return b.String()
}

func planar(points ...[]float64) string {
	return "<PlanarGeometry>" + polyLoop(points...) + "</PlanarGeometry>"
}

// flat is a level rectangle.
func flat(x, y, w, d, z float64) [][]float64 {
	return [][]float64{{x, y, z}, {x + w, y, z}, {x + w, y + d, z}, {x, y + d, z}}
}

// upright is a wall or an opening from a to b.
func upright(ax, ay, bx, by, low, high float64) [][]float64 {
	return [][]float64{{ax, ay, low}, {bx, by, low}, {bx, by, high}, {ax, ay, high}}
}

// box is a closed shell.
func box(x, y, w, d, low, high float64) string {
	return "<ShellGeometry><ClosedShell>" +
		polyLoop(flat(x, y, w, d, high)...) + polyLoop(flat(x, y, w, d, low)...) +
		polyLoop(upright(x, y, x+w, y, low, high)...) + polyLoop(upright(x+w, y, x+w, y+d, low, high)...) +
		polyLoop(upright(x+w, y+d, x, y+d, low, high)...) + polyLoop(upright(x, y+d, x, y, low, high)...) +
		"</ClosedShell></ShellGeometry>"
}

func space(attrs, name, content string) string {
	return fmt.Sprintf("<Space %s><Name>%s</Name>%s</Space>\n", attrs, name, content)
}

func area(v float64) string { return fmt.Sprintf("<Area>%v</Area>", v) }

func storey(id, name string, level float64) string {
	return fmt.Sprintf("<BuildingStorey id=%q><Name>%s</Name><Level>%v</Level></BuildingStorey>\n", id, name, level)
}

func surface(attrs, adjacent, content string) string {
	var refs strings.Builder
	for _, id := range strings.Fields(adjacent) {
		fmt.Fprintf(&refs, "<AdjacentSpaceId spaceIdRef=%q/>", id)
	}
	return fmt.Sprintf("<Surface %s>%s%s</Surface>\n", attrs, refs.String(), content)
}

func opening(kind string, points ...[]float64) string {
	return fmt.Sprintf("<Opening id=\"o\" openingType=%q>%s</Opening>", kind, planar(points...))
}

func utf16Bytes(text string, order byteOrder, mark bool) []byte {
	units := utf16.Encode([]rune(text))
	if mark {
		units = append([]uint16{0xFEFF}, units...)
	}
	out := make([]byte, 0, 2*len(units))
	for _, u := range units {
		if order == littleEndian {
			out = append(out, byte(u), byte(u>>8))
		} else {
			out = append(out, byte(u>>8), byte(u))
		}
	}
	return out
}
