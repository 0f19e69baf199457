package energycode

import (
	"slices"
	"strings"

	"scopewright/domain"
)

// dimsHere tells that the code's depth of daylight dimming holds in the kind of
// space: everywhere, or where the pack's list of words names it.
func (j *judge) dimsHere() bool {
	q := j.p.Parameter(DaylightSide, "dim_spaces")
	return q == nil || slices.ContainsFunc(strings.Fields(q.Words), func(word string) bool { return strings.Contains(j.space, word) })
}

func containsWord(text, word string) bool { return slices.Contains(strings.Fields(text), word) }

func hasID(list []domain.ID, id domain.ID) bool { return slices.Contains(list, id) }
