package dxf

import (
	"strings"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// maxCoordinate bounds coordinates in drawing units, whatever the unit turns
// out to be: 10,000 km in millimeters is 1e10.
const maxCoordinate = 1e12

// drawing is a file as it was parsed: entities of the model space and of the
// blocks, in drawing units.
type drawing struct {
	header   header
	binary   bool
	decoder  decoder
	layers   []*layer
	byName   map[string]int
	space    content
	blocks   map[string]*block
	problems building.ProblemList
	points   int
}

type layer struct {
	name   string
	off    bool
	frozen bool
}

// content is what the model space or a block draws.
type content struct {
	paths    []*path
	labels   []*label
	placings []*placing
	dims     []float64 // what linear dimensions measured
}

type block struct {
	name  string
	base  geom.Point
	xref  bool // its content is in another file
	holds content
}

// label is a text, tag its attribute's name where it belongs to a stamp.
type label struct {
	layer    int
	line     int
	stamp    int // line of the insertion that it belongs to, 0 for plain text
	tag      string
	lines    []string
	at       geom.Point // where it is inserted
	middle   geom.Point // of its letters, estimated
	height   float64    // of its letters
	turn     float64    // degrees
	narrower float64    // width of its letters over the usual one
}

// placing is an insertion of a block, once or in rows and columns.
type placing struct {
	block      string
	layer      int
	line       int
	frame      affine // position and turn
	sx, sy     float64
	cols, rows int
	dx, dy     float64
}

// copyAt gives the map of the copy in a column and row. Spacings turn with the
// insertion and are not scaled by it.
func (p *placing) copyAt(col, row int, base geom.Point) affine {
	m := p.frame.after(moved(float64(col)*p.dx, float64(row)*p.dy))
	return m.after(scaled(p.sx, p.sy)).after(moved(-base.X, -base.Y))
}

// layerOf gives the index of a layer, which need not stand in the table.
func (d *drawing) layerOf(name string) int {
	name = strings.TrimSpace(name)
	if name == "" {
		name = "0"
	}
	key := strings.ToUpper(name)
	if i, ok := d.byName[key]; ok {
		return i
	}
	d.layers = append(d.layers, &layer{name: name})
	d.byName[key] = len(d.layers) - 1
	return len(d.layers) - 1
}

// shortName is what follows the last $ of a layer that came with a bound
// external drawing: "xref-plan$0$A-WALL" is A-WALL to people.
func shortName(name string) string {
	if i := strings.LastIndexByte(name, '$'); i >= 0 && i+1 < len(name) {
		return name[i+1:]
	}
	return name
}

func (d *drawing) source() string {
	form := "DXF"
	if d.binary {
		form = "binary DXF"
	}
	if r := d.header.release(); r != "" {
		return form + " " + r
	}
	return form
}
