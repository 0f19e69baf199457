package rules

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// view is the page, ready to print.
type view struct {
	Count    string // "64 rules: 30 errors, 22 warnings, 12 notes"
	Families []family
}

type family struct {
	ID, Title string
	Rules     []entry
}

// entry is one rule.
type entry struct {
	ID, Title string
	Severity  rule.Severity
	Judges    string
	Why       string
	Source    string
	Example   string
	Limits    []limit
	Former    string // IDs that it had before
}

// limit is a number that a rule reads, with its generic value.
type limit struct{ Title, Value, Source string }

func newView(rules []*rule.Rule) view {
	var v view
	count := map[rule.Severity]int{}
	for _, r := range rules {
		count[r.Severity]++
		id, _, _ := strings.Cut(r.ID, "-")
		if n := len(v.Families); n == 0 || v.Families[n-1].ID != id {
			v.Families = append(v.Families, family{ID: id, Title: strings.ToUpper(id[:1]) + id[1:]})
		}
		f := &v.Families[len(v.Families)-1]
		f.Rules = append(f.Rules, newEntry(r))
	}
	v.Count = domain.Count(len(rules), "rule", "rules") + ": " + domain.Count(count[rule.Error], "error", "errors") + ", " + domain.Count(count[rule.Warning], "warning", "warnings") + ", " + domain.Count(count[rule.Info], "note", "notes")
	return v
}

func newEntry(r *rule.Rule) entry {
	e := entry{
		ID: r.ID, Title: r.Title, Severity: r.Severity, Judges: "each room",
		Why: r.Why, Source: r.Source, Example: r.Example, Former: strings.Join(r.Aliases, ", "),
	}
	switch r.Scope {
	case rule.OfStorey:
		e.Judges = "each storey's plan"
	case rule.OfProject:
		e.Judges = "the project as a whole"
	}
	for _, id := range r.Limits {
		l := domain.Limits(nil).Find(id)
		e.Limits = append(e.Limits, limit{l.Title, l.Text(units.SI), l.Source})
	}
	return e
}
