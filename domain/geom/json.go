package geom

import (
	"encoding/json"
	"fmt"
	"math"
)

// Written coordinates are rounded to a tenth of a millimeter: finer than any
// plan, and the same number again whenever it is written.
const writtenTo = 1e4

func written(v float64) float64 {
	v = math.Round(v*writtenTo) / writtenTo
	if v == 0 {
		return 0 // no minus zero
	}
	return v
}

// MarshalJSON writes [x, y] in meters.
func (p Point) MarshalJSON() ([]byte, error) {
	if math.IsNaN(p.X) || math.IsInf(p.X, 0) || math.IsNaN(p.Y) || math.IsInf(p.Y, 0) {
		return nil, fmt.Errorf("geom: %g, %g is no point", p.X, p.Y)
	}
	return json.Marshal([2]float64{written(p.X), written(p.Y)})
}

// UnmarshalJSON reads [x, y].
func (p *Point) UnmarshalJSON(b []byte) error {
	var xy []float64
	if err := json.Unmarshal(b, &xy); err != nil {
		return err
	}
	if len(xy) != 2 {
		return fmt.Errorf("a point has 2 coordinates, not %d", len(xy))
	}
	p.X, p.Y = xy[0], xy[1]
	return nil
}

// MarshalJSON writes the rings, the outer one first.
func (p Polygon) MarshalJSON() ([]byte, error) {
	if len(p.Outer) == 0 {
		return []byte("[]"), nil
	}
	return json.Marshal(p.Rings())
}

// UnmarshalJSON reads rings, the outer one first.
func (p *Polygon) UnmarshalJSON(b []byte) error {
	var rings [][]Point
	if err := json.Unmarshal(b, &rings); err != nil {
		return err
	}
	*p = Polygon{}
	if len(rings) > 0 {
		p.Outer = rings[0]
	}
	if len(rings) > 1 {
		p.Holes = rings[1:]
	}
	return nil
}

// IsZero tells that there is no outline, so that documents leave it out.
func (p Polygon) IsZero() bool { return len(p.Outer) == 0 && len(p.Holes) == 0 }
