package dxf

import (
	"scopewright/domain/geom"
)

// FromWalls is where a room's outline came from that the chosen wall lines
// enclose.
const FromWalls = "enclosing walls"

// thinnest is the width in meters, as twice the area over the perimeter, under
// which an enclosed area is the inside of a wall and no room (common practice,
// no published source).
const thinnest = 0.4

// enclosed gives the areas that the wall lines enclose, where the designer asks
// for it and names no layer of outlines.
func (b *builder) enclosed() ([]*outline, error) {
	layers := b.chosen(b.opt.WallLayers)
	var lines []geom.Segment
	for i, s := range b.scene.strokes {
		if i%1024 == 0 && b.ctx.Err() != nil {
			return nil, b.ctx.Err()
		}
		if !layers[s.layer] || s.kind == "HATCH" || len(lines) > maxWalls {
			continue
		}
		ring := b.meters(s.ring(s.at, wallTurn))
		for k := 1; k < len(ring); k++ {
			lines = append(lines, geom.Segment{A: ring[k-1], B: ring[k]})
		}
		if s.closed {
			lines = append(lines, geom.Segment{A: ring[len(ring)-1], B: ring[0]})
		}
	}
	sound := lines[:0]
	for _, l := range lines {
		if l.A.Finite() && l.B.Finite() {
			sound = append(sound, l)
		}
	}
	faces, err := geom.Faces(sound, float64(b.opt.Enclose))
	if err != nil {
		b.problem("walls that enclose too much", "walls", "Rooms could not be found between the wall lines: %v. Choose fewer layers, or trace the rooms.", err)
		return nil, nil
	}
	var found []*outline
	thin := 0
	for _, f := range faces {
		area := f.Area()
		around := 0.0
		for _, ring := range f.Rings() {
			for e := range geom.Edges(ring) {
				around += e.Length()
			}
		}
		if 2*area/around < thinnest {
			thin++
			continue
		}
		if len(found) < MaxRooms {
			found = append(found, &outline{poly: f.Oriented(), area: area, bounds: f.Bounds(), stroke: stroke{path: &path{}}, from: FromWalls})
		}
	}
	if thin > 0 {
		b.note("%s left out for being thinner than %g m (the insides of walls).", were(thin, "enclosed area"), thinnest)
	}
	return found, nil
}
