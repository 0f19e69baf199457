package energycode_test

import (
	"bytes"
	"testing"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/energycode"
	"scopewright/domain/units"
)

// BenchmarkThousandRooms judges 1,000 rooms of the demo's kinds by one pack: facts,
// checks, and the tables to print. The whole must stay under a second.
func BenchmarkThousandRooms(b *testing.B) {
	s := demo.Scope()
	p := energycode.Find("ashrae-90.1-2019")
	var resolved []*domain.Resolved
	for i := range s.Rooms {
		var typical *domain.Typical
		for k := range s.Typicals {
			if s.Typicals[k].ID == s.Rooms[i].TypicalID {
				typical = &s.Typicals[k]
			}
		}
		r, err := domain.Resolve(&s.Rooms[i], typical)
		if err != nil {
			b.Fatal(err)
		}
		resolved = append(resolved, r)
	}
	gather := func() []energycode.Room {
		rooms := make([]energycode.Room, 1000)
		for i := range rooms {
			r := resolved[i%len(resolved)]
			f := energycode.FactsOf(&s.Project, r, energycode.Given{})
			rooms[i] = energycode.Room{ID: r.ID, Space: p.Propose(r.Use, f.Area).Space, Facts: f}
		}
		return rooms
	}
	rooms := gather()
	b.Run("facts", func(b *testing.B) {
		for b.Loop() {
			gather()
		}
	})
	b.Run("checks", func(b *testing.B) {
		for b.Loop() {
			energycode.JudgeBuilding(p, rooms, units.US)
		}
	})
	b.Run("documents", func(b *testing.B) {
		r := energycode.JudgeBuilding(p, rooms, units.US)
		for b.Loop() {
			r.Documents()
		}
	})
}

// BenchmarkRead reads a worksheet file of a whole code.
func BenchmarkRead(b *testing.B) {
	text := []byte(written(b, sheet(b)))
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := energycode.Read(bytes.NewReader(text)); err != nil {
			b.Fatal(err)
		}
	}
}
