// Package findings prints what the rules find in a project: as text for people
// and as JSON for other programs. The JSON is a contract that only grows.
package findings

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/sequence/prove"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// Report is what the rules found in a project.
type Report struct {
	Project *domain.Project
	Rooms   int // that were judged
	Lines   []Line

	Errors, Warnings, Infos, Waived int

	Explored *Explored // nil: rooms were not explored
}

// Explored says how much of the rooms was explored.
type Explored struct {
	States  int            // in all rooms
	Unended []*domain.Room // rooms with more states than were looked at
}

// Line is a finding with the room that it is in; Room is nil for a finding of
// the project.
type Line struct {
	Room *domain.Room
	rule.Finding
}

// Run judges each room and the project as of a day. Lines come by storey and
// room number, those of the project last.
func Run(s *domain.Scope, today time.Time) (*Report, error) { return run(s, today, nil) }

// Explore is Run with all that the rooms can come to: each is explored too.
func Explore(s *domain.Scope, today time.Time) (*Report, error) { return run(s, today, &Explored{}) }

func run(s *domain.Scope, today time.Time, explored *Explored) (*Report, error) {
	find := resolver(s)
	var lines []Line
	for _, r := range inOrder(s) {
		resolved, err := find(r)
		if err != nil {
			return nil, err
		}
		for _, f := range validate.Room(&s.Project, resolved, today) {
			lines = append(lines, Line{r, f})
		}
		if explored != nil {
			for _, f := range explored.room(&s.Project, resolved, today) {
				lines = append(lines, Line{r, f})
			}
		}
	}
	spanning, err := OfProject(s)
	if err != nil {
		return nil, err
	}
	for _, f := range spanning {
		lines = append(lines, Line{nil, f})
	}
	report := New(&s.Project, len(s.Rooms), lines)
	report.Explored = explored
	return report, nil
}

func (x *Explored) room(p *domain.Project, r *domain.Resolved, today time.Time) []rule.Finding {
	found, proof := validate.Explored(p, r, today, prove.Bounds{})
	x.States += proof.States
	if proof.Bounded {
		x.Unended = append(x.Unended, r.Room)
	}
	return found
}

// OfProject runs the rules over what spans rooms: the project's, then those of
// its storeys' plans.
func OfProject(s *domain.Scope) ([]rule.Finding, error) {
	find := resolver(s)
	facts := &rule.ProjectFacts{Project: &s.Project}
	designs := map[domain.ID][]*domain.Resolved{} // by storey
	for i := range s.Rooms {
		resolved, err := find(&s.Rooms[i])
		if err != nil {
			return nil, err
		}
		facts.Rooms = append(facts.Rooms, count(&s.Project, resolved))
		facts.Circuits = append(facts.Circuits, resolved.CircuitShares(&s.Project)...)
		designs[resolved.StoreyID] = append(designs[resolved.StoreyID], resolved)
	}
	return append(validate.Project(facts), ofStoreys(s, designs)...), nil
}

// ofStoreys runs the rules over the plan of each storey.
func ofStoreys(s *domain.Scope, designs map[domain.ID][]*domain.Resolved) []rule.Finding {
	var out []rule.Finding
	for i := range s.Project.Buildings {
		storeys := s.Project.Buildings[i].Storeys
		for j := range storeys {
			facts := &rule.StoreyFacts{Project: &s.Project, Storey: &storeys[j], Plan: s.Plan(storeys[j].ID), Designs: designs[storeys[j].ID]}
			for _, r := range facts.Designs {
				facts.Rooms = append(facts.Rooms, r.Room)
			}
			facts.Neighbours = rule.NeighboursOf(&s.Project, storeys[j].ID)
			for k := range facts.Neighbours {
				n := &facts.Neighbours[k]
				n.Plan, n.Designs = s.Plan(n.Storey.ID), designs[n.Storey.ID]
			}
			if facts.Plan == nil {
				facts.Plan = &domain.Plan{ID: storeys[j].ID}
			}
			out = append(out, validate.Storey(facts)...)
		}
	}
	return out
}

// resolver is Scope.Resolve with the typicals found by a look and not a search.
func resolver(s *domain.Scope) func(*domain.Room) (*domain.Resolved, error) {
	typicals := make(map[domain.ID]*domain.Typical, len(s.Typicals))
	for i := range s.Typicals {
		typicals[s.Typicals[i].ID] = &s.Typicals[i]
	}
	return func(r *domain.Room) (*domain.Resolved, error) {
		out, err := domain.Resolve(r, typicals[r.TypicalID])
		if err != nil {
			return nil, err
		}
		return out.OnPlan(s.Plan(r.StoreyID)), nil
	}
}

// New gives a report of findings that are at hand.
func New(p *domain.Project, rooms int, lines []Line) *Report {
	r := &Report{Project: p, Rooms: rooms, Lines: lines}
	for i := range lines {
		switch f := &lines[i].Finding; {
		case f.Waived():
			r.Waived++
		case f.Severity == rule.Error:
			r.Errors++
		case f.Severity == rule.Warning:
			r.Warnings++
		default:
			r.Infos++
		}
	}
	return r
}

// inOrder gives the rooms by storey and number, as people walk the building.
func inOrder(s *domain.Scope) []*domain.Room {
	place := map[domain.ID]int{}
	for _, b := range s.Project.Buildings {
		for _, st := range b.Storeys {
			place[st.ID] = len(place)
		}
	}
	rooms := make([]*domain.Room, len(s.Rooms))
	for i := range s.Rooms {
		rooms[i] = &s.Rooms[i]
	}
	slices.SortFunc(rooms, func(a, b *domain.Room) int {
		return cmp.Or(cmp.Compare(place[a.StoreyID], place[b.StoreyID]), domain.CompareNumbers(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
	})
	return rooms
}

func count(p *domain.Project, r *domain.Resolved) rule.RoomCounts {
	out := rule.RoomCounts{ID: r.ID, Storey: r.StoreyID, Number: r.Number, Devices: len(r.Design.Devices), Controlled: len(r.Design.Devices) > 0}
	for i := range r.Design.Devices {
		if t := p.Book.Find(r.Design.Devices[i].Type); t != nil && t.Kind == equipment.Gateway {
			out.Gateways++
		}
	}
	return out
}

// Summary says it in a line: "56 rooms: 1 error, 2 warnings, 0 notes, 1 waived".
func (r *Report) Summary() string {
	return fmt.Sprintf("%s: %s, %s, %s, %d waived", rule.Many(r.Rooms, "room"), rule.Many(r.Errors, "error"), rule.Many(r.Warnings, "warning"), rule.Many(r.Infos, "note"), r.Waived)
}
