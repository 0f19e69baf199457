package rule

import (
	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/energycode"
)

// Code is a room judged by the energy code of its project.
type Code struct {
	Pack      *energycode.Pack
	Kind      energycode.Proposal // of space
	Confirmed bool                // a person has confirmed the kind
	Facts     energycode.Facts    // in words where there are answers
	Answers   []energycode.Answer // that the room can mend
}

// judged keeps what Facts.Code found; a nil code: the room is not judged.
type judged struct{ code *Code }

// Code gives what the project's energy code says of the room. It is nil where no code
// is chosen and where the room has no lighting yet. It is judged without words first:
// only a room that can mend something pays for them.
func (f *Facts) Code() *Code {
	if f.code == nil {
		f.code = &judged{}
		if pack := energycode.PackOf(f.Project); pack != nil && f.lit() {
			f.code.code = f.newCode(pack)
		}
	}
	return f.code.code
}

func (f *Facts) lit() bool {
	for i := range f.Loads {
		if f.Loads[i].Kind != domain.Receptacle {
			return true
		}
	}
	return false
}

func (f *Facts) newCode(pack *energycode.Pack) *Code {
	given := energycode.Given{Zones: f.codeZones(pack), Brief: true}
	c := &Code{Pack: pack, Facts: energycode.FactsOf(f.Project, f.Room, given)}
	c.Kind, c.Confirmed = pack.SpaceOf(f.Room, c.Facts.Area)
	if c.Kind.Space == "" {
		return c
	}
	if energycode.SomeMendable(pack, c.Kind.Space, &c.Facts) {
		given.Brief = false
		c.Facts = energycode.FactsOf(f.Project, f.Room, given)
		c.Answers = energycode.Mendable(pack, c.Kind.Space, &c.Facts)
	}
	return c
}

// codeZones draws the room's daylight areas by the code; nil where they cannot be
// drawn: what is wrong with a shape, its own rules say.
func (f *Facts) codeZones(pack *energycode.Pack) *energycode.Zones {
	if f.Room.Plan == nil || len(f.Room.Plan.Walls)+len(f.Room.Plan.Rooflights) == 0 || !f.Drawn() {
		return nil
	}
	var space *daylight.Space
	if lit := f.Daylight(); lit != nil {
		space = lit.Space
	} else {
		space = daylight.NewSpace(f.Project, f.Room, daylight.AssumedOf(f.Project))
	}
	zones, err := energycode.ZonesIn(pack, f.Project, f.Room, space)
	if err != nil {
		return nil
	}
	return zones
}
