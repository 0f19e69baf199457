package delta

import (
	"reflect"
	"sort"
)

// Sort puts every keyed list below doc, a pointer to a struct, into its order.
func Sort(doc any) { sortBelow(reflect.ValueOf(doc).Elem()) }

func sortBelow(v reflect.Value) { sortWithin(shapeOf(v.Type()), v) }

func sortWithin(s *shape, v reflect.Value) {
	for i := range s.members {
		m := &s.members[i]
		switch m.class {
		case list:
			parts := v.Field(m.index)
			sortParts(m.inner, parts)
			for j := 0; m.inner.hasLists && j < parts.Len(); j++ {
				sortWithin(m.inner, parts.Index(j))
			}
		case nested:
			if m.inner.hasLists {
				sortWithin(m.inner, v.Field(m.index))
			}
		}
	}
}

func sortKeyed(parts reflect.Value) { sortParts(shapeOf(parts.Type().Elem()), parts) }

func sortParts(s *shape, parts reflect.Value) {
	n := parts.Len()
	if n < 2 {
		return
	}
	last := parts.Index(0)
	for i := 1; i < n; i++ {
		next := parts.Index(i)
		if s.before(next, last) { // seldom: most lists are in order already
			sort.SliceStable(parts.Interface(), func(i, j int) bool { return s.before(parts.Index(i), parts.Index(j)) })
			return
		}
		last = next
	}
}

func (s *shape) before(a, b reflect.Value) bool {
	if s.seq >= 0 {
		if x, y := a.Field(s.seq).Int(), b.Field(s.seq).Int(); x != y {
			return x < y
		}
	}
	return s.idOf(a) < s.idOf(b)
}
