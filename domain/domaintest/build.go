// Package domaintest builds projects and rooms for tests, in few words.
package domaintest

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// Project gives an SI or US project with the generic book and limits, one
// building of one storey ("s1"), and luminaire types A (38 W, pf 0.95, 277 V,
// 0-10 V, 2 mA, dims to 10 %), B (the same at 120 V), C (digital) and
// S (switched only), each of 1 A inrush.
func Project(sys units.System) *domain.Project {
	return &domain.Project{
		ID: "p1", Name: "Test project", Units: sys,
		Buildings: []domain.Building{{ID: "b1", Seq: 1, Name: "Main building", Storeys: []domain.Storey{{ID: "s1", Seq: 1, Name: "Ground"}}}},
		Luminaires: []domain.Luminaire{
			{ID: "a", Seq: 1, Tag: "A", Description: "Recessed 2x4", Watts: 38, Volts: 277, PowerFactor: 0.95, Driver: domain.DriverAnalog, ControlMA: 2, DimsTo: 10, InrushPeak: 1},
			{ID: "b", Seq: 2, Tag: "B", Description: "Recessed 2x4, 120 V", Watts: 38, Volts: 120, PowerFactor: 0.95, Driver: domain.DriverAnalog, ControlMA: 2, DimsTo: 10, InrushPeak: 1},
			{ID: "c", Seq: 3, Tag: "C", Description: "Pendant", Watts: 60, Volts: 277, PowerFactor: 0.95, Driver: domain.DriverDigital, DimsTo: 1, DimToOff: true, InrushPeak: 1},
			{ID: "s", Seq: 4, Tag: "S", Description: "Strip", Watts: 25, Volts: 277, PowerFactor: 0.9, Driver: domain.DriverSwitched, InrushPeak: 1},
		},
		Book: equipment.Generic(), Limits: domain.GenericLimits(),
	}
}

// Builder makes one room.
type Builder struct {
	P *domain.Project
	R *domain.Resolved
	n int
}

// Room starts an empty room 101 in a US project.
func Room() *Builder {
	return &Builder{P: Project(units.US), R: &domain.Resolved{Room: &domain.Room{ID: "r1", StoreyID: "s1", Number: "101", Name: "Room", Use: "classroom", Area: 40, Ceiling: 2.7, Windows: true}}}
}

// Do carries out edits and panics where one is refused: the test is wrong then.
func (b *Builder) Do(edits ...edit.Edit) *Builder {
	s := edit.OfRoom(b.P, b.R)
	for _, e := range edits {
		if _, err := e.Apply(s); err != nil {
			panic(fmt.Sprintf("domaintest: %T: %v", e, err))
		}
	}
	if err := b.R.Settle(); err != nil {
		panic(err)
	}
	return b
}

// Set sets fields by path and text, in pairs.
func (b *Builder) Set(pairs ...string) *Builder {
	for i := 0; i+1 < len(pairs); i += 2 {
		b.Do(edit.SetField{Path: pairs[i], Text: pairs[i+1]})
	}
	return b
}

// Load adds a lighting load with an ID, a luminaire type and a count.
func (b *Builder) Load(id, luminaire domain.ID, count int) *Builder {
	return b.Do(edit.AddLoad{ID: id, Kind: domain.Lighting, Luminaire: luminaire, Count: count})
}

// Receptacle adds a receptacle load.
func (b *Builder) Receptacle(id domain.ID) *Builder {
	return b.Do(edit.AddLoad{ID: id, Kind: domain.Receptacle})
}

// Device adds a device with an ID.
func (b *Builder) Device(id domain.ID, typ string) *Builder {
	return b.Do(edit.AddDevice{ID: id, Type: typ})
}

// Scene adds a scene in which every lighting load is at full.
func (b *Builder) Scene(id domain.ID, name string) *Builder {
	return b.Do(edit.AddScene{ID: id, Name: name})
}

// Intent adds an intent of a kind with numbers to start from.
func (b *Builder) Intent(id domain.ID, kind domain.IntentKind) *Builder {
	return b.Do(edit.AddIntent{ID: id, Kind: kind})
}

