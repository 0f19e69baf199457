package room

import (
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/propose/design"
	"scopewright/validate/rule"
	"scopewright/web/ui"
)

// proposalView is a first design, ready to print.
type proposalView struct {
	Room, Bench, Path, Base string
	Groups                  []proposedGroup
	Ticked                  int // groups
	Added                   []string
	Assumed, Short          []string
	Divide                  string   // where a drawn room over the limits is divided; empty: no need
	Open                    []string // what is left to the designer
	Before, After           tally
	Left                    []leftFinding // with the ticked parts
	Luminaires              []domain.Choice
	Luminaire               string
	Density, DensityUnit    string
}

// proposedGroup is one part with its box. Few of what it adds show at once.
type proposedGroup struct {
	Index      int
	Title, Why string
	Adds, More []string
	Needs      string // titles
	Ticked     bool
}

// leftFinding is a rule that still finds something, with its first words.
type leftFinding struct {
	Rule, Path, Message string
	Severity            rule.Severity
	Times               int
}

const (
	fewAdds   = 6  // lines that a part shows at once
	fewerLeft = 12 // rules that the page lists
)

func (s Screen) viewProposal(b *bench, asked wish, out *design.Proposal) (proposalView, error) {
	v := proposalView{Room: b.room.Label(), Bench: b.path(), Path: ui.FirstDesign(b.path()), Base: b.base, Assumed: out.Assumed, Short: out.Short, Open: out.Left,
		Luminaire: string(asked.Luminaire), Density: asked.text, DensityUnit: densityUnit(b.project), Before: count(b.findings)}

	if slices.ContainsFunc(b.findings, func(f rule.Finding) bool { return f.Rule == "capacity-devices" }) && !b.room.Outline.Empty() {
		v.Divide = ui.Divide(b.project.ID, b.room.StoreyID, b.room.ID)
	}
	for _, l := range b.project.Luminaires {
		v.Luminaires = append(v.Luminaires, domain.Choice{Value: string(l.ID), Label: strings.TrimSpace(l.Tag + " " + l.Description)})
	}
	list, added := out.Take(asked.take)
	for i := range out.Changes {
		g := groupOf(out, i)
		g.Ticked = slices.Contains(asked.take, i) || slices.Contains(added, i)
		if g.Ticked {
			v.Ticked++
		}
		v.Groups = append(v.Groups, g)
	}
	for _, i := range added {
		v.Added = append(v.Added, out.Changes[i].Title)
	}
	with, err := b.with(list)
	if err != nil {
		return v, err
	}
	found := s.Judge(b.project, with)
	v.After, v.Left = count(found), leftOf(found)
	return v, nil
}

func groupOf(out *design.Proposal, i int) proposedGroup {
	c := &out.Changes[i]
	g := proposedGroup{Index: i, Title: c.Title, Why: c.Why, Adds: c.Adds}
	if len(c.Adds) > fewAdds+1 {
		g.Adds, g.More = c.Adds[:fewAdds], c.Adds[fewAdds:]
	}
	var needs []string
	for _, n := range c.Needs {
		needs = append(needs, out.Changes[n].Title)
	}
	if g.Needs = domain.JoinWords(needs); len(needs) > fewAdds {
		g.Needs = "all parts above it"
	}
	return g
}

// leftOf joins findings by their rule, errors first.
func leftOf(found []rule.Finding) []leftFinding {
	var out []leftFinding
	for i := range found {
		f := &found[i]
		if f.Waived() {
			continue
		}
		at := slices.IndexFunc(out, func(l leftFinding) bool { return l.Rule == f.Rule && l.Severity == f.Severity })
		if at >= 0 {
			out[at].Times++
			continue
		}
		if len(out) < fewerLeft {
			out = append(out, leftFinding{Rule: f.Rule, Path: ui.Rules(f.Rule), Severity: f.Severity, Message: f.Message, Times: 1})
		}
	}
	return out
}
