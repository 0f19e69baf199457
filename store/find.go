package store

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
)

// FindProject gives the project that people name by its ID, number or name,
// or the only one where they name none.
func (s *Store) FindProject(ctx context.Context, text string) (domain.ID, error) {
	projects, err := s.Projects(ctx)
	if err != nil {
		return "", err
	}
	var meant []domain.ID
	var known, ids []string
	for _, p := range projects {
		known = append(known, strconv.Quote(strings.TrimSpace(p.Number+" "+p.Name)))
		if text == "" || string(p.ID) == text || strings.EqualFold(p.Number, text) || strings.EqualFold(p.Name, text) {
			meant = append(meant, p.ID)
			ids = append(ids, strconv.Quote(string(p.ID)))
		}
	}
	switch {
	case len(known) == 0:
		return "", notFound("%s holds no project yet", s.Path())
	case len(meant) == 1:
		return meant[0], nil
	case len(meant) > 1 && text != "":
		slices.Sort(ids)
		return "", refuse("several projects are called %q: name one by its ID, %s", text, strings.Join(ids, " or "))
	}
	return "", notFound("name one of the projects in %s: %s", s.Path(), strings.Join(known, ", "))
}