// Devices adds n devices of a type with IDs x1, x2 and so on.
func (b *Builder) Devices(n int, typ string) *Builder {
	for range n {
		b.n++
		b.Device(domain.ID(fmt.Sprintf("x%d", b.n)), typ)
	}
	return b
}

// Carry puts a load on a controller's output.
func (b *Builder) Carry(load, controller domain.ID, output int) *Builder {
	l := b.R.Design.Load(load)
	l.Controller, l.Output = controller, output
	return b
}

// Link writes a matrix cell: Link("st", 1, "press", "l1", "100").
func (b *Builder) Link(dev domain.ID, button int, on domain.Gesture, load domain.ID, cell string) *Builder {
	return b.Set("links/"+string(domain.LinkID(dev, button, on, load)), cell)
}

// Classroom is a sound room: four lighting loads and a receptacle, a
// controller, a station with scenes, a vacancy sensor, a daylight sensor, a
// gateway and the intents that go with them. It has no findings.
func Classroom() *Builder {
	b := Room().Load("l1", "a", 6).Load("l2", "a", 6).Load("l3", "a", 4).Load("l4", "a", 2).Receptacle("r1").
		Device("lc", "lc-4").Device("rc", "rc-20").Device("st", "st-4-mains").Device("ps", "ps-ceiling").Device("ds", "ds-open").Device("gw", "gw-room").
		Set("loads/l1/name", "Front", "loads/l2/name", "Middle", "loads/l3/name", "Window row", "loads/l3/zone", "window row", "loads/l4/name", "Board", "loads/l4/layer", "board",
			"loads/l1/circuit", "LP-1", "loads/l2/circuit", "LP-1", "loads/l3/circuit", "LP-1", "loads/l4/circuit", "LP-1", "loads/r1/circuit", "LP-2",
			"devices/ps/presence", "vacancy", "devices/ps/parent", "LC-1", "devices/ds/parent", "LC-1").
		Carry("l1", "lc", 1).Carry("l2", "lc", 2).Carry("l3", "lc", 3).Carry("l4", "lc", 4).Carry("r1", "rc", 1).
		Do(edit.AddScene{ID: "s1", Name: "Teach"}, edit.AddScene{ID: "s2", Name: "Present"}).
		Set("scenes/s2/levels/l1", "0 in 2 s", "scenes/s2/levels/l2", "60 in 2 s", "scenes/s2/levels/l4", "0 in 2 s",
			"devices/st/buttons/1", "Teach", "devices/st/buttons/2", "Present", "devices/st/buttons/3", "Dim", "devices/st/buttons/4", "Off")
	for _, l := range []domain.ID{"l1", "l2", "l3", "l4"} {
		b.Link("st", 1, domain.Press, l, "SC1").Link("st", 2, domain.Press, l, "SC2").Link("st", 3, domain.Press, l, "DN").Link("st", 4, domain.Press, l, "0").Link("ps", 0, "", l, "ACT")
	}
	b.Link("st", 1, domain.Press, "r1", "-").Link("st", 2, domain.Press, "r1", "-").Link("st", 3, domain.Press, "r1", "-").Link("st", 4, domain.Press, "r1", "-").
		Link("ps", 0, "", "r1", "ACT").Link("ds", 0, "", "l3", "ACT").Link("ds", 0, "", "l1", "-").Link("ds", 0, "", "l2", "-").Link("ds", 0, "", "l4", "-").Link("ds", 0, "", "r1", "-").
		Do(edit.AddIntent{ID: "i1", Kind: domain.ByHand}, edit.AddIntent{ID: "i2", Kind: domain.ByPresence}, edit.AddIntent{ID: "i3", Kind: domain.ByDaylight},
			edit.AddIntent{ID: "i4", Kind: domain.ForReceptacles}, edit.AddIntent{ID: "i5", Kind: domain.OnPowerBack}).
		Set("intents/i3/loads", "L3")
	return b
}
