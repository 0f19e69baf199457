package energycode

import (
	"slices"
	"strings"
	"sync"
)

// figure is how a parameter is read: in which unit and with which signs.
type figure struct {
	unit  string
	signs []Sign
}

// knownFigures gives the parameters that a worksheet may state as numbers: those of
// the built-in packs. A bound may be sharp or not, so that both signs of its
// direction are taken.
var knownFigures = sync.OnceValue(func() map[parameterKey]figure {
	out := map[parameterKey]figure{}
	for _, p := range embedded().packs {
		for _, q := range p.Parameters {
			if q.Sign == "" {
				continue
			}
			signs := []Sign{AtLeast, MoreThan}
			if q.Sign == AtMost || q.Sign == LessThan {
				signs = []Sign{AtMost, LessThan}
			}
			key := parameterKey{q.Control, q.Name}
			if _, known := out[key]; !known {
				out[key] = figure{q.Unit, signs}
			}
		}
	}
	return out
})

// figureNames lists the numbers that may be stated of a control.
func figureNames(c Control) string {
	var names []string
	for key := range knownFigures() {
		if key.control == c {
			names = append(names, key.name)
		}
	}
	if len(names) == 0 {
		return "words instead: no number of it is read"
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}
