package capacity

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// RoomsServer holds the controlled rooms under one building server to their limit.
var RoomsServer = rule.Rule{
	ID: "capacity-rooms-server", Title: "Too many rooms under one building server", Severity: rule.Error, Scope: rule.OfProject,
	Limits:  []domain.LimitID{domain.RoomsPerServer},
	Why:     "A server beyond its size answers late, and schedules and trends of the last rooms are lost.",
	Source:  commonPractice,
	Example: "200 rooms with devices pass at a limit of 200; with 201 the server is 1 over. Rooms without devices do not count.",
	CheckProject: func(f *rule.ProjectFacts) []rule.Finding {
		return overJoined(f, domain.RoomsPerServer, "server", "room", "Name a second server for some storeys.",
			func(s *domain.Storey) string { return s.Server },
			func(r *rule.RoomCounts) int {
				if r.Controlled {
					return 1
				}
				return 0
			})
	},
	FiresProject: func() *rule.ProjectFacts { return joined(201, 0) },
	QuietProject: func() *rule.ProjectFacts { return joined(200, 0) },
}

// overJoined sums rooms by the server or backbone that their storeys join; a
// storey that names none joins its building's own.
func overJoined(f *rule.ProjectFacts, id domain.LimitID, what, one, todo string, name func(*domain.Storey) string, each func(*rule.RoomCounts) int) []rule.Finding {
	most := f.Project.Limits.Value(id)
	var out []rule.Finding
	for b := range f.Project.Buildings {
		building := &f.Project.Buildings[b]
		var names []string
		sums := map[string]int{}
		at := map[domain.ID]string{}
		for s := range building.Storeys {
			storey := &building.Storeys[s]
			at[storey.ID] = name(storey)
			if _, known := sums[name(storey)]; !known {
				names, sums[name(storey)] = append(names, name(storey)), 0
			}
		}
		for i := range f.Rooms {
			if joins, here := at[f.Rooms[i].Storey]; here {
				sums[joins] += each(&f.Rooms[i])
			}
		}
		for _, joins := range names {
			if n := sums[joins]; float64(n) > most {
				out = append(out, tooMany(building, joins, what, one, todo, n, most))
			}
		}
	}
	return out
}

func tooMany(b *domain.Building, joins, what, one, todo string, n int, most float64) rule.Finding {
	found := rule.AtMost(float64(n), most, one+"s")
	found.Key = string(b.ID)
	found.Subjects = []rule.Subject{{Part: "buildings", ID: b.ID, Tag: b.Name}}
	of := "The " + what + " of " + b.Name
	if joins != "" {
		found.Key += "/" + joins
		of = fmt.Sprintf("The %s %s of %s", what, joins, b.Name)
	}
	found.Message = fmt.Sprintf("%s has %s, limit %s: %s over. %s", of, rule.Many(n, one), rule.Number(most), rule.Number(float64(n)-most), todo)
	return found
}

// joined gives a building of n rooms with devices and so many gateways.
func joined(n, gateways int) *rule.ProjectFacts {
	f := &rule.ProjectFacts{Project: domaintest.Project(units.SI)}
	for i := range n {
		f.Rooms = append(f.Rooms, rule.RoomCounts{ID: domain.ID(fmt.Sprint("r", i)), Storey: "s1", Number: fmt.Sprint(100 + i), Controlled: true, Devices: 3})
		if i < gateways {
			f.Rooms[i].Gateways = 1
		}
	}
	return f
}
