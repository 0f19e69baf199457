package energycode

import (
	"math"
	"slices"

	"scopewright/domain/units"
)

// most sets of loads, turned off apart, whose combinations are tried.
const mostSets = 6

// reachedLevels gives the levels of the general lighting between off and full that
// people can ask for: by one button from full, or by turning parts off. Power is
// taken to follow the level.
func reachedLevels(f *Facts, moves []move) []Reached {
	var out []Reached
	add := func(r Reached) {
		if r.Share <= units.Tolerance || r.Share >= 1-units.Tolerance {
			return
		}
		at := slices.IndexFunc(out, func(o Reached) bool { return math.Abs(o.Share-r.Share) < 1e-6 && o.Even == r.Even })
		if at < 0 {
			out = append(out, r)
		}
	}
	for i := range moves {
		if r, ok := f.state(func(l int) float64 { return float64(moves[i].to[l]) }); ok && moves[i].known {
			r.By = moves[i].by
			add(r)
		}
	}
	for _, r := range f.partsOff(moves) {
		add(r)
	}
	return out
}

// state gives the share of the general lighting's power at levels in %, below 0 for
// full. Where watts are not known, only a level that all have in common can be told.
func (f *Facts) state(level func(load int) float64) (r Reached, ok bool) {
	all, known := f.general()
	lit, first := 0.0, -1.0
	r.Even = true
	for i := range f.Loads {
		if !f.Loads[i].General() {
			continue
		}
		v := level(i)
		if v < 0 {
			v = 100
		}
		if first < 0 {
			first = v
		}
		r.Even = r.Even && math.Abs(v-first) <= 1
		lit += v / 100 * float64(f.Loads[i].Watts)
	}
	switch {
	case first < 0:
		return r, false
	case r.Even:
		r.Share = first / 100
	case known && all > 0:
		r.Share = lit / all
	default:
		return r, false
	}
	return r, true
}

// partsOff gives the levels that come of turning off sets of loads that buttons turn
// off apart from the rest.
func (f *Facts) partsOff(moves []move) []Reached {
	var sets [][]int
	for i := range moves {
		off := slices.Clone(moves[i].off)
		off = slices.DeleteFunc(off, func(l int) bool { return !f.Loads[l].General() })
		slices.Sort(off)
		if len(off) > 0 && len(sets) < mostSets && !slices.ContainsFunc(sets, func(s []int) bool { return slices.Equal(s, off) }) {
			sets = append(sets, off)
		}
	}
	var out []Reached
	for mask := 1; mask < 1<<len(sets); mask++ {
		dark := make([]bool, len(f.Loads))
		for s := range sets {
			if mask&(1<<s) == 0 {
				continue
			}
			for _, l := range sets[s] {
				dark[l] = true
			}
		}
		r, ok := f.state(func(l int) float64 {
			if dark[l] {
				return 0
			}
			return 100
		})
		if !ok {
			continue
		}
		var tags []string
		for l := range dark {
			if dark[l] {
				tags = append(tags, f.Loads[l].Tag)
			}
		}
		r.By = "turning " + tagWords(tags) + " off"
		out = append(out, r)
	}
	return out
}
