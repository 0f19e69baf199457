package web

import (
	"context"
	"strconv"
	"time"

	"scopewright/domain"
	"scopewright/export"
	"scopewright/export/sheet"
	"scopewright/store"
)

// Documents gathers what a project's documents are made of: the project as it
// is, or as it was issued where a revision is named, and what changed since the
// issue before.
func Documents(ctx context.Context, s *store.Store, id domain.ID, revision int, today time.Time) (in sheet.Input, err error) {
	issues, err := s.Revisions(ctx, id) // newest first
	if err != nil {
		return in, err
	}
	var scope *domain.Scope
	var line store.RevisionLine
	if revision > 0 {
		scope, line, err = s.Revision(ctx, id, revision)
		today = line.At
	} else {
		scope, err = s.Load(ctx, id)
	}
	if err == nil {
		in, err = export.InputOf(scope, today)
	}
	if err != nil {
		return in, err
	}
	switch {
	case revision > 0:
		in.Issue = issueOf(line)
	case len(issues) > 0:
		in.Issue.Purpose = "working print after revision " + strconv.Itoa(issues[0].Number)
	}
	for i := len(issues) - 1; i >= 0 && (revision == 0 || issues[i].Number < revision); i-- {
		in.Earlier = append(in.Earlier, issueOf(issues[i]))
	}
	if len(in.Earlier) > 0 {
		before, _, err := s.Revision(ctx, id, len(in.Earlier))
		if err != nil {
			return in, err
		}
		in.Changes, err = domain.Compare(before, scope)
		return in, err
	}
	return in, nil
}

func issueOf(l store.RevisionLine) sheet.Issue {
	return sheet.Issue{Revision: strconv.Itoa(l.Number), Date: l.At.Local().Format(time.DateOnly), Purpose: l.Purpose, Author: l.Author, Note: l.Note}
}
