package dxf

import (
	"fmt"
	"maps"
	"slices"

	"scopewright/store/intake/building"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// count prints "1 room", "2 rooms".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%s %ss", building.Count(n), what)
}

// were prints "1 room was", "2 rooms were".
func were(n int, what string) string {
	if n == 1 {
		return count(n, what) + " was"
	}
	return count(n, what) + " were"
}
