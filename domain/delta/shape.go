package delta

import (
	"reflect"
	"sync"
)

// class is how a field is seen.
type class byte

const (
	leaf   class = iota // compared and changed as a whole
	nested              // a struct, field by field
	list                // a list of structs with IDs, part by part
)

// shape is how a struct type is seen, worked out once for each type.
type shape struct {
	members  []member
	id, seq  int  // places of the fields of those names, -1 for none
	hasLists bool // somewhere below it
}

type member struct {
	name  string
	index int
	class class
	inner *shape // of a nested struct, or of the parts of a list
}

var (
	shapes   sync.Map // reflect.Type -> *shape, complete ones only
	shapesMu sync.Mutex
)

func shapeOf(t reflect.Type) *shape {
	if known, ok := shapes.Load(t); ok {
		return known.(*shape)
	}
	shapesMu.Lock()
	defer shapesMu.Unlock()
	fresh := map[reflect.Type]*shape{}
	s := workOut(t, fresh)
	for t, s := range fresh {
		shapes.LoadOrStore(t, s)
	}
	return s
}

// workOut also serves types that hold themselves: fresh has what is begun.
func workOut(t reflect.Type, fresh map[reflect.Type]*shape) *shape {
	if begun := fresh[t]; begun != nil {
		return begun
	}
	s := &shape{id: -1, seq: -1}
	fresh[t] = s
	for _, f := range fieldsOf(t) {
		m := member{name: f.name, index: f.index}
		switch ft := t.Field(f.index).Type; {
		case keyed(ft):
			m.class, m.inner = list, workOut(ft.Elem(), fresh)
			s.hasLists = true
		case ft.Kind() == reflect.Struct && !isLeaf(ft):
			m.class, m.inner = nested, workOut(ft, fresh)
			s.hasLists = s.hasLists || m.inner.hasLists
		}
		switch f.name {
		case "id":
			s.id = f.index
		case "seq":
			s.seq = f.index
		}
		s.members = append(s.members, m)
	}
	return s
}

// idOf gives the ID of a part of a keyed list.
func (s *shape) idOf(part reflect.Value) string { return part.Field(s.id).String() }
