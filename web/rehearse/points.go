package rehearse

import "math"

const (
	finest   = 0.02 // seconds: no bend is told finer
	straight = 0.05 // points of a level by which a straight line may miss
)

// bends gives the points that draw a level over a stretch of time by straight
// lines, its first point left out: fades, ramps and their limits all are
// straight pieces, so halving finds the bends between them.
func bends(level func(t float64) float64, from, to float64) [][2]float64 {
	var out [][2]float64
	halve(level, from, to, level(from), level(to), &out)
	return out
}

func halve(level func(t float64) float64, from, to, first, last float64, out *[][2]float64) {
	middle := level((from + to) / 2)
	quarter, third := level(from+(to-from)/4), level(from+3*(to-from)/4)
	fits := math.Abs(middle-(first+last)/2) <= straight && math.Abs(quarter-(first*3+last)/4) <= straight && math.Abs(third-(first+last*3)/4) <= straight
	if fits || to-from <= finest {
		*out = append(*out, [2]float64{round(to, 1000), round(last, 100)})
		return
	}
	halve(level, from, (from+to)/2, first, middle, out)
	halve(level, (from+to)/2, to, middle, last, out)
}

func round(v, parts float64) float64 { return math.Round(v*parts) / parts }
