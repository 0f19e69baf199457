package electrical

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/units"
)

// PulseEnergy gives I2t of one inrush pulse in A2 s: a half-sine of peak Ip and
// width T50 at half of it has 0.75 Ip2 T50, since it is 1.5 T50 long and its mean
// square is half of Ip2. n drivers that start together add their peaks, so that
// it grows with n squared; cable impedance lowers it, so this is the upper bound.
func PulseEnergy(peak units.Amps, microseconds float64, n int) float64 {
	ip := float64(peak) * float64(n)
	return 0.75 * ip * ip * microseconds * 1e-6
}

// Trip is a breaker's characteristic.
type Trip = domain.Trip

// The characteristics.
const (
	TripB = domain.TripB
	TripC = domain.TripC
	TripD = domain.TripD
)

// AllowedPeak gives the peak in A that a breaker stands: K sqrt2 m In, where m
// is the least trip and K what it stands at the pulse's short width, from its
// curve; K = 1 is the safe side.
func AllowedPeak(rating units.Amps, t Trip, k float64) units.Amps {
	return PeakAtMultiple(rating, t.Multiple(), k)
}

// PeakAtMultiple is AllowedPeak for a least trip that is stated as a multiple of
// the rating.
func PeakAtMultiple(rating units.Amps, multiple, k float64) units.Amps {
	return units.Amps(k * math.Sqrt2 * multiple * float64(rating))
}

// BreakerPeak gives the peak in A that the breaker of a circuit stands: as listed,
// or as the project's limits assume, with their factor K.
func BreakerPeak(p *domain.Project, t *domain.CircuitTotal) units.Amps {
	rating, _ := t.Rating(p)
	multiple, _ := t.TripMultiple(p)
	return PeakAtMultiple(rating, multiple, p.Limits.Value(domain.InrushFactor))
}

// DriversPerBreaker gives how many drivers one breaker starts and carries, and
// how many by each reason: floor(share In / I) and floor(AllowedPeak / Ip).
// checked is false where peak or running current are not known: the answer is
// then "not checked", never "passes".
func DriversPerBreaker(rating units.Amps, t Trip, k, sharePercent float64, running, peak units.Amps) (byCurrent, byInrush int, checked bool) {
	if running <= 0 || peak <= 0 || t.Multiple() == 0 || k <= 0 {
		return 0, 0, false
	}
	whole := func(x float64) int { return int(math.Floor(x * (1 + units.Tolerance))) }
	return whole(float64(rating) * sharePercent / 100 / float64(running)), whole(float64(AllowedPeak(rating, t, k) / peak)), true
}
