package propose

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/edit"
)

// ArrangeSensors is an edit that looks for places of a room's presence sensors
// when it is applied, since that takes longer than judging a room may. It refuses
// where none are found that see all.
type ArrangeSensors struct {
	Room *domain.Resolved // as it is now, on its plan
	Wish SensorWish
	IDs  []domain.ID // for new sensors, as many as there may be
}

// Apply moves, adds and removes sensors.
func (a ArrangeSensors) Apply(s *edit.Subject) (string, error) {
	plan := Sensors(s.Project, a.Room, a.Wish)
	if plan == nil || plan.After == nil {
		return "", fmt.Errorf("no presence sensor of the equipment book is made for this room's height, or the room is not drawn: place sensors by hand")
	}
	if !plan.Complete {
		seats, entrances := plan.Unseen()
		return "", fmt.Errorf("no places were found for as many presence sensors as the limits allow that see everything: the best leave %d seats and %d entrances unseen; split the room, or add a type that sees farther to the equipment book", seats, entrances)
	}
	if n := plan.added(); n > len(a.IDs) {
		return "", fmt.Errorf("%d new presence sensors are too many to place at once: add some by hand first", n)
	}
	edits := plan.Edits(s.Project, s.Design, func(n int) domain.ID { return a.IDs[n] })
	if len(edits) == 0 {
		return "", fmt.Errorf("the presence sensors see all from where they are: nothing to move")
	}
	return edit.All(s, edits)
}

func (s *SensorPlan) added() (n int) {
	for i := range s.Steps {
		if s.Steps[i].Act == AddSensor {
			n++
		}
	}
	return n
}
