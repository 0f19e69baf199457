package design

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
)

// Step is what a designer takes of a proposal, as one edit that is undone as one.
type Step struct {
	Groups []string // titles
	Edits  []edit.Edit
}

// Step gives the groups that are asked for, with those that they need.
func (p *Proposal) Step(groups []int) Step {
	list, added := p.Take(groups)
	s := Step{Edits: list}
	taken := map[int]bool{}
	for _, i := range append(added, groups...) {
		taken[i] = true
	}
	for i := range p.Changes {
		if taken[i] {
			s.Groups = append(s.Groups, p.Changes[i].Title)
		}
	}
	return s
}

// mostNamed is how many groups the journal names.
const mostNamed = 4

// Apply carries the edits out.
func (s Step) Apply(to *edit.Subject) (string, error) {
	if len(s.Edits) == 0 {
		return "", fmt.Errorf("tick at least one part of the design to take")
	}
	if _, err := edit.All(to, s.Edits); err != nil {
		return "", err
	}
	names := make([]string, 0, len(s.Groups))
	for i, g := range s.Groups {
		if i == mostNamed && len(s.Groups) > mostNamed+1 {
			names = append(names, fmt.Sprintf("%d more", len(s.Groups)-mostNamed))
			break
		}
		names = append(names, strings.ToLower(g[:1])+g[1:])
	}
	return "took a proposed design: " + domain.JoinWords(names), nil
}
