package roomlist

import (
	"fmt"
	"sort"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/table"
)

// Action is what a line of the list will do.
type Action string

// The actions.
const (
	New    Action = "new"
	Update Action = "update"
	Same   Action = "same"
	Skip   Action = "skip"
)

// Step says what one line of the file will do.
type Step struct {
	Line    int
	Action  Action
	RoomID  domain.ID
	Number  string
	Name    string
	Changes []string     // for people: "area 800 sq ft -> 864 sq ft"
	Problem string       // why it is skipped, or what was left out
	Room    *domain.Room // as it will be; nil where skipped
}

// NewStorey is a storey that the rooms need and the project does not have.
type NewStorey struct {
	BuildingID domain.ID
	Building   string
	Storey     domain.Storey
}

// Counts sums the steps up.
type Counts struct{ New, Update, Same, Skip, Missing int }

// Plan is what a room list would do to a project, line by line. Nothing has
// been changed: the rooms are copies.
type Plan struct {
	Steps        []Step
	NewBuildings []domain.Building // without storeys
	NewStoreys   []NewStorey
	Missing      []*domain.Room // in the project and not in the file; they stay
	Counts       Counts
	Notes        []string
}

// Plan compares the list with a project's rooms by building and number. It
// changes facts only, never a room's design, exceptions or waivers; what a line
// leaves blank stays as it is. A room that has a design of its own, or
// exceptions, keeps its typical: changing it would lose them.
func (l *List) Plan(project *domain.Project, typicals []domain.Typical, existing []*domain.Room, newID func() domain.ID) *Plan {
	p := &planner{plan: &Plan{Steps: make([]Step, 0, len(l.Rooms)+len(l.Refused))}, units: project.Units, newID: newID,
		typicals: map[string]*domain.Typical{}, byID: map[domain.ID]*domain.Typical{}, remarks: map[int][]string{}, touched: map[domain.ID]int{}}
	for i := range typicals {
		p.typicals[strings.ToLower(strings.TrimSpace(typicals[i].Name))] = &typicals[i]
		p.byID[typicals[i].ID] = &typicals[i]
	}
	for _, problem := range l.Problems {
		if !problem.Fatal {
			p.remarks[problem.Line] = append(p.remarks[problem.Line], fmt.Sprintf("%s: %s", problem.Column, problem.Message))
		}
	}
	p.places = newPlaces(project, p.plan, newID)
	p.rooms = newRoomIndex(existing, p.places)
	for i := range l.Rooms {
		p.step(&l.Rooms[i])
	}
	for _, r := range l.Refused {
		p.refuse(r)
	}
	sort.SliceStable(p.plan.Steps, func(i, j int) bool { return p.plan.Steps[i].Line < p.plan.Steps[j].Line })
	p.findMissing(existing)
	p.count()
	return p.plan
}

// Buildings gives the project's buildings with the plan's new ones and new
// storeys, as they will be; the project's own are not changed.
func (p *Plan) Buildings(project *domain.Project) []domain.Building {
	out := append([]domain.Building(nil), project.Buildings...)
	out = append(out, p.NewBuildings...)
	for i := range out {
		out[i].Storeys = append([]domain.Storey(nil), out[i].Storeys...)
		for _, s := range p.NewStoreys {
			if s.BuildingID == out[i].ID {
				out[i].Storeys = append(out[i].Storeys, s.Storey)
			}
		}
	}
	return out
}

type planner struct {
	plan     *Plan
	units    units.System
	typicals map[string]*domain.Typical // by name in small letters
	byID     map[domain.ID]*domain.Typical
	places   *places
	rooms    *roomIndex
	newID    func() domain.ID
	remarks  map[int][]string  // of values left out, by line
	touched  map[domain.ID]int // room -> line that states it
}

