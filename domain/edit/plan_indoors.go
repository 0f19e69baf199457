package edit

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/units"
)

// settleIndoors marks a window by what lies on its two sides. Where no room is
// drawn there it stays as it is: nobody can tell.
func (d *Drawing) settleIndoors(w *domain.Wall, o *domain.Opening) {
	if o.Kind != domain.Window {
		return
	}
	switch w.Stands(o, units.Metres(d.Project.Limits.Value(domain.RoomBesideWindow)), d.ground()) {
	case domain.BetweenRooms:
		o.Indoors = true
	case domain.OnOneRoom:
		o.Indoors = false
	}
}

// ground is the storey's rooms and those that the gesture made.
func (d *Drawing) ground() *domain.Ground {
	all := slices.Clone(d.Beside)
	for _, r := range d.Added {
		all = append(all, r.Footprint())
	}
	return domain.GroundOf(all...)
}
