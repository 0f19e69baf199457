package daylight

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Indoors is a room through a year of samples under some skies. It is only read
// after In.
type Indoors struct {
	light   *Light
	facades []Facade
	lx      [][]float64 // outdoors, for each facade
	level   []float64   // and for rooflights
	of      []int       // facade of each of the light's windows
}

// In makes a room ready for a year: what each of its facades gets outdoors is
// reckoned once, by Facade; what rooflights get, by Level.
func (y *Year) In(l *Light, of SkyOf) *Indoors {
	in := &Indoors{light: l, facades: l.space.Facades(), level: y.Level(of).lx}
	for i := range in.facades {
		in.lx = append(in.lx, y.Facade(of, in.facades[i].Azimuth).lx)
	}
	for i := range l.windows {
		w := l.windows[i].Window
		in.of = append(in.of, slices.IndexFunc(in.facades, func(f Facade) bool {
			return slices.ContainsFunc(f.Windows, func(k int) bool { return &l.space.Windows[k] == w })
		}))
	}
	return in
}

// At gives the daylight at a point of the work plane at each sample: the daylight
// factor through each facade, with its part of the reflected light, times what that
// facade gets. It is the light itself: a Need of Factor 100 reads it.
func (in *Indoors) At(p geom.Point) Outdoors { return in.mean([]geom.Point{p}) }

// Under gives the mean daylight under the luminaires of a load at each sample;
// known is false where it has none on the plan.
func (in *Indoors) Under(load domain.ID) (o Outdoors, known bool) {
	var points []geom.Point
	for i := range in.light.space.Luminaires {
		if x := &in.light.space.Luminaires[i]; x.Load == load {
			points = append(points, x.At)
		}
	}
	return in.mean(points), len(points) > 0
}

func (in *Indoors) mean(points []geom.Point) Outdoors {
	l := in.light
	through, roof := make([]float64, len(in.facades)), 0.0
	share := 1 / float64(max(1, len(points))) / 100
	e := new(eye)
	for _, p := range points {
		for i := range l.windows {
			sky, facing := l.from(e, &l.windows[i], p)
			through[in.of[i]] += (sky + facing + l.windows[i].inside) * share
		}
		for i := range l.space.Rooflights {
			roof += l.fromRoof(&l.space.Rooflights[i], p) * share
		}
		roof += l.roof * share
	}
	out := Outdoors{make([]float64, len(in.level))}
	for i := range out.lx {
		sum := roof * in.level[i]
		for f, k := range through {
			sum += k * in.lx[f][i]
		}
		out.lx[i] = sum
	}
	return out
}

// Under sums up the daylight factors at the luminaires of a load, in the work plane.
func (l *Light) Under(load domain.ID) Spread {
	var cells []Cell
	for i := range l.space.Luminaires {
		if x := &l.space.Luminaires[i]; x.Load == load {
			cells = append(cells, Cell{x.At, l.At(x.At)})
		}
	}
	return spread(cells)
}
