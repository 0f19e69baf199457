package capacity

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
)

// crowded gives a classroom of n battery devices, at least 2, that all hear
// one router and no other.
func crowded(n int) *domaintest.Builder {
	b := domaintest.Classroom().Working(n-2, "ps-ceiling")
	return b.Spoil(func(d *domain.Design) {
		for i := range d.Devices {
			if dev := &d.Devices[i]; dev.Parent != "" {
				dev.Parent, dev.Hears = "lc", []domain.ID{"lc"}
			}
		}
	})
}

// calling gives a classroom whose stations send 8 broadcasts, and 9 when its
// presence sensor broadcasts too.
func calling(sensor domain.Sending) *domaintest.Builder {
	b := domaintest.Classroom().Working(1, "st-4-mains")
	return b.Spoil(func(d *domain.Design) {
		for i := range d.Devices {
			dev := &d.Devices[i]
			switch {
			case dev.Presence != "":
				dev.Sending = sensor
			case dev.Sending != "":
				dev.Sending = domain.ToRoom
			}
		}
	})
}
