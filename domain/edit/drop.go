package edit

import (
	"fmt"
	"strings"

	"scopewright/domain"
)

// Drop takes away a cell that points at something gone, which its field can no
// longer reach: a matrix cell "links/<id>" or a level "scenes/<id>/levels/<load>".
type Drop struct{ Path string }

// Apply drops the cell.
func (e Drop) Apply(s *Subject) (string, error) {
	steps := strings.Split(e.Path, "/")
	switch {
	case len(steps) == 2 && steps[0] == "links":
		id, n := domain.ID(steps[1]), len(s.Design.Links)
		s.Design.Links = without(s.Design.Links, func(k domain.Link) bool { return k.ID == id })
		if len(s.Design.Links) == n {
			return "", gone("the matrix cell")
		}
		return "removed a matrix cell that pointed at something gone", nil
	case len(steps) == 4 && steps[0] == "scenes" && steps[2] == "levels":
		sc := s.Design.Scene(domain.ID(steps[1]))
		if sc == nil {
			return "", gone("the scene")
		}
		n := len(sc.Levels)
		sc.Levels = without(sc.Levels, func(l domain.SceneLevel) bool { return l.ID == domain.ID(steps[3]) })
		if len(sc.Levels) == n {
			return "", gone("the level")
		}
		return fmt.Sprintf("scene %d %s: removed a level for a load that is gone", sc.Number, sc.Name), nil
	}
	return "", fmt.Errorf("there is no cell %q to drop", e.Path)
}
