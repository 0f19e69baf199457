package daylight

import (
	"fmt"

	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// ZoneRules are how a code draws daylight zones. h is the head height of a
// window above the floor, below the ceiling; CH the ceiling's height.
type ZoneRules struct {
	Depth       float64      `json:"depth"`                  // of the primary zone, times h
	Side        float64      `json:"side,omitempty"`         // beyond each jamb, times h
	SideFixed   units.Metres `json:"side_fixed_m,omitempty"` // beyond each jamb, added to that
	Secondary   float64      `json:"secondary,omitempty"`    // depth of the secondary zone behind the primary one, times h; 0: none
	CutFrom     units.Metres `json:"cut_from_m,omitempty"`   // obstructions of this height and over end a sidelit zone; 0: only those to the ceiling
	ClearCuts   bool         `json:"clear_cuts,omitempty"`   // those of glass do too
	MovableCuts bool         `json:"movable_cuts,omitempty"` // those that can be moved do too
	Toplit      float64      `json:"toplit,omitempty"`       // beyond each edge of a rooflight, times CH; 0: no toplit zone
	ToplitGap   float64      `json:"toplit_gap,omitempty"`   // an obstruction up to OH ends it that is farther off than this times (CH - OH)
	ToplitFrom  float64      `json:"toplit_from,omitempty"`  // else one ends it that is taller than this times CH
	SideFirst   bool         `json:"side_first,omitempty"`   // where they overlap, primary goes before toplit
	HalfCounts  bool         `json:"half_counts,omitempty"`  // a luminaire counts where at least half of it hangs, not where any part does
}

// Zone is one kind of daylight zone: parts that do not overlap, within the room
// and without what counts to a zone before it.
type Zone struct {
	Parts []geom.Polygon
	Area  units.SquareMetres
	Cut   bool // ends at an obstruction, an inner corner or another zone
}

// Zones are the daylight zones of a room. No floor is in two of them.
type Zones struct{ Primary, Secondary, Toplit Zone }

// Zones draws the daylight zones of a space. Each window gives a rectangle, as
// wide as it and its side extensions and as deep as the rules say. Obstructions
// take away what lies behind them, and beside a window what lies beyond those
// that run into the room; inner corners of the outline do the same. A cut in
// depth ends the secondary zone too. The rectangles are united by kind, clipped
// to the room and freed of overlaps in order: toplit, primary, secondary, or
// with SideFirst primary, toplit, secondary.
//
// Left out: roof monitors, what stands outside, and overhangs. Exact but for
// geom's tolerances. Source: ANSI/ASHRAE/IES 90.1 section 3.2 as restated in
// adopted code texts and an open model of it; see ZoneCodes.
func (r *ZoneRules) Zones(s *Space) (z Zones, err error) {
	if s.Outline.Empty() || len(s.Outline.Validate()) > 0 {
		return z, fmt.Errorf("the room has no sound outline: draw it on the plan")
	}
	corners := innerEdges(s.Outline)
	var primary, deep, top []geom.Polygon
	for i := range s.Windows {
		w := &s.Windows[i]
		h := float64(w.head(s.Ceiling))
		if h <= float64(w.Sill) || w.A.Distance(w.B) < geom.Coincident {
			continue
		}
		if err := r.side(s, w, r.Depth*h, corners, &primary, &z.Primary.Cut); err != nil {
			return z, err
		}
		if r.Secondary <= 0 {
			continue
		}
		if err := r.side(s, w, (r.Depth+r.Secondary)*h, corners, &deep, &z.Secondary.Cut); err != nil {
			return z, err
		}
	}
	for i := range s.Rooflights {
		if err := r.top(s, &s.Rooflights[i], corners, &top, &z.Toplit.Cut); err != nil {
			return z, err
		}
	}
	return z, r.order(&z, primary, deep, top)
}

// order takes overlaps away.
func (r *ZoneRules) order(z *Zones, primary, deep, top []geom.Polygon) (err error) {
	first, second := &z.Toplit, &z.Primary
	a, b := top, primary
	if r.SideFirst {
		first, second, a, b = second, first, b, a
	}
	if err = first.fill(a, nil); err == nil {
		if err = second.fill(b, first.Parts); err == nil {
			before := append(append([]geom.Polygon(nil), z.Primary.Parts...), z.Toplit.Parts...)
			cut := z.Secondary.Cut
			err = z.Secondary.fill(deep, before)
			z.Secondary.Cut = cut || overlaps(deep, z.Toplit.Parts) // the primary zone before it is no cut
		}
	}
	return err
}

// fill unites parts without what counts to zones before.
func (z *Zone) fill(parts, before []geom.Polygon) error {
	all, err := geom.Union(parts...)
	if err != nil {
		return fmt.Errorf("daylight zones: %w", err)
	}
	if len(before) > 0 {
		was := geom.TotalArea(all)
		if all, err = without(all, before); err != nil {
			return err
		}
		z.Cut = z.Cut || was-geom.TotalArea(all) > geom.NoArea
	}
	z.Parts, z.Area = all, units.SquareMetres(geom.TotalArea(all))
	return nil
}

func without(parts, gone []geom.Polygon) (out []geom.Polygon, err error) {
	for _, p := range parts {
		rest, err := geom.Difference(p, gone...)
		if err != nil {
			return nil, fmt.Errorf("daylight zones: %w", err)
		}
		out = append(out, rest...)
	}
	return out, nil
}

func overlaps(a, b []geom.Polygon) bool {
	for _, p := range a {
		for _, q := range b {
			if area, err := geom.OverlapArea(p, q); err == nil && area > geom.NoArea {
				return true
			}
		}
	}
	return false
}

// side adds one window's rectangle of a depth, clipped and cut.
func (r *ZoneRules) side(s *Space, w *Window, depth float64, corners []geom.Segment, out *[]geom.Polygon, cut *bool) error {
	f, wide := w.frame(), float64(w.Width())
	beyond := r.Side*float64(w.head(s.Ceiling)) + float64(r.SideFixed)
	reach := geom.Box{Min: geom.Pt(-beyond, 0), Max: geom.Pt(wide+beyond, depth)}
	var gone []geom.Polygon
	for _, e := range corners {
		gone = append(gone, sideShadows(f.segment(e), reach, wide)...)
	}
	for i := range s.Obstructions {
		if o := &s.Obstructions[i]; r.cuts(o, s.Ceiling) {
			gone = append(gone, sideShadows(f.segment(o.Line), reach, wide)...)
		}
	}
	return place(s.Outline, f, reach, gone, out, cut)
}

// cuts tells whether an obstruction ends a sidelit zone.
func (r *ZoneRules) cuts(o *Obstruction, ceiling units.Metres) bool {
	from := r.CutFrom
	if from == 0 || ceiling > 0 && ceiling < from {
		from = ceiling
	}
	return o.Height >= from*(1-units.Tolerance) && (r.ClearCuts || !o.Clear) && (r.MovableCuts || !o.Movable)
}

// place clips a rectangle to the room and takes away what is behind something.
func place(room geom.Polygon, f frame, reach geom.Box, gone []geom.Polygon, out *[]geom.Polygon, cut *bool) error {
	parts, err := geom.Intersection(f.box(reach), room)
	if err != nil {
		return fmt.Errorf("daylight zones: %w", err)
	}
	if len(gone) > 0 {
		for i := range gone {
			gone[i] = gone[i].Map(f.out)
		}
		was := geom.TotalArea(parts)
		if parts, err = without(parts, gone); err != nil {
			return err
		}
		*cut = *cut || was-geom.TotalArea(parts) > geom.NoArea
	}
	*out = append(*out, parts...)
	return nil
}
