package drawing

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// DXF writes what a view shows as a drawing at full size for other programs:
// rooms, walls, openings, rooflights, luminaires, seats and devices, each on a
// layer of its kind. It is ASCII of release 12 (AC1009), the plainest that programs read:
// pairs of a group code and a value a line each. Coordinates are inches in a US
// project and meters else, from the plan's own origin; $INSUNITS states them.
// Source: the published DXF reference, from memory.
func DXF(w io.Writer, v *View) error {
	d := &dxf{v: v, perMeter: 1, unit: insMeters, layers: map[string]int{}}
	if v.project.Units == units.US {
		d.perMeter, d.unit = 1/units.MetresPerInch, insInches
	}
	d.entities()
	out := bufio.NewWriter(w)
	d.head(out)
	out.WriteString(d.body.String()) //nolint:errcheck // Flush gives it
	pair(out, 0, "ENDSEC")
	pair(out, 0, "EOF")
	return out.Flush() // a bufio.Writer keeps its first error
}

// Values of $INSUNITS.
const (
	insInches = 1
	insMeters = 6
)

type dxf struct {
	v        *View
	perMeter float64
	unit     int
	layers   map[string]int // color by layer in use
	body     strings.Builder
}

// Colors by number: 7 is black or white, whatever the ground is not.
const (
	dxfInk  = 7
	dxfGray = 8
	dxfTeal = 4
)

func pair(w io.Writer, code int, value string) { fmt.Fprintf(w, "%3d\r\n%s\r\n", code, value) }

// head writes the sections before the entities, once the layers are known.
func (d *dxf) head(w io.Writer) {
	pair(w, 999, "Scopewright, units: "+map[int]string{insInches: "inches", insMeters: "meters"}[d.unit])
	if d.v.project.Invented {
		pair(w, 999, "Invented demo data")
	}
	pair(w, 0, "SECTION")
	pair(w, 2, "HEADER")
	pair(w, 9, "$ACADVER")
	pair(w, 1, "AC1009")
	pair(w, 9, "$INSUNITS")
	pair(w, 70, strconv.Itoa(d.unit))
	d.corner(w, "$EXTMIN", d.v.box.Min)
	d.corner(w, "$EXTMAX", d.v.box.Max)
	pair(w, 0, "ENDSEC")
	pair(w, 0, "SECTION")
	pair(w, 2, "TABLES")
	pair(w, 0, "TABLE")
	pair(w, 2, "LAYER")
	pair(w, 70, strconv.Itoa(len(d.layers)))
	names := make([]string, 0, len(d.layers))
	for name := range d.layers {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		pair(w, 0, "LAYER")
		pair(w, 2, name)
		pair(w, 70, "0")
		pair(w, 62, strconv.Itoa(d.layers[name]))
		pair(w, 6, "CONTINUOUS")
	}
	pair(w, 0, "ENDTAB")
	pair(w, 0, "ENDSEC")
	pair(w, 0, "SECTION")
	pair(w, 2, "ENTITIES")
}

func (d *dxf) corner(w io.Writer, name string, p Point) {
	pair(w, 9, name)
	pair(w, 10, d.num(p.X))
	pair(w, 20, d.num(p.Y))
}

// num writes meters in the drawing's unit, to a ten-thousandth of it.
func (d *dxf) num(meters float64) string {
	s := units.Trim(meters*d.perMeter, 4)
	if !strings.ContainsRune(s, '.') {
		s += ".0"
	}
	return s
}

// entity begins one on a layer.
func (d *dxf) entity(kind, layer string, color int) {
	d.layers[layer] = color
	pair(&d.body, 0, kind)
	pair(&d.body, 8, layer)
}

func (d *dxf) place(p Point) {
	pair(&d.body, 10, d.num(p.X))
	pair(&d.body, 20, d.num(p.Y))
}

func (d *dxf) polyline(layer string, color int, ring []Point) {
	d.entity("POLYLINE", layer, color)
	pair(&d.body, 66, "1")
	d.place(Point{})
	pair(&d.body, 70, "1") // closed
	for _, p := range ring {
		d.entity("VERTEX", layer, color)
		d.place(p)
	}
	d.entity("SEQEND", layer, color)
}

func (d *dxf) line(layer string, color int, s geom.Segment) {
	d.entity("LINE", layer, color)
	d.place(s.A)
	pair(&d.body, 11, d.num(s.B.X))
	pair(&d.body, 21, d.num(s.B.Y))
}

func (d *dxf) circle(layer string, color int, at Point, radius float64) {
	d.entity("CIRCLE", layer, color)
	d.place(at)
	pair(&d.body, 40, d.num(radius))
}

// text writes a text around or from a place; meters high.
func (d *dxf) text(layer string, color int, at Point, text string, high float64, middle bool) {
	if text == "" {
		return
	}
	d.entity("TEXT", layer, color)
	d.place(at)
	pair(&d.body, 40, d.num(high))
	pair(&d.body, 1, plainText(text))
	if middle {
		pair(&d.body, 72, "1")
		pair(&d.body, 11, d.num(at.X))
		pair(&d.body, 21, d.num(at.Y))
	}
}

