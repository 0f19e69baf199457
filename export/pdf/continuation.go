package pdf

import "scopewright/export/sheet"

// split deals the columns out to continuation tables, each behind the key columns.
func (p planner) split(all []int) []part {
	try := attempt{size: p.g.style.size, upright: true, fair: 1.6}
	if len(p.g.style.sizes) > 0 {
		try.size = p.g.style.sizes[0]
	}
	keys := p.keys(try)
	groups := p.groups(all[len(keys):], keys, try)
	var parts []part
	for _, group := range groups {
		columns := append(append([]int{}, keys...), group...)
		widths, ok := p.fit(columns, try)
		if !ok { // one column alone may still be too wide: it takes what there is
			widths = p.squeeze(columns, try)
		}
		parts = append(parts, p.part(columns, widths, try))
	}
	return parts
}

// keys are the leading columns that name the row: the first, and a second text column
// when both leave room for the rest.
func (p planner) keys(try attempt) []int {
	keys := []int{0}
	if len(p.g.columns) > 3 && p.g.columns[1].align == sheet.Left &&
		p.least(0, len(p.g.columns), try)+p.least(1, len(p.g.columns), try) < 0.35*p.width {
		keys = append(keys, 1)
	}
	return keys
}

// groups cuts the columns into as few, equally long groups as fit.
func (p planner) groups(rest, keys []int, try attempt) [][]int {
	for n := 2; n < len(rest); n++ {
		var groups [][]int
		fits := true
		for i := range n {
			group := rest[i*len(rest)/n : (i+1)*len(rest)/n]
			_, ok := p.fit(append(append([]int{}, keys...), group...), try)
			fits = fits && ok
			groups = append(groups, group)
		}
		if fits {
			return groups
		}
	}
	var single [][]int
	for i := range rest {
		single = append(single, rest[i:i+1])
	}
	return single
}

func (p planner) squeeze(columns []int, try attempt) []float64 {
	mins, sum := make([]float64, len(columns)), 0.0
	for i, c := range columns {
		mins[i] = p.least(c, len(columns), try)
		sum += mins[i]
	}
	for i := range mins {
		mins[i] *= p.width / sum
	}
	return mins
}
