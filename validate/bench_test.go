package validate_test

import (
	"fmt"
	"testing"
	"time"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate"
	"scopewright/validate/rule"
)

func TestTwentyDevicesAreSound(t *testing.T) {
	b := domaintest.TwentyDevices()
	if n := len(b.R.Design.Devices); n != 20 {
		t.Fatalf("%d devices", n)
	}
	for _, f := range room(b) {
		t.Errorf("%s: %s", f.Rule, f.Message)
	}
}

// BenchmarkRules10000Rooms runs all rules over 10,000 rooms of 20 devices held
// in memory, on one core.
func BenchmarkRules10000Rooms(b *testing.B) { benchmarkRooms(b, domaintest.TwentyDevices()) }

// BenchmarkRulesByCode10000Rooms does so with an energy code chosen, which the rooms
// meet as far as they can tell.
func BenchmarkRulesByCode10000Rooms(b *testing.B) { benchmarkRooms(b, twentyByCode()) }

func twentyByCode() *domaintest.Builder {
	one := domaintest.TwentyDevices().Set("facts/space_type", "classroom_lecture_training", "facts/receptacles", "11", "loads/r1/count", "6", "intents/i2/delay_s", "15 min", "intents/i3/may_off", "yes", "loads/l5/count", "4", "loads/l6/count", "4", "loads/l7/count", "4")
	one.P.CodePack = "ashrae-90.1-2019"
	return one
}

func TestTwentyDevicesMeetTheCode(t *testing.T) {
	for _, f := range room(twentyByCode()) {
		t.Errorf("%s: %s", f.Rule, f.Message)
	}
}

// BenchmarkRoomByCode judges one room as an edit does, without a code and with one: a
// room of 20 devices that meets it, a classroom with windows drawn, and one that does not
// meet it, whose way out is tried.
func BenchmarkRoomByCode(b *testing.B) {
	for _, c := range []struct {
		name string
		room *domaintest.Builder
	}{
		{"20 devices", twentyByCode()},
		{"windows drawn", validate.ByID("energycode-daylight-side").Quiet()},
		{"windows drawn, not met", validate.ByID("energycode-daylight-side").Fires()},
		{"not met", validate.ByID("energycode-full-off").Fires()},
	} {
		for _, pack := range []domain.CodePack{"", c.room.P.CodePack} {
			p := *c.room.P
			p.CodePack = pack
			b.Run(fmt.Sprintf("%s/code=%t", c.name, pack != ""), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					validate.Room(&p, c.room.R, today)
				}
			})
		}
	}
}

func benchmarkRooms(b *testing.B, one *domaintest.Builder) {
	const n = 10000
	rooms := make([]*domain.Resolved, n)
	for i := range rooms {
		r := one.R.Room.Clone()
		r.ID = domain.ID(fmt.Sprint("r", i))
		rooms[i] = &domain.Resolved{Room: r, Design: r.Design}
	}
	b.ReportAllocs()
	b.ResetTimer()
	for b.Loop() {
		for _, r := range rooms {
			if len(validate.Room(one.P, r, today)) > 0 {
				b.Fatal("the rooms are sound")
			}
		}
	}
	b.ReportMetric(float64(b.N)*n/b.Elapsed().Seconds(), "rooms/s")
}

// drawnStorey is a storey of 300 drawn rooms of ten placed devices each, with
// walls on all sides.
func drawnStorey() (*rule.StoreyFacts, []*domain.Resolved) {
	one := domaintest.Classroom()
	for i := 0; len(one.R.Design.Devices) < 10; i++ {
		one.Working(1, "ps-ceiling")
	}
	plan := &domain.Plan{ID: "s1"}
	facts := &rule.StoreyFacts{Project: one.P, Storey: &one.P.Buildings[0].Storeys[0], Plan: plan}
	var rooms []*domain.Resolved
	for n := range 300 {
		x, y := float64(n%20)*6, float64(n/20)*7
		r := one.R.Room.Clone()
		r.ID, r.Number, r.Outline = domain.ID(fmt.Sprint("r", n)), fmt.Sprint(1000+n), geom.Rectangle(x, y, 6, 7)
		resolved := &domain.Resolved{Room: r, Design: one.R.Design.Clone()}
		for i := range resolved.Design.Devices {
			at := geom.Pt(x+1+float64(i%3)*2, y+1+float64(i/3)*1.5)
			resolved.Design.Devices[i].At = &at
		}
		rooms, facts.Rooms = append(rooms, resolved), append(facts.Rooms, r)
		corners := []geom.Point{geom.Pt(x, y), geom.Pt(x+6, y), geom.Pt(x+6, y+7), geom.Pt(x, y+7)}
		for i, a := range corners {
			plan.Walls = append(plan.Walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", n, "-", i)), Seq: len(plan.Walls) + 1, A: a, B: corners[(i+1)%4], Kind: domain.FullWall, Thickness: 0.15})
		}
	}
	return facts, rooms
}

// BenchmarkStoreyOf3000Devices judges a whole storey's shapes and, apart from
// that, all of its rooms.
func BenchmarkStoreyOf3000Devices(b *testing.B) {
	facts, rooms := drawnStorey()
	b.Run("shapes", func(b *testing.B) {
		for b.Loop() {
			if found := validate.Storey(facts); len(found) > 0 {
				b.Fatal(found[0].Message)
			}
		}
	})
	b.Run("rooms", func(b *testing.B) {
		for b.Loop() {
			for _, r := range rooms {
				validate.Room(facts.Project, r, time.Time{})
			}
		}
	})
}
