package edit

import (
	"fmt"
	"slices"

	"scopewright/domain"
)

// Cut takes things out of the project that were copied before: devices out of
// their rooms' designs, whole rooms with all that they hold.
type Cut struct{ Things []Thing }

// Rooms names the rooms of the things.
func (g Cut) Rooms() []domain.ID { return roomsOf(g.Things) }

// Walls tells whether things of the plan are among them.
func (g Cut) Walls() bool { return anyOfPlan(g.Things) }

// Apply cuts them.
func (g Cut) Apply(d *Drawing) (string, error) {
	if len(g.Things) == 0 {
		return "", fmt.Errorf("nothing is selected: choose what to cut first")
	}
	said := d.told("cut", g.Things)
	var rest []Thing
	for _, t := range g.Things {
		switch t.Kind {
		case DeviceThing:
			r, err := d.room(t.Room)
			if err != nil {
				return "", err
			}
			if _, err := (Remove{Part: "devices", ID: t.ID}).Apply(OfRoom(d.Project, r)); err != nil {
				return "", err
			}
		case RoomThing:
			if _, err := d.room(t.Room); err != nil {
				return "", err
			}
			d.Removed = append(d.Removed, t.Room)
		default:
			rest = append(rest, t)
		}
	}
	if len(rest) > 0 {
		if _, err := (TakeOff{Things: rest}).Apply(d); err != nil {
			return "", err
		}
	}
	d.Rooms = slices.DeleteFunc(d.Rooms, func(r *domain.Resolved) bool { return slices.Contains(d.Removed, r.ID) })
	return said, nil
}
