package daylight

import "slices"

// Cutting gives the obstructions of a space that take something from its zones, by
// their places in the space's list: without one of them, or with it alone, the zones
// together differ by more than rounding. Inner corners of the outline are not among
// them. z are the space's zones.
func (r *ZoneRules) Cutting(s *Space, z *Zones) (out []int, err error) {
	with := z.area()
	free, err := r.areaWith(s, nil)
	if err != nil || free-with <= leastCut {
		return nil, err
	}
	for i := range s.Obstructions {
		cuts, err := r.alters(s, i, with, free)
		if err != nil {
			return nil, err
		}
		if cuts {
			out = append(out, i)
		}
	}
	return out, nil
}

// alters tells that an obstruction takes something from the zones, whose area with all
// obstructions and with none is known.
func (r *ZoneRules) alters(s *Space, i int, with, free float64) (bool, error) {
	o := &s.Obstructions[i]
	if _, top := r.topCut(o, float64(s.Ceiling)); !r.cuts(o, s.Ceiling) && !(top && len(s.Rooflights) > 0) {
		return false, nil
	}
	without, err := r.areaWith(s, slices.Delete(slices.Clone(s.Obstructions), i, i+1))
	if err != nil || without-with > leastCut {
		return err == nil, err
	}
	alone, err := r.areaWith(s, s.Obstructions[i:i+1])
	return free-alone > leastCut, err
}

func (r *ZoneRules) areaWith(s *Space, obstructions []Obstruction) (float64, error) {
	one := *s
	one.Obstructions = obstructions
	z, err := r.Zones(&one)
	return z.area(), err
}

func (z *Zones) area() float64 { return float64(z.Primary.Area + z.Secondary.Area + z.Toplit.Area) }

// leastCut is the area under which a cut is rounding, m2.
const leastCut = 1e-4
