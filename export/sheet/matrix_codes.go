package sheet

import (
	"strings"

	"scopewright/domain"
)

// hardSpace keeps a code on one line.
const hardSpace = "\u00a0"

func actionCode(do domain.Action, decided bool) string {
	switch {
	case !decided:
		return undecided
	case do.Verb == domain.Nothing:
		return none
	case do.Verb == ownLoad:
		return "OWN"
	}
	return do.String()
}

// matrixWords explains the codes of the matrix in the order in which they are looked for.
var matrixWords = []struct{ code, meaning string }{
	{"SC", "recalls the scene of that number"},
	{"TGL", "on if off, off if on"},
	{"UP", "raises"},
	{"DN", "lowers"},
	{"LAST", "back to the last level"},
	{"OWN", "the load wired to this device"},
	{"ENA", "people are noted; only a press lights the load"},
	{"WARN", "dips as a warning, then goes to the level"},
	{"TRIM", "follows daylight"},
	{"CAP", "at most this share of its present level, in %"},
	{"LOCK", "locked at this level, in %, until released or the event ends"},
	{"HOLD", "automatic events leave it alone"},
	{"FREE", "ends locks and holds"},
	{"BACK", "to the level before the last AV command"},
	{"ON", "receptacle live"},
	{"OFF", "receptacle dead"},
	{"ACT", "acts, but no intent says how"},
	{"@", "after this delay"},
	{"IF", "only under the condition in the statement"},
	{"@open", "only while the partition is open"},
	{"@closed", "only while the partition is closed"},
	{undecided, "undecided: ask the designer"},
}

// legendNote sets a legend in one line, for the foot of a table.
func legendNote(l Legend) string {
	parts := make([]string, len(l.Items))
	for i, item := range l.Items {
		parts[i] = item.Symbol + " " + item.Meaning
	}
	return strings.Join(parts, "; ")
}

// matrixLegend explains the codes that the matrix uses.
func matrixLegend(tables ...Table) Legend {
	used := map[string]bool{}
	level := false
	for _, t := range tables {
		for _, r := range t.Rows {
			for i, c := range r.Cells {
				if i == 0 || i == len(r.Cells)-1 || r.Total || r.Group {
					continue
				}
				level = level || c.Text != "" && c.Text[0] >= '0' && c.Text[0] <= '9'
				for _, w := range strings.Fields(c.Text) {
					used[strings.TrimRight(w, "0123456789.")] = true
					if w[0] == '@' && len(w) > 1 && w[1] >= '0' && w[1] <= '9' {
						used["@"] = true
					}
				}
			}
		}
	}
	out := Legend{}
	if level {
		out.Items = append(out.Items, LegendItem{"0-100", "level in % of full output"})
	}
	for _, w := range matrixWords {
		if used[w.code] {
			out.Items = append(out.Items, LegendItem{w.code, w.meaning})
		}
	}
	if used[none] {
		out.Items = append(out.Items, LegendItem{none, "does nothing, on purpose"})
	}
	return out
}
