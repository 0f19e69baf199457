// Package validate judges a scope: it runs every rule of every family over a
// room or a project and gives findings with their numbers, fixes and waivers.
// It is pure: no clock, no store, no log. Rules lie in the families' folders,
// one a file; the list of them in rules_gen.go is generated.
package validate

import (
	"cmp"
	"slices"
	"time"

	"scopewright/domain"
	"scopewright/domain/sequence"
	"scopewright/domain/sequence/prove"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

//go:generate go run generate.go

// Rules gives all rules in order of their IDs. They are shared: do not change them.
func Rules() []*rule.Rule { return rules }

// ByID gives the rule that has, or once had, the ID; nil where there is none.
func ByID(id string) *rule.Rule {
	for _, r := range rules {
		if r.ID == id || slices.Contains(r.Aliases, id) {
			return r
		}
	}
	return nil
}

// Room runs the room rules. Findings come by severity, then rule, then key,
// with the waivers of the room that cover them. Today is the day to judge
// battery dates by.
func Room(p *domain.Project, r *domain.Resolved, today time.Time) []rule.Finding {
	return roomRules(rule.NewFacts(p, r, today), false)
}

// Explored explores a room and runs the rules that read what that found. It
// takes from under a millisecond to about a second, by the room's states; bounds
// of zero are the usual ones.
func Explored(p *domain.Project, r *domain.Resolved, today time.Time, bounds prove.Bounds) ([]rule.Finding, *prove.Proof) {
	facts := rule.NewFacts(p, r, today)
	facts.Proof = prove.Explore(sequence.Compile(p, &r.Design), bounds)
	return roomRules(facts, true), facts.Proof
}

func roomRules(facts *rule.Facts, deep bool) []rule.Finding {
	r := facts.Room
	var out []rule.Finding
	for _, one := range rules {
		if one.Check == nil || one.Deep != deep {
			continue
		}
		found := one.Check(facts)
		complete(one, found)
		for i := range found {
			found[i].Room = r.ID
			attach(one, &found[i], r.Waivers)
		}
		out = append(out, found...)
	}
	sortFindings(out)
	return out
}

// Storey runs the rules over a storey's plan: what its shapes say of each other.
func Storey(facts *rule.StoreyFacts) []rule.Finding {
	var out []rule.Finding
	for _, one := range rules {
		if one.CheckStorey == nil {
			continue
		}
		found := one.CheckStorey(facts)
		complete(one, found)
		out = append(out, found...)
	}
	sortFindings(out)
	return out
}

// Project runs the rules over what spans rooms.
func Project(facts *rule.ProjectFacts) []rule.Finding {
	var out []rule.Finding
	for _, one := range rules {
		if one.CheckProject == nil {
			continue
		}
		found := one.CheckProject(facts)
		complete(one, found)
		out = append(out, found...)
	}
	sortFindings(out)
	return out
}

// complete writes what the registry knows of a rule into its findings. A
// finding may have a severity of its own, lighter or heavier than its rule's.
func complete(r *rule.Rule, found []rule.Finding) {
	for i := range found {
		found[i].Rule = r.ID
		if found[i].Severity == "" {
			found[i].Severity = r.Severity
		}
	}
}

// attach looks for a waiver of the finding. One covers it while the numbers
// are no worse than those that a person accepted; one that states no number
// covers only a finding that is not about numbers.
func attach(r *rule.Rule, f *rule.Finding, waivers []domain.Waiver) {
	for i := range waivers {
		w := &waivers[i]
		if w.Key != f.Key || w.Rule != r.ID && !slices.Contains(r.Aliases, w.Rule) {
			continue
		}
		if !f.Numbers || w.Margin != nil && units.AtMost(*w.Margin, f.Margin) {
			f.Waiver, f.Lapsed = w, nil
			return
		}
		f.Lapsed = w
	}
}

// Waive gives a waiver that accepts the finding with the numbers it has now.
func Waive(f rule.Finding, id domain.ID, reason, name, date string) domain.Waiver {
	w := domain.Waiver{ID: id, Rule: f.Rule, Key: f.Key, Reason: reason, Name: name, Date: date}
	if f.Numbers {
		margin := f.Margin
		w.Margin = &margin
	}
	return w
}

func sortFindings(list []rule.Finding) {
	if len(list) < 2 {
		return
	}
	slices.SortStableFunc(list, func(a, b rule.Finding) int {
		return cmp.Or(cmp.Compare(weight(a.Severity), weight(b.Severity)), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Key, b.Key))
	})
}

func weight(s rule.Severity) int {
	switch s {
	case rule.Error:
		return 0
	case rule.Warning:
		return 1
	}
	return 2
}

// Count sums up findings: how many of each severity are open, how many are
// waived, and which rules have open ones, in order.
func Count(findings []rule.Finding) (errors, warnings, infos, waived int, ids []string) {
	for i := range findings {
		f := &findings[i]
		switch {
		case f.Waived():
			waived++
			continue
		case f.Severity == rule.Error:
			errors++
		case f.Severity == rule.Warning:
			warnings++
		default:
			infos++
		}
		if !slices.Contains(ids, f.Rule) {
			ids = append(ids, f.Rule)
		}
	}
	slices.Sort(ids)
	return errors, warnings, infos, waived, ids
}

// FindFinding gives the finding of a rule (by its ID or an alias) with a key,
// nil where there is none any more.
func FindFinding(findings []rule.Finding, ruleID, key string) *rule.Finding {
	if r := ByID(ruleID); r != nil {
		ruleID = r.ID
	}
	for i := range findings {
		if findings[i].Rule == ruleID && findings[i].Key == key {
			return &findings[i]
		}
	}
	return nil
}
