package dxf

import (
	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// maxWalls bounds the walls of one drawing.
const maxWalls = 200_000

// walls gives each straight piece of the chosen layers as a wall; arcs come in
// chords. The drawing shows no heights. A wall drawn with two lines comes as two
// unless the designer asks to pair them.
func (b *builder) walls() ([]building.Wall, error) {
	layers := b.chosen(b.opt.WallLayers)
	var out []building.Wall
	short, repeats, far, surplus := 0, 0, 0, 0
	seen := map[[2]geom.Point]bool{}
	for i, s := range b.scene.strokes {
		if i%1024 == 0 && b.ctx.Err() != nil {
			return nil, b.ctx.Err()
		}
		// A hatch between two wall lines repeats them.
		if !layers[s.layer] || s.kind == "HATCH" {
			continue
		}
		ring := b.meters(s.ring(s.at, wallTurn))
		n := len(ring) - 1
		if s.closed {
			n++
		}
		for k := range n {
			a, c := ring[k], ring[(k+1)%len(ring)]
			switch key := ends(a, c); {
			case !a.Finite() || !c.Finite():
				far++
			case a.Near(c, geom.Coincident):
				short++
			case seen[key]:
				repeats++
			case len(out) >= maxWalls:
				surplus++
			default:
				seen[key] = true
				out = append(out, building.Wall{A: a, B: c, Kind: building.UnknownWall})
			}
		}
	}
	if b.opt.PairWalls {
		paired, pairs, ends := pairFaces(out)
		out = paired
		b.note("%s made of two lines that face each other; %s left out as wall ends.", were(pairs, "wall"), were(ends, "short piece"))
	}
	if short > 0 {
		b.note("%s left out for having no length.", were(short, "wall line"))
	}
	if repeats > 0 {
		b.note("%s taken only once for lying on another.", were(repeats, "wall line"))
	}
	if far > 0 {
		b.problem("lines out of reach", "walls", "%s left out for lying farther out than 10,000 km in this unit.", were(far, "wall line"))
	}
	if surplus > 0 {
		b.problem("walls", "walls", "The chosen wall layers hold more than %s lines; %s were left out. Choose fewer layers.", building.Count(maxWalls), building.Count(surplus))
	}
	if len(b.opt.WallLayers) > 0 && len(out) == 0 {
		b.problem("walls", "layers", "No line lies on the chosen wall layers.")
	}
	return out, nil
}

// ends gives a line's ends in an order that does not depend on its direction.
func ends(a, b geom.Point) [2]geom.Point {
	if a.X > b.X || a.X == b.X && a.Y > b.Y {
		a, b = b, a
	}
	return [2]geom.Point{a, b}
}
