package energycode_test

import (
	"testing"

	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/energycode"
)

// BenchmarkRoom judges one room as an edit does: a large usual one of 20 devices
// without windows on a plan, and a classroom with two windows drawn.
func BenchmarkRoom(b *testing.B) {
	p := energycode.Find(old)
	for _, c := range []struct {
		name string
		room *domaintest.Builder
	}{{"20 devices", domaintest.TwentyDevices()}, {"windows", drawn(40)}} {
		r := c.room
		b.Run(c.name+"/zones", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := energycode.ZonesOf(p, r.P, r.R, daylight.AssumedOf(r.P)); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(c.name+"/facts", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				energycode.FactsOf(r.P, r.R, energycode.Given{})
			}
		})
		b.Run(c.name+"/brief facts", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				energycode.FactsOf(r.P, r.R, energycode.Given{Brief: true})
			}
		})
		f := energycode.FactsOf(r.P, r.R, energycode.Given{})
		b.Run(c.name+"/some mendable", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				energycode.SomeMendable(p, class, &f)
			}
		})
		b.Run(c.name+"/judge", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				energycode.Judge(p, class, &f)
			}
		})
	}
}
