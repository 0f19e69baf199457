package demo

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/edit"
)

// row is a line of the building's room list.
type row struct {
	number, name string
	use          domain.Use
	area         string // ft2
	ceiling      string
	windows      bool
	seats        int
	follows      string      // a typical, or
	design       func(draft) // a design of its own
	differs      func(draft) // exceptions to the typical
}

// storey turns rows into rooms. Circuits are dealt out in turn, four rooms to
// a lighting circuit and two to a receptacle circuit.
func storey(p *domain.Project, level int, typicals []domain.Typical, rows []row) []domain.Room {
	var out []domain.Room
	for i, line := range rows {
		r := &domain.Room{ID: roomID(line.number), StoreyID: domain.ID(fmt.Sprintf("level-%d", level)), Number: line.number,
			Name: line.name, Use: line.use, Windows: line.windows, Seats: line.seats, TypicalID: typicalNamed(typicals, line.follows)}
		resolved := resolve(r, typicals)
		d := draft{edit.OfRoom(p, resolved)}
		d.set("facts", "area_m2", line.area+" ft2", "ceiling_m", line.ceiling, "receptacles", receptacles[line.use])
		d.set("facts", "space_type", string(kindOf(&line)))
		if line.design != nil {
			line.design(d)
		}
		if line.differs != nil {
			line.differs(d)
		}
		d.circuits(fmt.Sprintf("LP%d-%d", level, 1+2*(i/4)), fmt.Sprintf("RP%d-%d", level, 1+2*(i/2)))
		if err := resolved.Settle(); err != nil {
			panic(fmt.Sprintf("demo: room %s: %v", r.Number, err))
		}
		out = append(out, *r)
	}
	return out
}

func typicalNamed(typicals []domain.Typical, name string) domain.ID {
	for i := range typicals {
		if typicals[i].Name == name {
			return typicals[i].ID
		}
	}
	return ""
}

// resolve gives the room with a design that may be changed.
func resolve(r *domain.Room, typicals []domain.Typical) *domain.Resolved {
	s := domain.Scope{Typicals: typicals}
	resolved, err := s.Resolve(r)
	if err != nil {
		panic(fmt.Sprintf("demo: %v", err))
	}
	resolved.Design = resolved.Design.Clone()
	return resolved
}
