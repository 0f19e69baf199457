package energycode

import (
	"slices"
	"sync"
	"sync/atomic"

	"scopewright/domain"
)

// PackOf gives the code by which a project's rooms are judged: the built-in one that
// it names, or the pack that its worksheet comes to; nil where none is chosen or the
// one named is not known. It may be called at each edit: a worksheet is worked out once
// and found again as long as it reads the same. The pack is shared and must not be
// changed.
func PackOf(p *domain.Project) *Pack {
	if p.CodePack == "" {
		return nil
	}
	if w := p.Worksheet(domain.ID(p.CodePack)); w != nil {
		return worksheets.of(w)
	}
	if k := Find(string(p.CodePack)); k != nil && k.whole {
		return k
	}
	return nil
}

// mostKept is how many worksheets' packs are kept: those of the projects that are open.
const mostKept = 32

var worksheets kept

// kept holds packs with the worksheets that they were worked out of, the newest first.
// The list is never changed but replaced, so that it is read without a lock.
type kept struct {
	list atomic.Pointer[[]keptPack]
	turn sync.Mutex
}

type keptPack struct {
	of   domain.CodeWorksheet
	pack *Pack
}

func (k *kept) of(w *domain.CodeWorksheet) *Pack {
	if p := k.find(w); p != nil {
		return p
	}
	k.turn.Lock()
	defer k.turn.Unlock()
	if p := k.find(w); p != nil {
		return p
	}
	p, _ := Compile(w)
	copied := *w
	copied.Changes = slices.Clone(w.Changes) // so that a change in place is seen
	list := []keptPack{{copied, p}}
	if old := k.list.Load(); old != nil {
		list = append(list, (*old)[:min(len(*old), mostKept-1)]...)
	}
	k.list.Store(&list)
	return p
}

func (k *kept) find(w *domain.CodeWorksheet) *Pack {
	list := k.list.Load()
	if list == nil {
		return nil
	}
	for i := range *list {
		if one := &(*list)[i]; alike(&one.of, w) {
			return one.pack
		}
	}
	return nil
}

// alike tells that two worksheets come to the same pack. Where they lie in the list
// of a project does not matter.
func alike(a, b *domain.CodeWorksheet) bool {
	return a.ID == b.ID && a.Title == b.Title && a.Base == b.Base && a.Code == b.Code && a.Edition == b.Edition && a.Amendments == b.Amendments &&
		a.ZoneRules == b.ZoneRules && a.Note == b.Note && a.Confirmed == b.Confirmed && slices.Equal(a.Changes, b.Changes)
}
