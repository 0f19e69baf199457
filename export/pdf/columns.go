package pdf

import "scopewright/export/sheet"

// revisionWidth is the room for the revision triangles, in millimetres.
const revisionWidth = 6.0

// maxUpright is how tall column titles may stand when they are turned, in millimetres.
const maxUpright = 32.0

// Short values such as "80 %" and short row names such as "S1 button 4" stay on one line;
// in thousandths of the type size.
const (
	shortValue = 3200
	shortName  = 8000
)

// part is one table on paper: all columns of a grid, or some of them when not all fit.
type part struct {
	columns []int
	widths  []float64
	size    float64
	upright []bool // titles that read upwards
}

// plan chooses type size, turned titles and, when nothing else helps, continuation
// tables, so that no column leaves the paper.
func plan(t typeface, g grid, width float64) []part {
	if g.revision {
		width -= revisionWidth
	}
	p := planner{t: t, g: g, extents: measure(t, g), width: width}
	all := make([]int, len(g.columns))
	for i := range all {
		all[i] = i
	}
	for _, try := range p.tries() {
		if widths, ok := p.fit(all, try); ok {
			return []part{p.part(all, widths, try)}
		}
	}
	if g.whole {
		try := attempt{size: p.smallest(), fair: 1}
		return []part{p.part(all, p.squeeze(all, try), try)}
	}
	return p.split(all)
}

type planner struct {
	t       typeface
	g       grid
	extents []extent
	width   float64
}

// attempt is one way to set the table. fair is how much more than its equal share of the
// width a column may claim for an unbreakable word.
type attempt struct {
	size    float64
	upright bool
	fair    float64
}

// tries prefers level titles at the full size, then a little smaller, then turned titles,
// and cuts long words last of all.
func (p planner) tries() []attempt {
	full := p.g.style.size
	out := []attempt{{full, false, 1.6}}
	for i, s := range p.g.style.sizes {
		if i == 0 {
			out = append(out, attempt{s, false, 1.6})
			if p.g.headed {
				out = append(out, attempt{full, true, 1.6}, attempt{s, true, 1.6})
			}
		}
	}
	small := p.smallest()
	if p.g.headed {
		out = append(out, attempt{small, true, 1.6})
	}
	return append(out, attempt{full, false, 1}, attempt{small, false, 1})
}

func (p planner) smallest() float64 {
	if n := len(p.g.style.sizes); n > 0 {
		return p.g.style.sizes[n-1]
	}
	return p.g.style.size
}

// fit gives the widths of the columns, or false when the narrowest set is too wide.
func (p planner) fit(columns []int, try attempt) ([]float64, bool) {
	mins, wants := make([]float64, len(columns)), make([]float64, len(columns))
	least, weight, want := 0.0, 0.0, 0.0
	for i, c := range columns {
		mins[i] = p.least(c, len(columns), try)
		wants[i] = max(mins[i], p.want(c, try.size, try.upright))
		least += mins[i]
		want += wants[i]
		weight += p.g.columns[c].weight
	}
	if least > p.width+0.01 {
		return nil, false
	}
	if weight > 0 {
		for i, c := range columns {
			wants[i] = p.g.columns[c].weight
			if wants[i] == 0 {
				wants[i] = weight / float64(len(columns))
			}
		}
	} else if want > p.width {
		// Long text gives way first: what is wanted beyond the least shrinks alike.
		free, over := p.width-least, want-least
		for i := range wants {
			wants[i] = mins[i] + (wants[i]-mins[i])*free/over
		}
	} else {
		p.even(columns, wants)
	}
	return share(p.width, mins, wants), true
}

// even gives columns of one kind, such as the loads of a matrix or the levels of a
// scene table, one width, so that they read as a raster.
func (p planner) even(columns []int, wants []float64) {
	type kind struct {
		align sheet.Align
		unit  string
	}
	sums, counts := map[kind]float64{}, map[kind]float64{}
	for i, c := range columns {
		k := kind{p.g.columns[c].align, p.g.columns[c].unit}
		sums[k], counts[k] = sums[k]+wants[i], counts[k]+1
	}
	for i, c := range columns {
		if k := (kind{p.g.columns[c].align, p.g.columns[c].unit}); k.align != sheet.Left {
			wants[i] = sums[k] / counts[k]
		}
	}
}

// share deals out the width by the wants, no column getting less than its least.
func share(width float64, mins, wants []float64) []float64 {
	widths := make([]float64, len(mins))
	fixed := make([]bool, len(mins))
	for {
		left, sum := width, 0.0
		for i := range mins {
			if fixed[i] {
				left -= mins[i]
			} else {
				sum += wants[i]
			}
		}
		again := false
		for i := range mins {
			switch {
			case fixed[i]:
				widths[i] = mins[i]
			case sum <= 0:
				widths[i] = mins[i]
			default:
				widths[i] = left * wants[i] / sum
			}
			if !fixed[i] && widths[i] < mins[i]-1e-9 {
				fixed[i], again = true, true
			}
		}
		if !again {
			return widths
		}
	}
}
