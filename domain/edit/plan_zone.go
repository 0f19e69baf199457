package edit

import (
	"scopewright/domain"
)

// SetLoadZone says of a load where its luminaires hang with regard to daylight, as
// the plan shows it.
type SetLoadZone struct {
	inRooms
	Room, Load domain.ID
	Zone       domain.WindowZone
}

// Rooms names the room.
func (g SetLoadZone) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply sets the zone as the load's own field does.
func (g SetLoadZone) Apply(d *Drawing) (string, error) {
	r, err := d.room(g.Room)
	if err != nil {
		return "", err
	}
	said, err := SetField{Path: "loads/" + string(g.Load) + "/zone", Text: string(g.Zone)}.apply(OfRoom(d.Project, r))
	if err != nil {
		return "", err
	}
	return said + " in " + r.Number, nil
}
