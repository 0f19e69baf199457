package radio

import (
	"math"

	"scopewright/domain/units"
)

// nearest is the shortest distance that is reckoned with: nearer than 1 m the
// models of loss do not hold.
const nearest = 1.0

func atLeast(d units.Metres) float64 { return math.Max(nearest, float64(d)) }

// FreeSpace is the loss between isotropic antennas in free space, dB, at a
// distance and a frequency in MHz: 20 log10(4 pi d f/c). Below 1 m it is that of
// 1 m. Source: Friis; ITU-R P.525.
func FreeSpace(d units.Metres, mhz float64) float64 {
	return 20 * math.Log10(4*math.Pi*atLeast(d)*mhz*1e6/lightSpeed)
}

// LogDistance is the loss with an exponent n: FreeSpace(1 m) + 10 n log10 d, dB.
func LogDistance(d units.Metres, mhz, n float64) float64 {
	return FreeSpace(nearest, mhz) + 10*n*math.Log10(atLeast(d))
}

// Surroundings are those of ITU-R P.1238.
type Surroundings string

// The surroundings.
const (
	Residential Surroundings = "residential"
	Office      Surroundings = "office"
	Commercial  Surroundings = "commercial"
)

// Indoor1238 is the site-general model of ITU-R P.1238 up to edition 10, dB:
// L = 20 log10 f + N log10 d + Lf(n) - 28, f in MHz, d from 1 m, n floors
// between, with N and Lf of 1.8 to 2 GHz (seen in an open network simulator), as
// no edition lists N at 2.4 GHz. sigma is its shadowing, dB.
func Indoor1238(s Surroundings, d units.Metres, floors int, mhz float64) (loss, sigma float64) {
	n, lf, sigma := 30.0, 0.0, 10.0
	f := float64(floors)
	switch s {
	case Residential:
		n, sigma = 28, 8
		lf = 4 * f
	case Commercial:
		n = 22
		if floors > 0 {
			lf = 6 + 3*(f-1)
		}
	default:
		if floors > 0 {
			lf = 15 + 4*(f-1)
		}
	}
	return 20*math.Log10(mhz) + n*math.Log10(atLeast(d)) + lf - 28, sigma
}

// Row1238 is a row of the later site-general model of ITU-R P.1238, edition 11
// and on: L = 10 A log10 d + B + 10 G log10 f, f in GHz, both ends on one
// storey, for From <= d <= To.
type Row1238 struct {
	Name           string
	A, B, G, Sigma float64
	From, To       units.Metres
}

// The rows: of P.1238-11 table 2 (as an open project quotes it), and the office
// row of P.1238-13, 09/2025 (secondary source).
var (
	OfficeInSight       = Row1238{"office, in sight", 1.46, 34.62, 2.03, 3.76, 2, 27}
	OfficeBehindWalls11 = Row1238{"office, behind walls, edition 11", 2.46, 29.53, 2.38, 5.04, 4, 30}
	CorridorInSight     = Row1238{"corridor, in sight", 1.63, 28.12, 2.25, 4.07, 2, 160}
	CorridorBehindWalls = Row1238{"corridor, behind walls", 2.77, 29.27, 2.48, 7.63, 4, 94}
	IndustrialInSight   = Row1238{"industrial, in sight", 2.31, 24.52, 2.06, 2.69, 2, 101}
	IndustrialBehind    = Row1238{"industrial, behind walls", 3.79, 21.01, 1.34, 9.05, 5, 108}
	OfficeBehindWalls   = Row1238{"office, behind walls, edition 13", 2.39, 30.13, 2.40, 5.01, 4, 30}
)

// Loss gives the row's loss in dB, and whether the distance lies in the row's
// range; outside of it the number is an extrapolation.
func (r Row1238) Loss(d units.Metres, mhz float64) (db float64, inRange bool) {
	return 10*r.A*math.Log10(atLeast(d)) + r.B + 10*r.G*math.Log10(mhz/1000), d >= r.From && d <= r.To
}

// MultiWall is the COST 231 multi-wall model with its own losses, dB, for
// comparison: FreeSpace + 3.4 a light wall + 6.9 a heavy one + the floors' 18.3
// n^((n+2)/(n+1) - 0.46). It was fitted at 1.8 GHz (from memory): at 2.45 GHz it
// is indicative. What the constant LC of some texts adds is the first meter,
// which FreeSpace has already.
func MultiWall(d units.Metres, mhz float64, light, heavy, floors int) float64 {
	loss := FreeSpace(d, mhz) + 3.4*float64(light) + 6.9*float64(heavy)
	if floors > 0 {
		n := float64(floors)
		loss += 18.3 * math.Pow(n, (n+2)/(n+1)-0.46)
	}
	return loss
}
