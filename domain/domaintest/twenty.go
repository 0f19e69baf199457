package domaintest

import (
	"fmt"

	"scopewright/domain"
)

// TwentyDevices is a sound room of 20 devices, 8 lighting loads and a receptacle,
// with three stations, five presence sensors and six scenes: what benchmarks take
// for a large usual room.
func TwentyDevices() *Builder {
	b := Classroom()
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
