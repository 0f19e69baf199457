package dxf

import (
	"context"
	"fmt"
	"math"
	"strings"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// scene is the model space with all blocks placed.
type scene struct {
	strokes []stroke
	texts   []placedText
	kinds   []map[string]int // entities of each layer by kind
	placed  int              // insertions carried out
	points  int
}

// stroke is a path where an insertion put it; at is nil in the model space.
type stroke struct {
	*path
	layer int
	at    *affine
}

type placedText struct {
	*label
	layer int
	at    *affine
}

// drawer places blocks within the bounds of the package.
type drawer struct {
	ctx     context.Context
	d       *drawing
	sc      *scene
	depth   int
	circles map[string]int // insertions left out for a block that holds itself
	missing map[string]int
	xrefs   map[string]int
	deep    int // insertions left out for nesting too deep
}

func draw(ctx context.Context, d *drawing) (*scene, error) {
	w := &drawer{ctx: ctx, d: d, sc: &scene{}, circles: selfHolding(d.blocks), missing: map[string]int{}, xrefs: map[string]int{}}
	if err := w.content(&d.space, nil, 0); err != nil {
		return nil, err
	}
	w.report()
	w.sc.kinds = append(w.sc.kinds, make([]map[string]int, len(d.layers)-len(w.sc.kinds))...)
	return w.sc, nil
}

func (w *drawer) tally(layer int, kind string) {
	for len(w.sc.kinds) <= layer {
		w.sc.kinds = append(w.sc.kinds, nil)
	}
	if w.sc.kinds[layer] == nil {
		w.sc.kinds[layer] = map[string]int{}
	}
	w.sc.kinds[layer][kind]++
}

// content adds what a block draws through the map at. What lies on layer 0 of
// a block takes the layer of its insertion.
func (w *drawer) content(c *content, at *affine, onto int) error {
	if err := w.ctx.Err(); err != nil {
		return err
	}
	under := func(layer int) int {
		if layer == 0 && at != nil {
			return onto
		}
		return layer
	}
	for _, p := range c.paths {
		w.sc.points += len(p.v)
		layer := under(p.layer)
		w.tally(layer, p.kind)
		w.sc.strokes = append(w.sc.strokes, stroke{p, layer, at})
	}
	w.sc.points += len(c.labels)
	for _, l := range c.labels {
		layer := under(l.layer)
		w.tally(layer, "TEXT")
		w.sc.texts = append(w.sc.texts, placedText{l, layer, at})
	}
	if w.sc.points > MaxPoints {
		return fmt.Errorf("with its blocks placed the drawing has more than %s points: export one storey at a time, without furniture", building.Count(MaxPoints))
	}
	for _, in := range c.placings {
		layer := under(in.layer)
		w.tally(layer, "INSERT")
		if err := w.place(in, at, layer); err != nil {
			return err
		}
	}
	return nil
}

func (w *drawer) place(in *placing, at *affine, layer int) error {
	b := w.d.blocks[in.block]
	switch {
	case b == nil:
		w.missing[in.block]++
		return nil
	case b.xref:
		w.xrefs[b.name]++
		return nil
	case w.depth >= MaxNesting:
		w.deep++
		return nil
	}
	if _, ok := w.circles[in.block]; ok {
		w.circles[in.block]++
		return nil
	}
	if b.holds.empty() {
		return nil
	}
	w.depth++
	defer func() { w.depth-- }()
	for row := range in.rows {
		for col := range in.cols {
			if w.sc.placed++; w.sc.placed > maxPlacings {
				return fmt.Errorf("blocks are placed more than %s times (block '%s', %s): explode or purge those that are not needed", building.Count(maxPlacings), cut(b.name, 60), w.where(in.line))
			}
			m := in.copyAt(col, row, b.base)
			if at != nil {
				m = at.after(m)
			}
			if !m.finite() {
				w.d.problems.Add("blocks left out", w.where(in.line), "Block '%s' is placed out of reach (%s) and was left out.", cut(b.name, 60), w.where(in.line))
				continue
			}
			if err := w.content(&b.holds, &m, layer); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c *content) empty() bool { return len(c.paths)+len(c.labels)+len(c.placings) == 0 }

func (w *drawer) where(line int) string {
	if w.d.binary {
		return "byte " + building.Count(line)
	}
	return "line " + building.Count(line)
}

// report says what was not placed.
func (w *drawer) report() {
	for _, key := range sortedKeys(w.circles) {
		if n := w.circles[key]; n > 0 {
			w.d.problems.Add("blocks left out", "block "+cut(key, 60), "Block '%s' contains itself; its %s left out.", cut(w.d.blocks[key].name, 60), were(n, "insertion"))
		}
	}
	for _, key := range sortedKeys(w.missing) {
		w.d.problems.Add("blocks left out", "block "+cut(key, 60), "Block '%s' is inserted (%s) but not in the file.", cut(key, 60), count(w.missing[key], "time"))
	}
	for _, name := range sortedKeys(w.xrefs) {
		w.d.problems.Add("blocks left out", "block "+cut(name, 60), "'%s' stands in another drawing that this file only refers to: bind it and export again if it holds rooms.", cut(name, 60))
	}
	if w.deep > 0 {
		w.d.problems.Add("blocks left out", "blocks", "Blocks nested more than %d deep (%s) were left out.", MaxNesting, count(w.deep, "insertion"))
	}
}

// shown tells whether a layer is neither off nor frozen.
func (l *layer) shown() bool { return !l.off && !l.frozen }

// box is an extent in drawing units.
type box struct{ min, max geom.Point }

func noBox() box {
	return box{geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}}
}

func (b *box) add(p geom.Point) {
	b.min = geom.Point{X: math.Min(b.min.X, p.X), Y: math.Min(b.min.Y, p.Y)}
	b.max = geom.Point{X: math.Max(b.max.X, p.X), Y: math.Max(b.max.Y, p.Y)}
}

func (b box) empty() bool     { return b.min.X > b.max.X }
func (b box) width() float64  { return math.Max(0, b.max.X-b.min.X) }
func (b box) height() float64 { return math.Max(0, b.max.Y-b.min.Y) }

func (b *box) ring(points []geom.Point) {
	for _, p := range points {
		b.add(p)
	}
}

// extent gives the box around the shown layers, without texts.
func (sc *scene) extent(d *drawing) box {
	b := noBox()
	for _, s := range sc.strokes {
		if d.layers[s.layer].shown() {
			b.ring(s.ring(s.at, coarseTurn))
		}
	}
	return b
}

// letters gives the texts' words in one string, for looking through them.
func (l *label) letters() string { return strings.Join(l.lines, " ") }
