package validate_test

import (
	"fmt"
	"testing"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate"
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
