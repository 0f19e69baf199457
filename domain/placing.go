package domain

import (
	"strings"

	"scopewright/domain/delta"
	"scopewright/domain/geom"
)

// IsPlace tells whether a change of a design says only where on the plan a
// device stands.
func IsPlace(c delta.Change) bool {
	return strings.HasPrefix(c.Path, "devices/") && (c.Field() == "at" || c.Field() == "turn_deg")
}

// Shared gives a copy of the design without what each room has for itself:
// circuits, the days on which batteries went in, places on the plan.
func (d *Design) Shared() Design {
	out := d.Clone()
	for i := range out.Loads {
		out.Loads[i].Circuit = ""
	}
	for i := range out.Devices {
		out.Devices[i].Fitted = ""
	}
	out.dropPlaces()
	return out
}

func (d *Design) dropPlaces() {
	for i := range d.Devices {
		d.Devices[i].At, d.Devices[i].Turn = nil, 0
	}
}

// PlaceAs puts devices where those of the same IDs stand in another design of
// the same room, and takes the others off the plan: a place on one room's plan
// means nothing in another room.
func (d *Design) PlaceAs(was *Design) {
	d.dropPlaces()
	for i := range d.Devices {
		dev := &d.Devices[i]
		if old := was.Device(dev.ID); old != nil && old.At != nil {
			at := *old.At
			dev.At, dev.Turn = &at, old.Turn
		}
	}
}

// TakeOffPlan leaves a room without outline and what it holds without places,
// as a copy of a drawn room must be. The design must be the caller's own.
func (r *Resolved) TakeOffPlan() error {
	r.Outline, r.Fixtures, r.Sitting = geom.Polygon{}, nil, nil
	r.Design.dropPlaces()
	return r.Settle()
}
