package ifc

import (
	"math"
	"slices"

	"scopewright/store/intake/building"
)

// Shares by which a stated area and an outline may differ: beyond differs a
// space is told of, unless most spaces of the file differ by more than habit,
// which then is the file's way of measuring (to wall centers, say) and told
// once. Common practice, no published source.
const (
	differs = 0.10
	habit   = 0.02
)

// compareAreas tells where the areas that the file states are not those of the
// outlines. The outlines are used in any case.
func (r *reader) compareAreas() error {
	var shares []float64
	for _, s := range r.spaces {
		if s.DeclaredArea > 0 && s.Area > 0 {
			shares = append(shares, float64(s.DeclaredArea/s.Area)-1)
		}
	}
	if len(shares) == 0 {
		return nil
	}
	slices.Sort(shares)
	middle := shares[len(shares)/2]
	if math.Abs(middle) > habit && len(shares) >= 3 {
		side := "above"
		if middle < 0 {
			side = "below"
		}
		r.note("The areas that the file states are mostly %s those of the outlines, by %.0f %% in the middle (%.0f to %.0f %%), as where walls count in. The outlines are used.",
			side, math.Abs(middle)*100, shares[0]*100, shares[len(shares)-1]*100)
		return nil
	}
	for _, s := range r.spaces {
		if s.DeclaredArea > 0 && s.Area > 0 && math.Abs(float64(s.DeclaredArea-s.Area)) > differs*float64(s.Area) {
			r.bad.Add("areas that differ", ident(s.id), "%s: the file says %s, its outline has %s. The outline is used.",
				s.called(), building.SquareMeters(float64(s.DeclaredArea)), building.SquareMeters(float64(s.Area)))
		}
	}
	return nil
}
