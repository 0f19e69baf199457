package radio

import (
	"math"
	"math/cmplx"

	"scopewright/domain/units"
)

// Layer is one layer of a wall: a slab of a substance, or a conductive film
// of no thickness where Film is not 0.
type Layer struct {
	Of    Substance
	Thick units.Metres
	Film  float64 // sheet resistance, ohms per square
}

// matrix is the characteristic matrix of a layer in terms of air's admittance,
// times e^scale: what is left is free of overflow however thick a conductor is.
type matrix struct {
	a, b, c, d complex128
	scale      float64
}

// LayersLoss is the transmission loss, dB, of layers in air at normal
// incidence by their characteristic matrices (from memory; agrees with
// SlabLoss for one layer):
//
//	slab: [[cos p, j sin p / s], [j s sin p, cos p]], p = k0 s t   film: [[1, 0], [Z0/R, 1]]
//	T = 2/(A + B + C + D)   loss = -20 log10 |T|
//
// One frequency shows the resonances of cavities; see Computed for their mean.
func LayersLoss(layers []Layer, mhz float64) float64 {
	all := matrix{a: 1, d: 1}
	for _, l := range layers {
		m, ok := l.matrix(mhz)
		if !ok {
			return math.NaN()
		}
		all = all.times(m)
	}
	sum := cmplx.Abs(all.a + all.b + all.c + all.d)
	return 20*math.Log10(sum/2) + 20*all.scale*math.Log10E
}

func (l Layer) matrix(mhz float64) (m matrix, ok bool) {
	if l.Film > 0 {
		return matrix{a: 1, c: complex(freeSpaceOhms/l.Film, 0), d: 1}, true
	}
	p, ok := l.Of.Parameters()
	if !ok || !p.Covers(mhz) {
		return matrix{}, false
	}
	s := p.index(mhz)
	phase := complex(waveNumber(mhz)*float64(l.Thick), 0) * s
	scale := math.Abs(imag(phase))
	out, back := cmplx.Exp(1i*phase-complex(scale, 0)), cmplx.Exp(-1i*phase-complex(scale, 0))
	cos, jsin := (out+back)/2, (out-back)/2
	return matrix{cos, jsin / s, jsin * s, cos, scale}, true
}

func (m matrix) times(n matrix) matrix {
	return matrix{m.a*n.a + m.b*n.c, m.a*n.b + m.b*n.d, m.c*n.a + m.d*n.c, m.c*n.b + m.d*n.d, m.scale + n.scale}
}
