package store

import (
	"slices"
	"strings"

	"scopewright/domain"
)

func sortTypicals(ts []*domain.Typical) {
	slices.SortFunc(ts, func(a, b *domain.Typical) int {
		if a.Seq != b.Seq {
			return a.Seq - b.Seq
		}
		return strings.Compare(string(a.ID), string(b.ID))
	})
}

func sortRooms(rooms []*roomEdit) {
	keys := make(map[domain.ID]string, len(rooms))
	for _, r := range rooms {
		keys[r.id] = sortKey(r.now().Number)
	}
	slices.SortFunc(rooms, func(a, b *roomEdit) int {
		if c := strings.Compare(keys[a.id], keys[b.id]); c != 0 {
			return c
		}
		return strings.Compare(string(a.id), string(b.id))
	})
}
