package intake

import (
	"scopewright/domain"
	"scopewright/store"
	"scopewright/store/intake/luminaires"
	"scopewright/store/intake/roomlist"
	"scopewright/web/edits"
)

// listPlan is what a room list or a luminaire schedule does to a project as one
// transaction sees it.
type listPlan struct {
	project    *domain.Project
	rooms      *roomlist.Plan // or
	luminaires *luminaires.Plan
}

func planIn(tx *store.Tx, p *parcel, newID func() domain.ID) (*listPlan, error) {
	project, err := tx.Project()
	if err != nil {
		return nil, err
	}
	if p.kind == isLuminaires {
		return &listPlan{project: project, luminaires: p.luminaires.Plan(project, newID)}, nil
	}
	shared, err := tx.Typicals()
	if err != nil {
		return nil, err
	}
	typicals := make([]domain.Typical, len(shared))
	for i, t := range shared {
		typicals[i] = *t
	}
	resolved, err := tx.Rooms(store.Pick{})
	if err != nil {
		return nil, err
	}
	existing := inOrder(project, resolved)
	plan, _ := p.planRooms(project, typicals, existing, newID)
	if n := len(existing) + plan.Counts.New; n > domain.MaxRooms {
		return nil, edits.Refusef("the project would have %d rooms; at most %d fit: split it into several projects", n, domain.MaxRooms)
	}
	return &listPlan{project: project, rooms: plan}, nil
}

// inOrder puts rooms into the order of the building, as the preview saw them.
func inOrder(project *domain.Project, rooms []*domain.Resolved) []*domain.Room {
	out := make([]*domain.Room, 0, len(rooms))
	for _, b := range project.Buildings {
		for _, st := range b.Storeys {
			for _, r := range rooms {
				if r.StoreyID == st.ID {
					out = append(out, r.Room)
				}
			}
		}
	}
	return out
}

func (l *listPlan) what() string {
	if l.luminaires != nil {
		return "luminaire schedule"
	}
	return "room list"
}

func (l *listPlan) lines() []line {
	if l.luminaires != nil {
		return luminaireLines(l.project, l.luminaires)
	}
	return roomLines(l.project, l.rooms)
}

func (l *listPlan) counts() (made, changed, same, skipped int) {
	if l.luminaires != nil {
		n := l.luminaires.Counts
		return n.New, n.Update, n.Same, n.Skip
	}
	n := l.rooms.Counts
	return n.New, n.Update, n.Same, n.Skip
}

// carryOut stores what the plan says.
func (l *listPlan) carryOut(tx *store.Tx) error {
	if l.luminaires != nil {
		return l.storeLuminaires(tx)
	}
	return l.storeRooms(tx)
}

func (l *listPlan) storeRooms(tx *store.Tx) error {
	if len(l.rooms.NewBuildings)+len(l.rooms.NewStoreys) > 0 {
		l.project.Buildings = l.rooms.Buildings(l.project)
		if err := tx.PutProject(l.project); err != nil {
			return err
		}
	}
	for i := range l.rooms.Steps {
		if err := storeRoom(tx, &l.rooms.Steps[i]); err != nil {
			return err
		}
	}
	return nil
}

func storeRoom(tx *store.Tx, st *roomlist.Step) error {
	switch st.Action {
	case roomlist.New:
		return tx.AddRoom(st.Room)
	case roomlist.Update:
		return tx.PutBareRoom(st.Room)
	}
	return nil
}

func (l *listPlan) storeLuminaires(tx *store.Tx) error {
	for i := range l.luminaires.Steps {
		st := &l.luminaires.Steps[i]
		switch st.Action {
		case luminaires.New:
			l.project.Luminaires = append(l.project.Luminaires, *st.Luminaire)
		case luminaires.Update:
			if known := l.project.Luminaire(st.LuminaireID); known != nil {
				*known = *st.Luminaire
			}
		}
	}
	return tx.PutProject(l.project)
}
