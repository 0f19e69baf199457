package edit

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Stand puts a device of the room on the plan, as part of a step that changes
// the room itself; by hand on the plan it is PlaceDevice.
type Stand struct {
	Device domain.ID
	At     geom.Point
	Turn   float64 // degrees, counterclockwise
}

// Apply places the device.
func (e Stand) Apply(s *Subject) (string, error) {
	if s.Room == nil {
		return "", errNoPlan
	}
	dev := s.Design.Device(e.Device)
	if dev == nil {
		return "", gone("the device")
	}
	at, err := onPlan(e.At)
	if err != nil {
		return "", err
	}
	dev.At, dev.Turn = &at, direction(e.Turn)
	return "placed " + dev.Tag + " on the plan", nil
}

// Hang puts luminaires of a load on the room's plan, as part of a step that
// changes the room itself.
type Hang struct {
	Load domain.ID
	IDs  []domain.ID // of the new luminaires, one a place
	At   []geom.Point
	Turn float64 // degrees, counterclockwise
}

// Apply hangs the luminaires.
func (e Hang) Apply(s *Subject) (string, error) {
	l, err := hangsOn(s, e.Load)
	if err != nil {
		return "", err
	}
	places, err := newPlaces(e.IDs, e.At)
	if err != nil {
		return "", err
	}
	for i, at := range places {
		s.Room.Fixtures = append(s.Room.Fixtures, domain.Fixture{ID: e.IDs[i], Load: l.ID, At: at, Turn: full(e.Turn)})
	}
	return fmt.Sprintf("hung %s of %s on the plan", counted(len(places), "luminaire"), l.Tag), nil
}

// hangsOn gives the load that luminaires on the room's plan shall belong to.
func hangsOn(s *Subject, id domain.ID) (*domain.Load, error) {
	if s.Room == nil {
		return nil, errNoPlan
	}
	l := s.Design.Load(id)
	switch {
	case l == nil:
		return nil, gone("the load")
	case l.Kind != domain.Lighting:
		return nil, fmt.Errorf("%s is no lighting load: it has no luminaires", l.Tag)
	}
	return l, nil
}

// Adopt gives luminaires that hang on the room's plan to a load.
type Adopt struct {
	Load     domain.ID
	Fixtures []domain.ID
}

// Apply gives them to the load.
func (e Adopt) Apply(s *Subject) (string, error) {
	l, err := hangsOn(s, e.Load)
	if err != nil {
		return "", err
	}
	if len(e.Fixtures) == 0 {
		return "", fmt.Errorf("no luminaire is named that %s shall have", l.Tag)
	}
	kept := append([]domain.Fixture(nil), s.Room.Fixtures...) // other states may share the list
	for _, id := range e.Fixtures {
		at := -1
		for i := range kept {
			if kept[i].ID == id {
				at = i
			}
		}
		if at < 0 {
			return "", gone("the luminaire")
		}
		kept[at].Load = l.ID
	}
	s.Room.Fixtures = kept
	return fmt.Sprintf("gave %s on the plan to %s", counted(len(e.Fixtures), "luminaire"), l.Tag), nil
}

var errNoPlan = fmt.Errorf("a typical has no place on a plan: place things in its rooms")
