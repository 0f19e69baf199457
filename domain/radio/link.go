package radio

import (
	"math"

	"scopewright/domain/units"
)

// Radio is what a device's radio does: power out and gain toward the other end,
// and the weakest signal that it hears.
type Radio struct {
	Power       float64 // dBm
	Gain        float64 // dBi
	Sensitivity float64 // dBm
}

// Margin gives how far a signal from one radio is above what the other hears,
// in the worse of the two directions, dB:
// M = Ptx + Gtx + Grx - loss - sensitivity.
func Margin(a, b Radio, loss float64) float64 {
	gains := a.Gain + b.Gain - loss
	return math.Min(a.Power+gains-b.Sensitivity, b.Power+gains-a.Sensitivity)
}

// Up gives the probability that a link of a margin is up under log-normal
// shadowing of deviation sigma, both dB: the normal distribution of M/sigma.
// Without shadowing it is 1 from a margin of 0.
func Up(margin, sigma float64) float64 {
	if sigma <= 0 {
		if margin >= 0 {
			return 1
		}
		return 0
	}
	return 0.5 * math.Erfc(-margin/sigma/math.Sqrt2)
}

// FadeMargin gives the margin that a link needs to be up with probability p
// under shadowing of deviation sigma, dB: z(p) sigma. p lies between 0 and 1,
// both excluded; others give NaN.
func FadeMargin(p, sigma float64) float64 {
	if !(p > 0 && p < 1) {
		return math.NaN()
	}
	return -math.Sqrt2 * math.Erfcinv(2*p) * sigma
}

// AnyUp gives the probability that at least one of several links is up if they
// fade apart, 1 - product of (1 - p). Shadowing of neighbors goes together, so it
// is an upper bound.
func AnyUp(links ...float64) float64 {
	down := 1.0
	for _, p := range links {
		down *= 1 - p
	}
	return 1 - down
}

// Reach gives the distance at which the loss with an exponent n over a first
// meter leaves a margin: the inverse of LogDistance, in meters, at least 1.
func Reach(a, b Radio, margin, firstMetre, n float64) units.Metres {
	loss := Margin(a, b, 0) - margin
	return units.Metres(math.Max(nearest, math.Pow(10, (loss-firstMetre)/(10*n))))
}
