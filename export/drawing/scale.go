package drawing

import (
	"fmt"
	"math"

	"scopewright/domain/units"
)

// Scale is how much larger the building is than its drawing: 1 to Ratio.
type Scale struct {
	Ratio float64
	Name  string // as drawings state it: "1:100", `1/8" = 1'-0"`
}

// PerMeter gives the millimeters on paper of a meter.
func (s Scale) PerMeter() float64 { return 1000 / s.Ratio }

// String gives the name with the ratio, once.
func (s Scale) String() string {
	ratio := fmt.Sprintf("1:%s", units.Trim(s.Ratio, 2))
	if s.Name == "" || s.Name == ratio {
		return ratio
	}
	return s.Name + " (" + ratio + ")"
}

// metric are the scales of ISO 5455 (from memory: 1, 2 and 5 times powers of
// ten), from the largest that a room needs.
var metric = []Scale{{20, "1:20"}, {50, "1:50"}, {100, "1:100"}, {200, "1:200"}, {500, "1:500"}, {1000, "1:1000"}}

// architectural are the scales of a foot to a part of an inch: 1/4 in to the
// foot is 1:48 (common practice, no published source; 12 in / (1/4 in) = 48).
var architectural = []Scale{
	{24, `1/2" = 1'-0"`}, {32, `3/8" = 1'-0"`}, {48, `1/4" = 1'-0"`}, {64, `3/16" = 1'-0"`}, {96, `1/8" = 1'-0"`},
	{128, `3/32" = 1'-0"`}, {192, `1/16" = 1'-0"`}, {384, `1/32" = 1'-0"`},
	{480, `1" = 40'`}, // of the engineer's scale, before 50' to the inch
}

// StandardScales lists the scales that drawings in a system of units use, the
// largest first.
func StandardScales(sys units.System) []Scale {
	if sys == units.US {
		return architectural
	}
	return metric
}

// ScaleFor gives the largest standard scale at which a width and height in
// meters fit a space in millimeters. Beyond the standard ones it goes on in
// steps of 1, 2 and 5, so that there is always one.
func ScaleFor(width, height, paperWidth, paperHeight float64, sys units.System) Scale {
	fits := func(s Scale) bool {
		const hair = 1e-6
		return width*s.PerMeter() <= paperWidth+hair && height*s.PerMeter() <= paperHeight+hair
	}
	for _, s := range StandardScales(sys) {
		if fits(s) {
			return s
		}
	}
	for step := 50.0; ; {
		for _, times := range []float64{1, 2, 4} { // 50, 100, 200 and so on
			if s := beyond(step*times, sys); fits(s) || s.Ratio > 1e12 {
				return s
			}
		}
		step *= 10
	}
}

// beyond gives the scale of that many feet to the inch, or the metric one of
// ten times that number.
func beyond(n float64, sys units.System) Scale {
	if sys == units.US {
		return Scale{Ratio: 12 * n, Name: `1" = ` + units.Trim(n, 0) + "'"}
	}
	ratio := n * 10
	return Scale{Ratio: ratio, Name: "1:" + units.Trim(ratio, 0)}
}

// step125 gives the largest of 1, 2 and 5 times a power of ten that is at most v.
func step125(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{5, 2} {
		if k*power <= v*(1+1e-9) {
			return k * power
		}
	}
	return power
}
