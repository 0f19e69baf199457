package dxf

import (
	"context"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// Underlay is the drawing as lines in meters, to trace rooms over or to show
// below them: what is left for a plan with no usable outline.
type Underlay struct {
	Unit   building.Unit
	Lines  []UnderlayLine
	Texts  []UnderlayText
	Bounds geom.Box // of the lines
}

// UnderlayLine is a run of straight pieces; arcs come in chords.
type UnderlayLine struct {
	Layer  string
	Points []geom.Point
	Closed bool
}

// UnderlayText is a text around its middle; Turn is in degrees.
type UnderlayText struct {
	Layer        string
	At           geom.Point
	Height, Turn float64
	Lines        []string
}

// wallTurn is how far the chords of arcs turn where they are only looked at.
const wallTurn = 4 * finestTurn

// ReadUnderlay gives what the layers draw, in the unit that Read would take; no
// layers takes all that are shown.
func ReadUnderlay(ctx context.Context, data []byte, layers []string, opt Options, progress building.Progress) (*Underlay, error) {
	d, err := parse(ctx, data, progress)
	if err != nil {
		return nil, err
	}
	sc, err := draw(ctx, d)
	if err != nil {
		return nil, err
	}
	u := &Underlay{}
	if u.Unit, err = opt.unit(findUnit(d, sc)); err != nil {
		return nil, err
	}
	opt.TextLayers = layers
	b := &builder{ctx: ctx, drawing: d, scene: sc, opt: opt, scale: u.Unit.Metres}
	if err := b.unknownLayers(); err != nil {
		return nil, err
	}
	set := b.chosen(layers)
	wanted := func(layer int) bool { return set[layer] || len(layers) == 0 && d.layers[layer].shown() }
	first := true
	for i, s := range sc.strokes {
		if i%1024 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if !wanted(s.layer) || s.kind == "HATCH" {
			continue
		}
		line := UnderlayLine{Layer: d.layers[s.layer].name, Points: b.meters(s.ring(s.at, wallTurn)), Closed: s.closed}
		box, ok := geom.BoundsOf(line.Points...)
		if !ok || !box.Min.Finite() || !box.Max.Finite() {
			continue
		}
		if first {
			u.Bounds, first = box, false
		}
		u.Bounds = u.Bounds.Join(box)
		u.Lines = append(u.Lines, line)
	}
	for _, t := range sc.texts {
		if !wanted(t.layer) {
			continue
		}
		l, _ := b.placeLabel(t)
		u.Texts = append(u.Texts, UnderlayText{Layer: d.layers[t.layer].name, At: l.middle, Height: l.height, Turn: t.turn, Lines: t.lines})
	}
	return u, ctx.Err()
}
