package building

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// further counts findings that no room's line counts, with where they stand.
type further struct{ Text, Path, Severity, Hint string }

// furtherOf counts the errors and warnings about the project as a whole: those of
// circuits, which have a page of their own, and the others.
func furtherOf(project domain.ID, list []findingView) []further {
	isCircuit := func(f findingView) bool { return strings.HasPrefix(f.Rule, "power-") }
	circuits, rest := []findingView{}, []findingView{}
	for _, f := range list {
		if isCircuit(f) {
			circuits = append(circuits, f)
		} else {
			rest = append(rest, f)
		}
	}
	return append(counted(circuits, "of circuits", ui.Circuits(project)), counted(rest, "of the project", "#project-findings")...)
}

// furtherOfPlans counts the errors and warnings about the storeys' plans.
func furtherOfPlans(list []findingView) []further {
	return counted(list, "of plans", "#plan-findings")
}

func counted(list []findingView, of, path string) []further {
	count := map[string]int{}
	for _, f := range list {
		count[f.Severity]++
	}
	errors, warnings := count[string(rule.Error)], count[string(rule.Warning)]
	if errors+warnings == 0 {
		return nil
	}
	out := further{Text: fmt.Sprintf("+ %d %s", errors+warnings, of), Path: path, Severity: string(rule.Warning)}
	if errors > 0 {
		out.Severity = string(rule.Error)
	}
	out.Hint = edits.Count(errors, "error") + ", " + edits.Count(warnings, "warning")
	return []further{out}
}

// errorsFirst puts the heaviest findings first and leaves the order otherwise.
func errorsFirst(list []findingView) {
	order := []string{string(rule.Error), string(rule.Warning), string(rule.Info)}
	slices.SortStableFunc(list, func(a, b findingView) int {
		return slices.Index(order, a.Severity) - slices.Index(order, b.Severity)
	})
}
