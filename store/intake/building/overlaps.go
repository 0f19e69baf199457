package building

import (
	"context"
	"sort"

	"scopewright/domain/geom"
	"scopewright/domain/units"
)

const (
	// overlapAbove is the shared area in square meters from which two rooms are
	// told of: less comes from the thickness of lines.
	overlapAbove = 0.05
	// maxOverlapPairs bounds how many pairs of a file are compared: some 3 s.
	maxOverlapPairs = 50_000
)

// NotAllOverlaps says that a file was too crowded to compare all of it.
const NotAllOverlaps = "So many spaces lie over each other that overlaps were not all looked for."

// Overlap is two spaces of a storey that share floor area at the same height.
type Overlap struct {
	Small, Large *Space
	Area         units.SquareMetres
}

// Inside tells that the smaller space lies in the larger one.
func (o Overlap) Inside() bool { return float64(o.Area) > 0.95*float64(o.Small.Area) }

// Message says it in a sentence.
func (o Overlap) Message() string {
	how := "overlaps"
	if o.Inside() {
		how = "lies inside"
	}
	return "'" + o.Small.Called() + "' " + how + " '" + o.Large.Called() + "' (" + SquareMeters(float64(o.Area)) + ")."
}

// Called gives a space's number and name, or its key where it has neither.
func (s *Space) Called() string {
	switch {
	case s.Number != "" && s.Name != "":
		return Shown(s.Number + " " + s.Name)
	case s.Name != "":
		return Shown(s.Name)
	case s.Number != "":
		return Shown(s.Number)
	}
	return Shown(s.Key)
}

// Overlaps hands over the spaces that share floor. It gives false where so many
// lie over each other that not all were compared.
func Overlaps(ctx context.Context, storeys []Storey, tell func(Overlap)) (all bool, err error) {
	left := maxOverlapPairs
	for i := range storeys {
		if err := overlapsOn(ctx, storeys[i].Spaces, &left, tell); err != nil {
			return false, err
		}
	}
	return left >= 0, nil
}

// overlapsOn sweeps a storey from left to right; left counts pairs down.
func overlapsOn(ctx context.Context, spaces []Space, left *int, tell func(Overlap)) error {
	type item struct {
		space *Space
		box   geom.Box
	}
	var items []item
	for i := range spaces {
		if s := &spaces[i]; !s.Outline.Empty() {
			items = append(items, item{s, s.Outline.Bounds()})
		}
	}
	sort.SliceStable(items, func(a, b int) bool { return items[a].box.Min.X < items[b].box.Min.X })
	for i, a := range items {
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, b := range items[i+1:] {
			if b.box.Min.X >= a.box.Max.X {
				break
			}
			if !a.box.Touches(b.box) || !sameHeight(a.space, b.space) {
				continue
			}
			if *left--; *left < 0 {
				return nil
			}
			if o, share := overlapOf(a.space, b.space); share {
				tell(o)
			}
		}
	}
	return nil
}

// sameHeight tells whether two spaces share more than 0.1 m of height. A room
// without a known ceiling is taken to share its floor's level.
func sameHeight(a, b *Space) bool {
	top := func(s *Space) float64 { return max(float64(s.Ceiling), float64(s.Floor)+0.2) }
	return min(top(a), top(b))-max(float64(a.Floor), float64(b.Floor)) > 0.1
}

func overlapOf(a, b *Space) (Overlap, bool) {
	shared, err := geom.OverlapArea(a.Outline, b.Outline)
	if err != nil || shared < overlapAbove {
		return Overlap{}, false
	}
	if a.Area < b.Area {
		a, b = b, a
	}
	return Overlap{Small: b, Large: a, Area: units.SquareMetres(shared)}, true
}
