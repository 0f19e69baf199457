package paperwork

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// RoomNumbers keeps the room numbers of a building apart.
var RoomNumbers = rule.Rule{
	ID: "paperwork-room-numbers", Title: "Two rooms with one number", Severity: rule.Error, Scope: rule.OfProject,
	Why:     "The sheet of one room hangs on the door of the other, and a new room list cannot tell which one it means.",
	Source:  commonPractice,
	Example: "Rooms 101 and 102 of one building pass, as do rooms 101 of two buildings; two rooms 101 of one building do not.",
	CheckProject: func(f *rule.ProjectFacts) []rule.Finding {
		building := map[domain.ID]*domain.Building{}
		for i := range f.Project.Buildings {
			b := &f.Project.Buildings[i]
			for j := range b.Storeys {
				building[b.Storeys[j].ID] = b
			}
		}
		type place struct {
			building *domain.Building
			number   string
		}
		rooms := make(map[place][]rule.Subject, len(f.Rooms))
		var twins []place
		for i := range f.Rooms {
			r := &f.Rooms[i]
			at := place{building[r.Storey], strings.ToLower(strings.TrimSpace(r.Number))}
			if at.building == nil || at.number == "" {
				continue
			}
			rooms[at] = append(rooms[at], rule.Subject{Part: "rooms", ID: r.ID, Tag: r.Number})
			if len(rooms[at]) == 2 {
				twins = append(twins, at)
			}
		}
		var out []rule.Finding
		for _, at := range twins {
			list := rooms[at]
			found := rule.AtMost(float64(len(list)), 1, "rooms")
			found.Key, found.Subjects = string(at.building.ID)+"/"+at.number, list
			found.Message = fmt.Sprintf("%d rooms of %s have the number %s, limit 1: renumber all but one.", len(list), at.building.Name, list[0].Tag)
			out = append(out, found)
		}
		return out
	},
	FiresProject: func() *rule.ProjectFacts { return numbered("101", "102", " 101") },
	QuietProject: func() *rule.ProjectFacts { return numbered("101", "102", "101A") },
}

func numbered(numbers ...string) *rule.ProjectFacts {
	f := &rule.ProjectFacts{Project: domaintest.Project(units.US)}
	for i, n := range numbers {
		f.Rooms = append(f.Rooms, rule.RoomCounts{ID: domain.ID(fmt.Sprint("r", i)), Storey: "s1", Number: n})
	}
	return f
}
