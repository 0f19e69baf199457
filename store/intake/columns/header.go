package columns

import (
	"sort"
	"strings"

	"scopewright/store/intake/table"
)

// reading is one way to read a heading: its words, and the unit named in it.
type reading struct{ words, unit string }

// readings gives the ways to read a heading, the most literal first: "Area (sq
// ft)" as "area sq ft", and as "area" in sq ft.
func readings(header string) []reading {
	whole := Plain(header)
	out := []reading{{whole, ""}}
	if open := strings.IndexAny(header, "(["); open >= 0 {
		if end := strings.IndexAny(header[open:], ")]"); end > 0 {
			inside, rest := Plain(header[open+1:open+end]), Plain(header[:open]+" "+header[open+end+1:])
			unit := inside
			if inside == "" {
				unit = mark(header[open+1 : open+end])
			}
			out = append(out, reading{rest, strings.TrimPrefix(unit, "in ")})
		}
	}
	words := strings.Fields(whole)
	for n := 1; n <= min(3, len(words)-1); n++ { // "clg ht ft", "area sq ft", "area in square feet"
		head := words[:len(words)-n]
		unit := strings.Join(words[len(words)-n:], " ")
		if len(head) > 1 && head[len(head)-1] == "in" {
			out = append(out, reading{strings.Join(head[:len(head)-1], " "), unit})
		}
		out = append(out, reading{strings.Join(head, " "), unit})
	}
	return out
}

// mark reads the marks of feet and inches, which Plain drops.
func mark(text string) string {
	switch strings.TrimSpace(straight(text)) {
	case "'":
		return "ft"
	case `"`:
		return "in"
	}
	return ""
}

// claim is a column that may mean a field.
type claim struct {
	column, field, rank int
	unit                string
}

// lexicon finds fields by their spellings.
type lexicon struct {
	fields []Field
	known  map[string][]claim // without column and unit
}

// weakRank stands behind all ranks of sure spellings.
const weakRank = 1000

func newLexicon(fields []Field) *lexicon {
	x := &lexicon{fields: fields, known: map[string][]claim{}}
	for f := range fields {
		for rank, s := range fields[f].Spellings {
			x.known[s] = append(x.known[s], claim{field: f, rank: rank})
		}
		for _, s := range fields[f].Weak {
			x.known[s] = append(x.known[s], claim{field: f, rank: weakRank})
		}
	}
	return x
}

// longestHeading in bytes: anything longer is text, not a heading.
const longestHeading = 120

// claims lists what the heading of one column may mean.
func (x *lexicon) claims(column int, header string) []claim {
	if strings.TrimSpace(header) == "" || len(header) > longestHeading {
		return nil
	}
	best := map[int]claim{}
	ways := readings(header)
	for i, way := range ways {
		for _, c := range x.known[way.words] {
			m := x.fields[c.field].Measure
			c.column, c.unit = column, way.unit
			if way.unit != "" && !knownUnit(m, way.unit) {
				// Words in brackets that are no unit leave the heading as it
				// is without them: "Ceiling Height (finished)".
				if i != 1 || !strings.ContainsAny(header, "([") {
					continue
				}
				c.unit = ""
			}
			if c.unit == "" && knownUnit(m, ways[0].words) {
				c.unit = ways[0].words // a heading that is a unit: "SF"
			}
			if old, ok := best[c.field]; !ok || c.rank < old.rank || c.rank == old.rank && old.unit == "" {
				best[c.field] = c
			}
		}
	}
	out := make([]claim, 0, len(best))
	for f := range x.fields {
		if c, ok := best[f]; ok {
			out = append(out, c)
		}
	}
	return out
}

func knownUnit(m Measure, unit string) bool { _, ok := m[unit]; return ok && unit != "" }

// assign gives each field at most one column and each column at most one
// field, the surest claims first.
func assign(all []claim, fields int) (byColumn map[int]claim) {
	sort.SliceStable(all, func(i, j int) bool {
		a, b := all[i], all[j]
		if a.rank != b.rank {
			return a.rank < b.rank
		}
		if a.field != b.field {
			return a.field < b.field
		}
		return a.column < b.column
	})
	byColumn = map[int]claim{}
	taken := make([]bool, fields)
	for _, c := range all {
		if _, done := byColumn[c.column]; done || taken[c.field] {
			continue
		}
		byColumn[c.column] = c
		taken[c.field] = true
	}
	return byColumn
}

// headerSearch is how many rows may stand above the headings.
const headerSearch = 40

// header is a row, or two rows, of headings.
type header struct {
	first, last int      // indexes into the table's rows
	texts       []string // of each column
	score       int
}

// findHeader finds the row, or pair of rows, whose cells mean most fields.
func (x *lexicon) findHeader(rows []table.Row) (best header, ok bool) {
	var try []header
	for i := range min(len(rows), headerSearch) {
		try = append(try, header{first: i, last: i, texts: rows[i].Cells})
	}
	alone := make([]int, len(try))
	for i := range try {
		alone[i] = x.score(try[i].texts)
		if try[i].score = alone[i]; alone[i] > best.score {
			best = try[i]
		}
	}
	for i := range len(try) - 1 {
		// A pair must say more than a row alone, or both rows must be headings:
		// where blocks are merged, the lower one repeats the upper.
		h := header{first: i, last: i + 1, texts: x.stacked(rows[i].Cells, rows[i+1].Cells)}
		h.score = x.score(h.texts)
		if h.score > best.score || h.score == best.score && best.first == i && alone[i] > 1 && alone[i+1] > 1 {
			best = h
		}
	}
	width := 0
	for _, r := range rows[:min(len(rows), headerSearch)] {
		width = max(width, len(r.Cells))
	}
	return best, best.score >= 2 || best.score == 1 && width <= 2
}

func (x *lexicon) score(texts []string) int {
	var all []claim
	for i, text := range texts {
		all = append(all, x.claims(i, text)...)
	}
	return len(assign(all, len(x.fields)))
}

// stacked reads two rows as one heading: "Area" above "Net" and "Gross" is
// "Area Net" and "Area Gross". A heading above blank cells reaches across them.
func (x *lexicon) stacked(top, bottom []string) []string {
	out := make([]string, max(len(top), len(bottom)))
	above := ""
	cell := func(cells []string, i int) string {
		if i < len(cells) {
			return strings.TrimSpace(cells[i])
		}
		return ""
	}
	for i := range out {
		t, b := cell(top, i), cell(bottom, i)
		if t != "" {
			above = t
		}
		switch {
		case b == "" || b == t:
			out[i] = t
		case above != "" && len(x.claims(i, above+" "+b)) > 0:
			out[i] = above + " " + b
		default:
			out[i] = b
		}
	}
	return out
}
