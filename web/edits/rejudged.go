package edits

import (
	"context"
	"fmt"
	"net/http"
	"slices"

	"scopewright/domain"
	"scopewright/store"
)

// Verdicts are what the rules say of each room of a project, in numbers.
type Verdicts map[domain.ID]store.Summary

// ReadVerdicts reads them as they are now.
func ReadVerdicts(ctx context.Context, s *store.Store, project domain.ID) (Verdicts, error) {
	lines, _, err := s.RoomLines(ctx, project, store.Filter{})
	if err != nil {
		return nil, err
	}
	out := make(Verdicts, len(lines))
	for _, line := range lines {
		out[line.ID] = line.Summary
	}
	return out, nil
}

// Since says in how many rooms the findings are others than before, and how
// the errors went; empty where nothing changed.
func (now Verdicts) Since(before Verdicts) string {
	rooms, errors := 0, 0
	for id, a := range now {
		b, known := before[id]
		if !known {
			continue
		}
		errors += a.Errors - b.Errors
		if a.Errors != b.Errors || a.Warnings != b.Warnings || a.Infos != b.Infos || a.Waived != b.Waived || !slices.Equal(a.Rules, b.Rules) {
			rooms++
		}
	}
	switch {
	case rooms == 0:
		return ""
	case errors > 0:
		return fmt.Sprintf("Findings changed in %s: %s.", Count(rooms, "room"), Count(errors, "more error"))
	case errors < 0:
		return fmt.Sprintf("Findings changed in %s: %s.", Count(rooms, "room"), Count(-errors, "fewer error"))
	}
	return fmt.Sprintf("Findings changed in %s.", Count(rooms, "room"))
}

// Count gives "1 room" or "12 rooms".
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// ApplyJudged changes what all rooms are judged by, and says in how many the
// findings changed.
func (d Desk) ApplyJudged(r *http.Request, change func(*domain.Project) (string, error)) (outcome store.Outcome, news string, err error) {
	before, err := ReadVerdicts(r.Context(), d.Store, ProjectID(r))
	if err != nil {
		return outcome, "", err
	}
	if outcome, err = d.Apply(r, change); err != nil || !outcome.Changed {
		return outcome, "", err
	}
	now, err := ReadVerdicts(r.Context(), d.Store, ProjectID(r))
	if err != nil {
		return outcome, "", err
	}
	return outcome, now.Since(before), nil
}
