package sheet

import (
	"scopewright/domain"
	"scopewright/export/drawing"
	"scopewright/validate/rule"
)

// Input is what documents are made of: a whole project and what is known of it.
type Input struct {
	Scope *domain.Scope
	Issue Issue
	// Findings judges one room: validate.Room bound to the day of print. Nil: the sheets
	// say that no rules were run.
	Findings        func(*domain.Resolved) []rule.Finding
	ProjectFindings []rule.Finding
	// Changes is what changed since the last issue; nil: nothing to compare with.
	Changes *domain.Difference
	// PlanWithout lists layers that storey plans leave out. A room's own plan shows all:
	// people sign it.
	PlanWithout []drawing.Layer
	// PlanBeneath holds the pictures beneath storeys that storey plans show, by their
	// SHA-256; none print without it.
	PlanBeneath map[string]drawing.Stored
	// Earlier lists the issues before this one, oldest first, for the revision list.
	Earlier []Issue
}

// Issue says as what a document goes out.
type Issue struct {
	Revision string // number or letter; empty: not yet issued
	Date     string // ISO
	Purpose  string // e.g. "for construction"; empty: "not issued"
	Author   string
	Note     string // what the author says of it
}

// Purposes are the usual reasons for which a set is issued (common practice, no
// published source).
func Purposes() []string {
	return []string{"for review", "for permit", "for bid", "for construction", "record"}
}

// NotIssued is the purpose of a print between two issues.
const NotIssued = "not issued"

func (i Issue) purpose() string {
	if i.Purpose == "" {
		return NotIssued
	}
	return i.Purpose
}

// Only picks the rooms of a document. Empty lists pick all.
type Only struct {
	Rooms   []domain.ID
	Storeys []domain.ID
}

func (o Only) all() bool { return len(o.Rooms)+len(o.Storeys) == 0 }
