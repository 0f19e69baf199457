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

// twentyDevices is a sound room of 20 devices, 8 lighting loads and a
// receptacle, with three stations, five presence sensors and six scenes.
func twentyDevices() *domaintest.Builder {
	b := domaintest.Classroom()
	for i := 5; i <= 8; i++ {
		b.Load(domain.ID(fmt.Sprint("l", i)), "a", 6)
	}
	b.Device("lc2", "lc-4")
	for i := 5; i <= 8; i++ {
		l := domain.ID(fmt.Sprint("l", i))
		b.Carry(l, "lc2", i-4).Link("ps", 0, "", l, "ACT").Link("ds", 0, "", l, "-")
		for n, cell := range []string{"SC1", "SC2", "DN", "0"} {
			b.Link("st", n+1, domain.Press, l, cell)
		}
		b.Set("scenes/s1/levels/"+string(l), "100", "scenes/s2/levels/"+string(l), "60 in 2 s")
	}
	return b.Set("facts/area_m2", "2000 ft2", "devices/st/sending", "loads", "devices/ps/sending", "loads").
		Working(2, "st-4-mains").Working(4, "ps-ceiling").Working(1, "cn-2").Working(1, "av-serial").Devices(5, "rt-plug")
}

func TestTwentyDevicesAreSound(t *testing.T) {
	b := twentyDevices()
	if n := len(b.R.Design.Devices); n != 20 {
		t.Fatalf("%d devices", n)
	}
	for _, f := range room(b) {
		t.Errorf("%s: %s", f.Rule, f.Message)
	}
}

// BenchmarkRules10000Rooms runs all rules over 10,000 rooms of 20 devices held
// in memory, on one core.
func BenchmarkRules10000Rooms(b *testing.B) {
	const n = 10000
	one := twentyDevices()
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
