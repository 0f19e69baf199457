package delta

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// Diff gives the changes that lead from before to after, two values (or
// pointers to values) of one struct type.
func Diff(before, after any) (Changes, error) {
	a, b := reflect.Indirect(reflect.ValueOf(before)), reflect.Indirect(reflect.ValueOf(after))
	if a.Type() != b.Type() || a.Kind() != reflect.Struct {
		return nil, fmt.Errorf("delta: cannot compare %s with %s", a.Type(), b.Type())
	}
	var d differ
	err := d.structs(shapeOf(a.Type()), a, b)
	return d.found, err
}

// differ walks two values side by side. An edit changes a field or two of a
// room of some thousand, so a path is only spelled out where something differs.
type differ struct {
	steps []string
	found Changes
}

func (d *differ) within(step string, walk func() error) error {
	d.steps = append(d.steps, step)
	err := walk()
	d.steps = d.steps[:len(d.steps)-1]
	return err
}

func (d *differ) structs(s *shape, a, b reflect.Value) error {
	for i := range s.members {
		m := &s.members[i]
		fa, fb := a.Field(m.index), b.Field(m.index)
		var err error
		switch m.class {
		case leaf:
			if !same(fa, fb) {
				err = d.add(m.name, fa, fb)
			}
		case nested:
			err = d.within(m.name, func() error { return d.structs(m.inner, fa, fb) })
		case list:
			err = d.within(m.name, func() error { return d.lists(m.inner, fa, fb) })
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// lists compares two keyed lists. Mostly they hold the same parts in the same
// places, and then nothing needs to be looked up.
func (d *differ) lists(s *shape, a, b reflect.Value) error {
	if aligned(s, a, b) {
		for i := range a.Len() {
			if err := d.within(s.idOf(a.Index(i)), func() error { return d.structs(s, a.Index(i), b.Index(i)) }); err != nil {
				return err
			}
		}
		return nil
	}
	at, bt := indexByID(a), indexByID(b)
	for i := range a.Len() {
		id := s.idOf(a.Index(i))
		j, kept := bt[id]
		var err error
		if kept {
			err = d.within(id, func() error { return d.structs(s, a.Index(i), b.Index(j)) })
		} else {
			err = d.add(id, a.Index(i), reflect.Value{})
		}
		if err != nil {
			return err
		}
	}
	for j := range b.Len() {
		id := s.idOf(b.Index(j))
		if _, had := at[id]; had {
			continue
		}
		if err := d.add(id, reflect.Value{}, b.Index(j)); err != nil {
			return err
		}
	}
	return nil
}

func aligned(s *shape, a, b reflect.Value) bool {
	if a.Len() != b.Len() {
		return false
	}
	for i := range a.Len() {
		if s.idOf(a.Index(i)) != s.idOf(b.Index(i)) {
			return false
		}
	}
	return true
}

// add notes that what lies at the step differs; a missing side is the zero
// reflect.Value.
func (d *differ) add(step string, a, b reflect.Value) error {
	c := Change{Path: strings.Join(append(slices.Clip(d.steps), step), "/")}
	var err error
	if a.IsValid() {
		if c.Before, err = encode(a); err != nil {
			return err
		}
	}
	if b.IsValid() {
		if c.After, err = encode(b); err != nil {
			return err
		}
	}
	d.found = append(d.found, c)
	return nil
}

// same compares two leaves. An empty list and none are the same.
func same(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.String:
		return a.String() == b.String()
	case reflect.Bool:
		return a.Bool() == b.Bool()
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return a.Int() == b.Int()
	case reflect.Float32, reflect.Float64:
		return a.Float() == b.Float()
	case reflect.Slice:
		if a.Len() == 0 || b.Len() == 0 {
			return a.Len() == b.Len()
		}
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
	}
	if reflect.DeepEqual(a.Interface(), b.Interface()) {
		return true
	}
	return isLeaf(a.Type()) && writtenAlike(a, b)
}

// writtenAlike compares values that are rounded when they are written, such as
// points of a plan.
func writtenAlike(a, b reflect.Value) bool {
	x, errX := encode(a)
	y, errY := encode(b)
	return errX == nil && errY == nil && bytes.Equal(x, y)
}
