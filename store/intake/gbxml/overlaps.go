package gbxml

import (
	"sort"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

const (
	// overlapAbove is the shared area in square meters from which two rooms are
	// told of: less comes from the thickness of lines.
	overlapAbove = 0.05
	// maxOverlapPairs bounds how many pairs are compared: some 3 s.
	maxOverlapPairs = 50_000
)

// findOverlaps tells of spaces that share floor area at the same height.
func (d *document) findOverlaps(storeys []building.Storey) error {
	left := maxOverlapPairs
	for _, s := range storeys {
		if err := d.overlapsOn(s, &left); err != nil {
			return err
		}
	}
	if left < 0 {
		d.notes = append(d.notes, "So many spaces lie over each other that overlaps were not all looked for.")
	}
	return nil
}

// overlapsOn sweeps a storey from left to right; left counts pairs down.
func (d *document) overlapsOn(storey building.Storey, left *int) error {
	type item struct {
		space *building.Space
		box   geom.Box
	}
	var items []item
	for i := range storey.Spaces {
		if s := &storey.Spaces[i]; !s.Outline.Empty() {
			items = append(items, item{s, s.Outline.Bounds()})
		}
	}
	sort.SliceStable(items, func(a, b int) bool { return items[a].box.Min.X < items[b].box.Min.X })
	for i, a := range items {
		if err := d.ctx.Err(); err != nil {
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
			d.reportOverlap(a.space, b.space)
		}
	}
	return nil
}

// sameHeight tells whether two spaces share more than 0.1 m of height. A room
// without a known ceiling is taken to share its floor's level.
func sameHeight(a, b *building.Space) bool {
	top := func(s *building.Space) float64 { return max(float64(s.Ceiling), float64(s.Floor)+0.2) }
	return min(top(a), top(b))-max(float64(a.Floor), float64(b.Floor)) > 0.1
}

func (d *document) reportOverlap(a, b *building.Space) {
	shared, err := geom.OverlapArea(a.Outline, b.Outline)
	if err != nil || shared < overlapAbove {
		return
	}
	if float64(a.Area) < float64(b.Area) {
		a, b = b, a
	}
	how := "overlaps"
	if shared > 0.95*float64(b.Area) {
		how = "lies inside"
	}
	d.problems.Add("overlapping spaces", "Space "+shown(b.Key), "'%s' %s '%s' (%s).", spaceName(b), how, spaceName(a), building.SquareMeters(shared))
}

func spaceName(s *building.Space) string {
	switch {
	case s.Number != "" && s.Name != "":
		return shown(s.Number + " " + s.Name)
	case s.Name != "":
		return shown(s.Name)
	}
	return shown(s.Key)
}
