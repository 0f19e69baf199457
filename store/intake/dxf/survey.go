package dxf

import (
	"context"
	"math"
	"slices"
	"strings"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// maxSamples bounds the texts shown of a layer.
const maxSamples = 5

// Contents is what a drawing holds, for the designer to choose from. Lengths
// and areas are in drawing units: the unit may not be known yet.
type Contents struct {
	Version  string // $ACADVER, "AC1024"
	Release  string // its name, "2010"
	Binary   bool
	Encoding string
	Unit     UnitFinding
	Min, Max geom.Point // extents of what is shown; both 0 where nothing is
	Layers   []Layer    // those that hold something, suggested ones first
	Longest  float64    // largest linear dimension, 0 for none
	Problems []building.Problem
}

// Layer is one layer with what it draws, blocks placed.
type Layer struct {
	Name      string
	Short     string // what follows the last $ of a bound drawing's layer
	Off       bool
	Frozen    bool
	Suggested Role
	Entities  int            // lines, outlines, texts and insertions; no dimensions
	Kinds     map[string]int // LINE, LWPOLYLINE, ..., TEXT for all texts
	Closed    int            // closed outlines of three corners or with arcs
	ByEnds    int            // those of them closed only by meeting ends
	Area      float64        // sum of the closed outlines, square drawing units
	Length    float64        // sum of all lines, drawing units
	Texts     int
	Samples   []string
	Min, Max  geom.Point
}

// Survey tells what a drawing holds without reading rooms from it.
func Survey(ctx context.Context, data []byte, progress building.Progress) (*Contents, error) {
	d, err := parse(ctx, data, progress)
	if err != nil {
		return nil, err
	}
	sc, err := draw(ctx, d)
	if err != nil {
		return nil, err
	}
	c := &Contents{
		Version: d.header.version, Release: d.header.release(), Binary: d.binary, Encoding: d.decoder.name,
		Unit: findUnit(d, sc),
	}
	if b := sc.extent(d); !b.empty() {
		c.Min, c.Max = b.min, b.max
	}
	for _, v := range d.space.dims {
		c.Longest = max(c.Longest, v)
	}
	if c.Layers, err = surveyLayers(ctx, d, sc); err != nil {
		return nil, err
	}
	c.Problems = d.problems.All()
	return c, ctx.Err()
}

func surveyLayers(ctx context.Context, d *drawing, sc *scene) ([]Layer, error) {
	all := make([]Layer, len(d.layers))
	boxes := make([]box, len(d.layers))
	for i, l := range d.layers {
		boxes[i] = noBox()
		all[i] = Layer{Name: l.name, Short: shortName(l.name), Off: l.off, Frozen: l.frozen, Kinds: sc.kinds[i]}
		for _, n := range sc.kinds[i] {
			all[i].Entities += n
		}
	}
	for i, s := range sc.strokes {
		if i%1024 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		all[s.layer].measure(s, &boxes[s.layer])
	}
	for _, t := range sc.texts {
		l := &all[t.layer]
		l.Texts++
		if words := cut(t.letters(), 60); len(l.Samples) < maxSamples && !slices.Contains(l.Samples, words) {
			l.Samples = append(l.Samples, words)
		}
	}
	out := slices.DeleteFunc(all, func(l Layer) bool { return l.Entities == 0 })
	for i := range out {
		l := &out[i]
		l.suggest()
		if b := boxes[d.layerOf(l.Name)]; !b.empty() {
			l.Min, l.Max = b.min, b.max
		}
	}
	oneDiscipline(out)
	slices.SortStableFunc(out, func(a, b Layer) int {
		if x := roleOrder(a.Suggested) - roleOrder(b.Suggested); x != 0 {
			return x
		}
		return strings.Compare(strings.ToUpper(a.Short), strings.ToUpper(b.Short))
	})
	return out, nil
}

func (l *Layer) measure(s stroke, b *box) {
	ring := s.ring(s.at, finestTurn)
	b.ring(ring)
	for i := 1; i < len(ring); i++ {
		l.Length += ring[i].Distance(ring[i-1])
	}
	if !s.closed {
		return
	}
	l.Length += ring[len(ring)-1].Distance(ring[0])
	area := math.Abs(signedArea(ring))
	for _, hole := range s.holes {
		area -= math.Abs(signedArea(s.through(hole, s.at, finestTurn)))
	}
	l.Closed++
	l.Area += area
	if s.byEnds {
		l.ByEnds++
	}
}

// suggest preselects by name, and only what can serve: rooms need outlines,
// names need texts, and what is hidden is not suggested.
func (l *Layer) suggest() {
	role := roleOf(l.Name)
	switch {
	case l.Off || l.Frozen:
	case role == Rooms && l.Closed == 0, role == Names && l.Texts == 0, (role == Walls || role == Windows || role == Doors) && l.Length == 0:
	default:
		l.Suggested = role
	}
}

// oneDiscipline keeps structural walls (S-) out of the suggestion where the
// architect's (A-) or the interior's (I-) are there: they draw the same walls
// (discipline letters of the National CAD Standard, from memory).
func oneDiscipline(layers []Layer) {
	starts := func(l Layer, with string) bool {
		return l.Suggested == Walls && strings.HasPrefix(strings.ToUpper(l.Short), with)
	}
	if !slices.ContainsFunc(layers, func(l Layer) bool { return starts(l, "A-") || starts(l, "I-") }) {
		return
	}
	for i := range layers {
		if starts(layers[i], "S-") {
			layers[i].Suggested = Other
		}
	}
}

func roleOrder(r Role) int {
	return slices.Index([]Role{Rooms, Walls, Windows, Doors, Names, Other}, r)
}

// Suggested gives options that take the layers suggested by name. Texts are
// taken from all layers that are shown.
func (c *Contents) Suggested() Options {
	var o Options
	for _, l := range c.Layers {
		switch l.Suggested {
		case Rooms:
			o.RoomLayers = append(o.RoomLayers, l.Name)
		case Walls:
			o.WallLayers = append(o.WallLayers, l.Name)
		case Windows:
			o.WindowLayers = append(o.WindowLayers, l.Name)
		case Doors:
			o.DoorLayers = append(o.DoorLayers, l.Name)
		}
	}
	if len(o.WallLayers) == 0 {
		o.WindowLayers, o.DoorLayers = nil, nil // nothing could hold them
	}
	return o
}

// signedArea is the shoelace formula in drawing units.
func signedArea(ring []geom.Point) float64 { return geom.SignedArea(ring) }
