package sheet

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/validate/rule"
)

// findingLines prints findings with the waivers that cover them.
func findingLines(found []rule.Finding) Findings {
	var out Findings
	for i := range found {
		f := &found[i]
		line := FindingLine{Severity: severity(f.Severity), Rule: f.Rule, Text: f.Message}
		switch {
		case f.Waiver != nil:
			line.Waiver = waiverText(f.Waiver)
		case f.Lapsed != nil:
			line.Text += " A waiver lapsed, since the numbers got worse: " + waiverText(f.Lapsed) + "."
		}
		out.Items = append(out.Items, line)
	}
	return out
}

func severity(s rule.Severity) Severity {
	switch s {
	case rule.Error:
		return SeverityError
	case rule.Warning:
		return SeverityWarning
	case rule.Info:
	}
	return SeverityInfo
}

// waiverText gives "reason (name, date)".
func waiverText(w *domain.Waiver) string {
	return fmt.Sprintf("%s (%s)", or(w.Reason, "no reason given"), strings.Join(filledWords(w.Name, w.Date), ", "))
}

func filledWords(words ...string) []string {
	out := words[:0]
	for _, w := range words {
		if strings.TrimSpace(w) != "" {
			out = append(out, w)
		}
	}
	return out
}

// tally counts findings that stand, and those that are waived.
type tally struct{ errors, warnings, notes, waived int }

func tallyOf(found []rule.Finding) tally {
	var t tally
	for i := range found {
		switch f := &found[i]; {
		case f.Waived():
			t.waived++
		case f.Severity == rule.Error:
			t.errors++
		case f.Severity == rule.Warning:
			t.warnings++
		default:
			t.notes++
		}
	}
	return t
}

func (t tally) String() string {
	var parts []string
	add := func(n int, one, many string) {
		if n > 0 {
			parts = append(parts, count(n, one, many))
		}
	}
	add(t.errors, "error", "errors")
	add(t.warnings, "warning", "warnings")
	add(t.notes, "note", "notes")
	add(t.waived, "waived", "waived")
	return or(strings.Join(parts, ", "), "none")
}