func (p *planner) step(line *Line) {
	s := Step{Line: line.Line, Number: line.Number, Name: line.Name}
	remarks := p.remarks[line.Line]
	old, building, problem := p.find(line)
	if problem == "" && old != nil && p.touched[old.ID] != 0 {
		problem = fmt.Sprintf("line %d states room %s already: give one of them another number", p.touched[old.ID], old.Number)
	}
	switch {
	case problem != "":
		s.Action = Skip
		remarks = append(remarks, problem)
	case old == nil:
		room, changes, more := p.create(line, building)
		s.Action, s.Room, s.RoomID, s.Changes = New, room, room.ID, changes
		remarks = append(remarks, more...)
		p.rooms.add(room, building)
		p.touched[room.ID] = line.Line
	default:
		room, changes, more := p.update(line, old, building)
		s.Action, s.Room, s.RoomID, s.Changes, s.Name = Same, room, room.ID, changes, room.Name
		if len(changes) > 0 {
			s.Action = Update
		}
		remarks = append(remarks, more...)
		p.touched[room.ID] = line.Line
	}
	s.Problem = strings.Join(remarks, "; ")
	p.plan.Steps = append(p.plan.Steps, s)
}

// find gives the room that a line means, nil for a new one, with the building
// that it is in or will be in.
func (p *planner) find(line *Line) (room *domain.Room, building domain.ID, problem string) {
	building = p.places.building(line.Building)
	if building == "" && line.Building != "" {
		return nil, p.places.newBuilding(line.Building), ""
	}
	same := p.rooms.numbered(line.Number, building)
	if len(same) > 1 && line.Storey != "" {
		same = p.rooms.onStorey(same, p.places, line.Storey)
	}
	switch {
	case len(same) == 1:
		return same[0], p.rooms.buildingOf[same[0].ID], ""
	case len(same) > 1:
		return nil, "", fmt.Sprintf("the project has %d rooms %s: name building and storey, so that it is clear which is meant", len(same), line.Number)
	case building != "":
		return nil, building, ""
	case p.places.count() == 0:
		return nil, p.places.newBuilding(""), ""
	}
	if building = p.places.buildingWithStorey(line.Storey); building != "" {
		return nil, building, ""
	}
	return nil, "", fmt.Sprintf("room %s is new and the project has %d buildings: add a column \"Building\" that says which", line.Number, p.places.count())
}

func (p *planner) refuse(r Refusal) {
	p.plan.Steps = append(p.plan.Steps, Step{Line: r.Line, Action: Skip, Number: r.Number, Name: r.Name, Problem: r.Why})
	if r.Number == "" {
		return
	}
	building := p.places.building(r.Building)
	if building == "" && r.Building != "" {
		return
	}
	// It is in the file, so it is not missing.
	for _, room := range p.rooms.numbered(r.Number, building) {
		if p.touched[room.ID] == 0 {
			p.touched[room.ID] = r.Line
		}
	}
}

// findMissing lists the rooms that the file does not name, in the buildings
// that it does name.
func (p *planner) findMissing(existing []*domain.Room) {
	named := map[domain.ID]bool{}
	for id := range p.touched {
		named[p.rooms.buildingOf[id]] = true
	}
	elsewhere := 0
	for _, r := range existing {
		switch {
		case p.touched[r.ID] != 0:
		case named[p.rooms.buildingOf[r.ID]] || len(named) == 0:
			p.plan.Missing = append(p.plan.Missing, r)
		default:
			elsewhere++
		}
	}
	if len(p.plan.Missing) > 0 {
		p.plan.Notes = append(p.plan.Notes, fmt.Sprintf("%s rooms of the project are not in the file; they stay as they are.", table.Count(len(p.plan.Missing))))
	}
	if elsewhere > 0 {
		p.plan.Notes = append(p.plan.Notes, fmt.Sprintf("%s rooms are in buildings that the file does not mention; they stay as they are.", table.Count(elsewhere)))
	}
}

func (p *planner) count() {
	c := Counts{Missing: len(p.plan.Missing)}
	for _, s := range p.plan.Steps {
		switch s.Action {
		case New:
			c.New++
		case Update:
			c.Update++
		case Same:
			c.Same++
		case Skip:
			c.Skip++
		}
	}
	p.plan.Counts = c
}
