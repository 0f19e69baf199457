package daylight

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Interior is what a room's surfaces do with daylight.
type Interior struct {
	Ceiling, Walls, Floor, Pane float64      // reflectances, 0 to 1; Pane of glass seen from within
	Ground                      float64      // reflectance of the ground outdoors
	Facing                      float64      // luminance of what stands outside over the mean of the sky, for reflected light
	Hidden                      float64      // and over that of the sky it hides, seen from a point
	WorkPlane                   units.Metres // height above the floor
}

// UsualInterior gives the values to start from: reflectances 0.7, 0.5, 0.2 as is
// common practice (no published source), ground 0.1 and hidden sky 0.2 as in the
// Building Research Establishment's method (from memory), work plane 0.85 m.
func UsualInterior() Interior {
	return Interior{Ceiling: 0.7, Walls: 0.5, Floor: 0.2, Pane: 0.1, Ground: 0.1, Facing: 0.1, Hidden: 0.2, WorkPlane: 0.85}
}

// InteriorOf gives what the limits of a project say of rooms' surfaces.
func InteriorOf(p *domain.Project) Interior {
	out := UsualInterior()
	out.Ceiling, out.Walls, out.Floor = share(p, domain.ReflectanceCeiling), share(p, domain.ReflectanceWalls), share(p, domain.ReflectanceFloor)
	out.Pane, out.Ground, out.Hidden = share(p, domain.ReflectanceGlass), share(p, domain.ReflectanceGround), share(p, domain.OutsideLuminance)
	out.WorkPlane = units.Metres(p.Limits.Value(domain.WorkPlane))
	return out
}

// DownLight gives C of the split flux method: the illuminance in percent of the
// horizontal one outdoors that the overcast sky above an endless obstruction of an
// altitude (0 to 90 degrees) and the obstruction itself throw on an upright plane:
//
//	C = 100 (9/(7 pi) (pi/6 (1 - s) + 4/9 (1 - s2)) + k s/2), s = sin of the altitude
//
// k is the obstruction's luminance over the mean of the sky. With k = 0.1 it lies
// at or above the rounded table of the Building Research Establishment (39, 35, 31,
// 25, 20, 14, 10, 7, 5 for 0 to 80 degrees) by up to 2.4; without, at or below it
// from 20 degrees on. Exact for these skies.
func DownLight(altitude, k float64) float64 {
	s := math.Sin(max(0, min(90, altitude)) * radians)
	return 100 * (9/(7*math.Pi)*(math.Pi/6*(1-s)+4.0/9*(1-s*s)) + k*s/2)
}

// SplitFlux gives the mean internally reflected component in percent:
//
//	IRC = T Aw/(A (1 - R)) (C Rfw + U Rcw)
//
// passes T (transmittance, frames, dirt), glass Aw and surfaces A in m2, R the mean
// reflectance of A, Rfw that of the floor and the walls below the window's middle
// and Rcw of the ceiling and the walls above, both without the window's wall; C
// from DownLight, U = 50 x ground reflectance. The method takes the room for nearly
// a cube with matt surfaces: deeper than three times its height it is far off.
// Source: Hopkinson, Petherbridge and Longmore 1954, from memory; the physics as in
// the EnergyPlus Engineering Reference.
func SplitFlux(passes float64, glass, surfaces units.SquareMetres, r, down, up, rfw, rcw float64) float64 {
	if surfaces <= 0 || r >= 1 {
		return 0
	}
	return passes * float64(glass) / (float64(surfaces) * (1 - r)) * (down*rfw + up*rcw)
}

// LeastReflected gives the least internally reflected component in a room over its
// mean, by the mean reflectance: 0.54, 0.67, 0.78, 0.85 for 0.3, 0.4, 0.5, 0.6,
// straight between and beyond held. From memory.
func LeastReflected(r float64) float64 {
	table := []float64{0.54, 0.67, 0.78, 0.85}
	at := max(0, min(3, (r-0.3)/0.1))
	i := min(2, int(at))
	return table[i] + (table[i+1]-table[i])*(at-float64(i))
}

// MeanFactor gives one window's part of the average daylight factor of a room in
// percent: ADF = T Aw theta M/(A (1 - R2)), theta the angle of visible sky in
// degrees seen from the window's middle, 90 for a free view; sum windows one by
// one. It holds in rooms that DepthRatio lets pass. Source: Tregenza and Sharples, Daylight
// Algorithms 2.12; BS 8206-2 (from memory).
func MeanFactor(passes float64, glass units.SquareMetres, theta float64, surfaces units.SquareMetres, r float64) float64 {
	if surfaces <= 0 || r >= 1 {
		return 0
	}
	return passes * float64(glass) * theta / (float64(surfaces) * (1 - r*r))
}

// DepthRatio gives depth/width + depth/head and what it must not exceed, 2/(1 - Rb)
// with Rb the reflectance of the back half of the room, for a side-lit room to look
// lit evenly enough for an average to mean something. Source: Lynes; BS 8206-2,
// from memory.
func DepthRatio(depth, width, head units.Metres, back float64) (ratio, most float64) {
	if width <= 0 || head <= 0 {
		return math.Inf(1), 2 / (1 - back)
	}
	return float64(depth)/float64(width) + float64(depth)/float64(head), 2 / (1 - back)
}
