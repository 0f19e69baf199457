package gbxml

import "scopewright/store/intake/building"

// findOverlaps tells of spaces that share floor area at the same height.
func (d *document) findOverlaps(storeys []building.Storey) error {
	all, err := building.Overlaps(d.ctx, storeys, func(o building.Overlap) {
		d.problems.Add("overlapping spaces", "Space "+shown(o.Small.Key), "%s", o.Message())
	})
	if err == nil && !all {
		d.notes = append(d.notes, building.NotAllOverlaps)
	}
	return err
}
