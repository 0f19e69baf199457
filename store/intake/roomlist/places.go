package roomlist

import (
	"scopewright/domain"
	"scopewright/store/intake/columns"
)

// Names for what a file leaves open.
const (
	mainBuilding    = "Main building"
	storeyNotStated = "Storey not stated"
)

// places finds buildings and storeys by what files call them, and makes those
// that the project does not have.
type places struct {
	plan      *Plan
	newID     func() domain.ID
	buildings []*building
}

type building struct {
	id      domain.ID
	name    string
	exact   string // name as Plain prints it
	key     string
	storeys []*storey
	lastSeq int
}

type storey struct {
	id    domain.ID
	name  string
	exact string
	key   string
}

func newPlaces(project *domain.Project, plan *Plan, newID func() domain.ID) *places {
	p := &places{plan: plan, newID: newID}
	for i := range project.Buildings {
		b := &project.Buildings[i]
		known := &building{id: b.ID, name: b.Name, exact: columns.Plain(b.Name), key: buildingKey(b.Name)}
		for _, s := range b.Storeys {
			known.add(s)
		}
		p.buildings = append(p.buildings, known)
	}
	return p
}

func (b *building) add(s domain.Storey) *storey {
	key, _ := storeyKey(s.Name)
	out := &storey{id: s.ID, name: s.Name, exact: columns.Plain(s.Name), key: key}
	b.storeys = append(b.storeys, out)
	b.lastSeq = max(b.lastSeq, s.Seq)
	return out
}

func (p *places) count() int { return len(p.buildings) }

// building gives the building of a name, the only one for no name, and nothing
// where it is not known.
func (p *places) building(name string) domain.ID {
	if name == "" {
		if len(p.buildings) == 1 {
			return p.buildings[0].id
		}
		return ""
	}
	exact, key := columns.Plain(name), buildingKey(name)
	for _, b := range p.buildings {
		if b.exact == exact {
			return b.id
		}
	}
	for _, b := range p.buildings {
		if b.key == key {
			return b.id
		}
	}
	return ""
}

func (p *places) at(id domain.ID) *building {
	for _, b := range p.buildings {
		if b.id == id {
			return b
		}
	}
	return nil
}

func (p *places) newBuilding(name string) domain.ID {
	if name == "" {
		name = mainBuilding
	}
	b := &building{id: p.newID(), name: name, exact: columns.Plain(name), key: buildingKey(name)}
	p.plan.NewBuildings = append(p.plan.NewBuildings, domain.Building{ID: b.id, Seq: len(p.buildings) + 1, Name: name})
	p.buildings = append(p.buildings, b)
	return b.id
}

// find gives the storey of a name in a building, nil where there is none.
func (b *building) find(name string) *storey {
	exact := columns.Plain(name)
	for _, s := range b.storeys {
		if s.exact == exact {
			return s
		}
	}
	key, _ := storeyKey(name)
	for _, s := range b.storeys {
		if s.key == key {
			return s
		}
	}
	return nil
}

// buildingWithStorey gives the only building that has a storey of that name.
func (p *places) buildingWithStorey(name string) (found domain.ID) {
	if name == "" {
		return ""
	}
	for _, b := range p.buildings {
		if b.find(name) == nil {
			continue
		}
		if found != "" {
			return ""
		}
		found = b.id
	}
	return found
}

// storey gives the storey that a new room goes to, and makes it where the
// building does not have it.
func (p *places) storey(in domain.ID, name string) *storey {
	b := p.at(in)
	if name == "" {
		if len(b.storeys) == 1 {
			return b.storeys[0]
		}
		name = storeyNotStated
	}
	if s := b.find(name); s != nil {
		return s
	}
	made := domain.Storey{ID: p.newID(), Seq: b.lastSeq + 1, Name: name}
	p.plan.NewStoreys = append(p.plan.NewStoreys, NewStorey{BuildingID: b.id, Building: b.name, Storey: made})
	return b.add(made)
}

// roomIndex finds rooms by number, and knows the building of each.
type roomIndex struct {
	byNumber   map[string][]*domain.Room
	buildingOf map[domain.ID]domain.ID // room -> building
}

func newRoomIndex(rooms []*domain.Room, places *places) *roomIndex {
	x := &roomIndex{byNumber: make(map[string][]*domain.Room, len(rooms)), buildingOf: make(map[domain.ID]domain.ID, len(rooms))}
	storeys := map[domain.ID]domain.ID{}
	for _, b := range places.buildings {
		for _, s := range b.storeys {
			storeys[s.id] = b.id
		}
	}
	for _, r := range rooms {
		x.add(r, storeys[r.StoreyID])
	}
	return x
}

func (x *roomIndex) add(r *domain.Room, building domain.ID) {
	key := numberKey(r.Number)
	x.byNumber[key] = append(x.byNumber[key], r)
	x.buildingOf[r.ID] = building
}

// numbered gives the rooms of a number, in all buildings where none is named.
func (x *roomIndex) numbered(number string, building domain.ID) []*domain.Room {
	all := x.byNumber[numberKey(number)]
	if building == "" {
		return all
	}
	var out []*domain.Room
	for _, r := range all {
		if x.buildingOf[r.ID] == building {
			out = append(out, r)
		}
	}
	return out
}

// onStorey keeps those of the rooms that are on the storey of a name.
func (x *roomIndex) onStorey(rooms []*domain.Room, places *places, name string) []*domain.Room {
	var out []*domain.Room
	for _, r := range rooms {
		if b := places.at(x.buildingOf[r.ID]); b != nil {
			if s := b.find(name); s != nil && s.id == r.StoreyID {
				out = append(out, r)
			}
		}
	}
	if len(out) == 0 {
		return rooms
	}
	return out
}
