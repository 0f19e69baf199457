package propose_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
)

func BenchmarkDivide_78Devices(b *testing.B) {
	f := openOffice()
	for b.Loop() {
		propose.Divide(f.P, f.R)
	}
}

// wholeStorey is a room of 300 devices.
func wholeStorey(b *testing.B) *floor {
	f := newFloor(15, 8)
	for n := range 60 {
		x, y := n%15, n/15*2
		f.put(domain.ID(fmt.Sprint("st", n)), "st-4-mains", geom.Pt(cell*float64(x)+0.5, cell*float64(y)+0.4), [2]int{x, y}, [2]int{min(14, x+1), y}, [2]int{x, y + 1})
	}
	require.Len(b, f.R.Design.Devices, 300)
	return f
}

func BenchmarkDivide_300Devices(b *testing.B) {
	f := wholeStorey(b)
	var d propose.Division
	for b.Loop() {
		d = propose.Divide(f.P, f.R)
	}
	b.ReportMetric(float64(len(d.Areas)), "areas")
	b.ReportMetric(float64(d.Bound), "bound")
	b.ReportMetric(float64(len(d.Cut)), "cut-links")
}

func BenchmarkDivisions_78Devices(b *testing.B) {
	f := openOffice()
	for b.Loop() {
		propose.Divisions(f.P, f.R, 16)
	}
}

func BenchmarkDivisions_300Devices(b *testing.B) {
	f := wholeStorey(b)
	var ways []propose.Division
	for b.Loop() {
		ways = propose.Divisions(f.P, f.R, 16)
	}
	b.ReportMetric(float64(len(ways)), "ways")
}
