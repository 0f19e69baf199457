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
func reachedLevels(f *Facts, presses []press, brief bool) []Reached {
	var out []Reached
	add := func(r Reached) {
		if !r.partial() {
			return
		}
		at := slices.IndexFunc(out, func(o Reached) bool { return math.Abs(o.Share-r.Share) < 1e-6 && o.Even == r.Even })
		if at < 0 {
			out = append(out, r)
		}
	}
	all, known := f.general()
	for i := range presses {
		if r, ok := f.state(all, known, func(l int) float64 { return float64(presses[i].to[l]) }); ok && presses[i].known {
			r.By = f.Handles[i].By
			add(r)
		}
	}
	f.partsOff(all, known, brief, add)
	return out
}

// partial tells that the level lies between off and full.
func (r *Reached) partial() bool { return r.Share > units.Tolerance && r.Share < 1-units.Tolerance }

// state gives the share of the general lighting's power at levels in %, below 0 for
// full. all is its watts. Where they are not known, only a level that all loads have in
// common can be told.
func (f *Facts) state(all float64, known bool, level func(load int) float64) (r Reached, ok bool) {
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
func (f *Facts) partsOff(all float64, known, brief bool, add func(Reached)) {
	sets := f.setsOff()
	dark := make([]bool, len(f.Loads))
	for mask := 1; mask < 1<<len(sets); mask++ {
		clear(dark)
		for s := range sets {
			if mask&(1<<s) == 0 {
				continue
			}
			for _, l := range sets[s] {
				dark[l] = true
			}
		}
		r, ok := f.state(all, known, func(l int) float64 {
			if dark[l] {
				return 0
			}
			return 100
		})
		if !ok {
			continue
		}
		if r.partial() && !brief {
			r.By = "turning " + f.tagsOf(dark) + " off"
		}
		add(r)
	}
}

// setsOff gives the sets of general loads that buttons turn off, each once.
func (f *Facts) setsOff() (sets [][]int) {
	for i := range f.Handles {
		off := f.Handles[i].Off
		if slices.ContainsFunc(off, func(l int) bool { return !f.Loads[l].General() }) {
			off = slices.DeleteFunc(slices.Clone(off), func(l int) bool { return !f.Loads[l].General() })
		}
		if len(off) == 0 || len(sets) == mostSets {
			continue
		}
		if !slices.IsSorted(off) {
			off = slices.Sorted(slices.Values(off))
		}
		if !slices.ContainsFunc(sets, func(s []int) bool { return slices.Equal(s, off) }) {
			sets = append(sets, off)
		}
	}
	return sets
}

func (f *Facts) tagsOf(some []bool) string {
	var tags []string
	for l := range some {
		if some[l] {
			tags = append(tags, f.Loads[l].Tag)
		}
	}
	return tagWords(tags)
}
