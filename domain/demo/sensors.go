package demo

import "scopewright/domain/equipment"

// book is the generic book with a type that this building needs beside it.
func book() equipment.Book {
	return append(equipment.Generic(), equipment.Type{
		ID: "ps-corridor", Seq: 900, Name: "Presence sensor, corridor ceiling, battery", Kind: equipment.Presence, Supply: equipment.Battery,
		Description: "Passive infrared for corridors: sees people walk far along, and little of small motion", Mounting: "ceiling", Box: "none", Source: "invented for the demo",
		LifeYears: 10, Cell: "CR123A", Sensitivity: -97, Senses: equipment.Infrared,
		MajorRadius: 10.0584, MinorRadius: 2.4384, StatedAt: 2.7432, StatedOn: equipment.TargetPlane, Lowest: 2.1336, Highest: 3.6576, MostRadius: 10.668,
	})
}
