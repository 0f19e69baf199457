// Package demo builds an invented building with its lighting controls, good
// enough to show how the program works: three storeys of classrooms, offices
// and the rooms between them. Nothing in it is taken from a real project.
package demo

import (
	"scopewright/domain"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

// Scope gives a fresh copy of the demo project.
func Scope() *domain.Scope {
	p := project()
	s := &domain.Scope{Typicals: typicals(p)}
	for i, rooms := range [][]domain.Room{levelOne(p, s.Typicals), levelTwo(p, s.Typicals), levelThree(p, s.Typicals)} {
		s.Plans = append(s.Plans, draw(p.Buildings[0].Storeys[i].ID, rooms, s.Typicals))
		s.Rooms = append(s.Rooms, rooms...)
	}
	for i := range s.Rooms {
		leaveStories(p, &s.Rooms[i], s.Typicals)
	}
	s.Project = *p
	s.Reviews = reviews(p)
	listCircuits(s)
	return s
}

// leaveStories takes away the scenarios of a room's typical that its exceptions
// make untrue of it.
func leaveStories(p *domain.Project, r *domain.Room, typicals []domain.Typical) {
	for i := range typicals {
		if typicals[i].ID != r.TypicalID || len(r.Exceptions) == 0 {
			continue
		}
		resolved, err := domain.Resolve(r, &typicals[i])
		if err != nil {
			panic(err) // the demo's own rooms follow their typicals
		}
		var kept []domain.Scenario
		for n, result := range sequence.RunAll(p, &resolved.Design) {
			if result.Passed {
				kept = append(kept, resolved.Design.Scenarios[n])
			}
		}
		if resolved.Design.Scenarios = kept; resolved.Settle() != nil {
			panic("demo: a room cannot be settled")
		}
	}
}

func project() *domain.Project {
	north, east := 41.5, -81.5 // of the invented town
	return &domain.Project{
		ID: "demo-harbor-street", Name: "Harbor Street Learning and Office Building (invented)", Number: "D-0417", Client: "Example Learning Trust (invented)",
		Address: "1 Harbor Street, Exampleton (invented)", CodeEdition: "To be confirmed by the designer of record; demo numbers only", CodePack: "ashrae-90.1-2019", Hours: "Mon-Fri 07:00-22:00, Sat 08:00-16:00",
		Designer: designer, Checker: "C. Checker", Reviewer: reviewer, Units: units.US, Invented: true,
		Latitude: &north, Longitude: &east, Zone: "America/New_York",
		Calendar: []string{"Mon-Fri not holidays 07:00 normal", "Mon-Fri not holidays 22:00 after hours", "Sat not holidays 08:00 normal", "Sat not holidays 16:00 after hours"},
		Currency: "USD", Rates: []domain.Rate{{ID: "tariff", Seq: 1, Value: 0.17, Date: "2026-01-01", Origin: "invented for the demo"}, {ID: "carbon", Seq: 2, Value: 0.4, Date: "2026-01-01", Origin: "invented for the demo"}},
		Holidays: []string{"2026-11-26 Harvest holiday", "2026-12-25 Winter closing", "2027-01-01 New Year's Day"},
		Brief:    "Lights must never surprise people. Teachers keep control while they teach. Everything goes off when a room is empty. Cleaners light only what they clean. The open office shall feel daylit and even.",
		Buildings: []domain.Building{{ID: "building-1", Seq: 1, Name: "Harbor Street", Storeys: []domain.Storey{
			{ID: "level-1", Seq: 1, Name: "Level 1"}, {ID: "level-2", Seq: 2, Name: "Level 2"}, {ID: "level-3", Seq: 3, Name: "Level 3"},
		}}},
		Luminaires: luminaires(), Book: book(), Limits: domain.GenericLimits(), Checklist: domain.StartChecklist(),
	}
}

// luminaires is the schedule. All ratings are invented but of a usual size.
func luminaires() []domain.Luminaire {
	list := []domain.Luminaire{
		{ID: "lum-a1", Tag: "A1", Description: "Recessed panel 2x2 ft", Watts: 28, Volts: 277, PowerFactor: 0.95, Driver: domain.DriverAnalog, ControlMA: 1, DimsTo: 5, InrushPeak: 18, InrushUs: 120},
		{ID: "lum-a2", Tag: "A2", Description: "Recessed panel 2x4 ft", Watts: 38, Volts: 277, PowerFactor: 0.95, Driver: domain.DriverAnalog, ControlMA: 1, DimsTo: 5, InrushPeak: 22, InrushUs: 150},
		{ID: "lum-b1", Tag: "B1", Description: "Linear pendant 8 ft, up and down", Watts: 62, Volts: 277, PowerFactor: 0.96, Drivers: 2, Driver: domain.DriverAnalog, ControlMA: 0.5, DimsTo: 5, InrushPeak: 12, InrushUs: 110},
		{ID: "lum-c1", Tag: "C1", Description: "Downlight 6 in", Watts: 14, Volts: 277, PowerFactor: 0.92, Driver: domain.DriverAnalog, ControlMA: 0.5, DimsTo: 1, InrushPeak: 8, InrushUs: 90},
		{ID: "lum-d1", Tag: "D1", Description: "High bay, round", Watts: 120, Volts: 277, PowerFactor: 0.97, Driver: domain.DriverDigital, DimsTo: 5, InrushPeak: 30, InrushUs: 250},
		{ID: "lum-e1", Tag: "E1", Description: "Sealed strip 4 ft, switched", Watts: 32, Volts: 277, PowerFactor: 0.95, Driver: domain.DriverSwitched, InrushPeak: 15, InrushUs: 120},
		{ID: "lum-f1", Tag: "F1", Description: "Stair wall light", Watts: 24, Volts: 277, PowerFactor: 0.93, Driver: domain.DriverAnalog, ControlMA: 0.5, DimsTo: 10, InrushPeak: 10, InrushUs: 100},
		{ID: "lum-g1", Tag: "G1", Description: "Accent spot on track", Watts: 12, Volts: 120, PowerFactor: 0.9, Driver: domain.DriverReverse, DimsTo: 5, DimToOff: true, InrushPeak: 6, InrushUs: 80},
	}
	for i := range list {
		list[i].Seq, list[i].Source = i+1, "invented for the demo"
	}
	return list
}
