package export

import (
	"time"

	"scopewright/domain"
	"scopewright/export/findings"
	"scopewright/export/sheet"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// InputOf is what documents of a project are made of, judged as of a day.
func InputOf(scope *domain.Scope, today time.Time) (sheet.Input, error) {
	spanning, err := findings.OfProject(scope)
	return sheet.Input{Scope: scope, ProjectFindings: spanning, Issue: sheet.Issue{Date: today.Format(time.DateOnly)},
		Findings: judge(&scope.Project, today)}, err
}

// RoomHash gives the function that sign-offs bind to: the hash of what a
// room's scope sheet prints, with the findings of the day.
func RoomHash(now func() time.Time) func(*domain.Project, *domain.Resolved) string {
	return func(p *domain.Project, r *domain.Resolved) string {
		return sheet.RoomContentHash(sheet.Input{Scope: &domain.Scope{Project: *p}, Findings: judge(p, now())}, r)
	}
}

func judge(p *domain.Project, today time.Time) func(*domain.Resolved) []rule.Finding {
	return func(r *domain.Resolved) []rule.Finding { return validate.Room(p, r, today) }
}
