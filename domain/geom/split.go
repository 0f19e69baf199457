package geom

import "fmt"

// SplitByLine cuts the polygon along the endless line through a and b. Parts
// left of the line, seen from a to b, come first, each side's largest first. A
// line that misses the polygon gives the polygon alone.
func (p Polygon) SplitByLine(a, b Point) (left, right []Polygon, err error) {
	length := a.Distance(b)
	if length < Coincident {
		return nil, nil, fmt.Errorf("a line needs two different points to split along")
	}
	along := b.Sub(a).Times(1 / length)
	left1 := Point{-along.Y, along.X}
	box := p.Bounds()
	far := box.Width() + box.Height() + a.Distance(box.Center()) + 1
	near := a.Add(along.Times(box.Center().Sub(a).Dot(along))) // foot of the middle on the line
	half := func(side Point) Polygon {
		from, to := near.Sub(along.Times(far)), near.Add(along.Times(far))
		return Polygon{Outer: []Point{from, to, to.Add(side.Times(far)), from.Add(side.Times(far))}}.Oriented()
	}
	if left, err = Intersection(p, half(left1)); err != nil {
		return nil, nil, err
	}
	right, err = Intersection(p, half(left1.Times(-1)))
	return left, right, err
}

// SplitByPath cuts the polygon along a drawn path of at least two points. Ends
// of the path that do not reach an edge cut nothing off. The parts come largest
// first; a path that splits nothing gives one.
func (p Polygon) SplitByPath(path ...Point) ([]Polygon, error) {
	lines := p.Edges()
	for i := 1; i < len(path); i++ {
		lines = append(lines, Segment{path[i-1], path[i]})
	}
	faces, err := Faces(lines, Coincident)
	if err != nil {
		return nil, err
	}
	var parts []Polygon
	for _, face := range faces {
		if p.surrounds(face.LabelPoint()) {
			parts = append(parts, face)
		}
	}
	return parts, nil
}
