package validate

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// entry is one rule of the reference as JSON.
type entry struct {
	ID       string        `json:"id"`
	Title    string        `json:"title"`
	Severity rule.Severity `json:"severity"`
	Scope    rule.Scope    `json:"scope"`
	Why      string        `json:"why"`
	Source   string        `json:"source"`
	Example  string        `json:"example"`
	Limits   domain.Limits `json:"limits,omitempty"`
	Aliases  []string      `json:"aliases,omitempty"`
}

// Reference prints the rule reference, as "md" or "json", from the registry:
// each rule with its worked example, its source and the generic value of the
// limits that it reads. A project may have other values.
func Reference(format string) ([]byte, error) {
	switch format {
	case "json":
		return referenceJSON()
	case "md":
		return referenceMarkdown(), nil
	}
	return nil, fmt.Errorf("the rule reference comes as md or json, not as %q", format)
}

func entries() []entry {
	generic := domain.GenericLimits()
	out := make([]entry, len(rules))
	for i, r := range rules {
		out[i] = entry{ID: r.ID, Title: r.Title, Severity: r.Severity, Scope: r.Scope, Why: r.Why, Source: r.Source, Example: r.Example, Aliases: r.Aliases}
		for _, id := range r.Limits {
			out[i].Limits = append(out[i].Limits, generic.Find(id))
		}
	}
	return out
}

func referenceJSON() ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	err := enc.Encode(entries())
	return b.Bytes(), err
}

func referenceMarkdown() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Rules\n\n%d rules. Limits are data of a project; the values here are the generic ones.\nThe program advises: local codes, the equipment's instructions and licensed people decide.\n", len(rules))
	last := ""
	for _, e := range entries() {
		if family, _, _ := strings.Cut(e.ID, "-"); family != last {
			last = family
			fmt.Fprintf(&b, "\n## %s%s\n", strings.ToUpper(family[:1]), family[1:])
		}
		fmt.Fprintf(&b, "\n### %s\n\n%s. Severity %s, judged by %s.\n\n%s\n\n", e.ID, e.Title, e.Severity.Word(), e.Scope, e.Why)
		for _, l := range e.Limits {
			fmt.Fprintf(&b, "- Limit: %s, %s. Source: %s.\n", l.Title, l.Text(units.SI), l.Source)
		}
		fmt.Fprintf(&b, "- Example: %s\n- Source of the rule: %s.\n", e.Example, e.Source)
		if len(e.Aliases) > 0 {
			fmt.Fprintf(&b, "- Earlier IDs: %s.\n", strings.Join(e.Aliases, ", "))
		}
	}
	return b.Bytes()
}