// plainText keeps a text on its line and in ASCII: \U+XXXX stands for a
// character beyond, and two signs that would start a code are taken apart.
func plainText(s string) string {
	var b strings.Builder
	for _, r := range strings.ReplaceAll(s, "%%", "% %") {
		switch {
		case r < ' ' || r == 0x7F:
			b.WriteByte(' ')
		case r == '^':
			b.WriteString("^ ")
		case r < 0x7F:
			b.WriteRune(r)
		case r <= 0xFFFF:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}

func (d *dxf) entities() {
	show := d.v.opt.shows
	for _, r := range d.v.drawn() {
		if show(LayerRooms) && !r.Outline.Empty() {
			for _, ring := range r.Outline.Rings() {
				d.polyline("ROOMS", dxfInk, ring)
			}
		}
		if show(LayerNames) && !r.Outline.Empty() {
			at := r.Outline.LabelPoint()
			d.text("ROOM_NUMBERS", dxfInk, at, r.Number, 0.3, true)
			d.text("ROOM_NAMES", dxfInk, at.Sub(Point{Y: 0.4}), r.Name, 0.2, true)
		}
		d.things(r)
	}
	if show(LayerWalls) {
		for i := range d.v.plan.Walls {
			if w := &d.v.plan.Walls[i]; w.A != w.B {
				d.wall(w)
			}
		}
		for i := range d.v.plan.Rooflights {
			if l := &d.v.plan.Rooflights[i]; drawable(l) {
				d.rooflight(l)
			}
		}
	}
}

func (d *dxf) wall(w *domain.Wall) {
	if w.Kind == domain.Boundary {
		d.line("BOUNDARIES", dxfGray, w.Line())
		return
	}
	layer, s := "WALLS", stripOf(w)
	if w.Kind == domain.Partition {
		layer = "PARTITIONS"
	}
	for _, part := range between(w, 0, w.A.Distance(w.B)) {
		d.polyline(layer, dxfInk, s.between(part[0], part[1]))
	}
	for i := range w.Openings {
		o := &w.Openings[i]
		name := map[domain.OpeningKind]string{domain.Window: "WINDOWS", domain.Door: "DOORS"}[o.Kind]
		if name == "" {
			name = "OPENINGS"
		}
		d.line(name, dxfInk, w.Span(o))
	}
}

// things writes what a room holds. Symbols have the size that they have on
// paper at 1:100.
func (d *dxf) things(r *domain.Resolved) {
	if d.v.opt.shows(LayerDevices) {
		for i := range r.Design.Devices {
			if dev := &r.Design.Devices[i]; dev.At != nil && dev.At.Finite() {
				d.device(dev)
			}
		}
	}
	if d.v.opt.shows(LayerLuminaires) {
		for i := range r.Fixtures {
			if f := &r.Fixtures[i]; f.At.Finite() {
				d.luminaire(r, f)
			}
		}
	}
	if d.v.opt.shows(LayerSeats) {
		for i := range r.Sitting {
			if at := r.Sitting[i].At; at.Finite() {
				d.circle("SEATS", dxfGray, at, seatRadius/10)
			}
		}
	}
}

func (d *dxf) device(dev *domain.Device) {
	const size = 0.42
	kind := d.v.kindOf(dev)
	layer, g := "DEVICES_OTHER", glyphs[symbolName(kind)]
	if prefix := kind.Traits().Prefix; prefix != "" {
		layer = "DEVICES_" + prefix
	}
	d.entity("POINT", layer, dxfTeal)
	d.place(*dev.At)
	if g.outline == nil {
		d.circle(layer, dxfTeal, *dev.At, size/2)
	} else {
		ring := make([]Point, len(g.outline))
		for i, p := range g.outline {
			ring[i] = dev.At.Add(Point{X: p.X * size, Y: -p.Y * size})
		}
		d.polyline(layer, dxfTeal, ring)
	}
	if dev.Turn != 0 {
		tip := turned(Point{X: size}, dev.Turn)
		d.line(layer, dxfTeal, geom.Segment{A: *dev.At, B: dev.At.Add(Point{X: tip.X, Y: -tip.Y})})
	}
	d.text(layer, dxfTeal, dev.At.Sub(Point{Y: 0.08}), g.letters, 0.16, true)
	d.text("DEVICE_TAGS", dxfInk, dev.At.Add(Point{X: size * 0.8, Y: -0.1}), dev.Tag, 0.2, false)
}

func (d *dxf) luminaire(r *domain.Resolved, f *domain.Fixture) {
	ring := boxAround(Point{}, Point{X: 0.46, Y: luminaireHeight / 10}).Polygon().Outer
	for i, p := range ring {
		t := turned(Point{X: p.X, Y: -p.Y}, f.Turn)
		ring[i] = f.At.Add(Point{X: t.X, Y: -t.Y})
	}
	d.polyline("LUMINAIRES", dxfGray, ring)
	if l := r.Design.Load(f.Load); l != nil {
		d.text("LUMINAIRE_LOADS", dxfGray, f.At.Sub(Point{Y: 0.07}), l.Tag, 0.14, true)
	}
}
