// Package delta compares two values of one type and carries the difference
// about as data. It is the one mechanism behind undo and redo, a room's
// exceptions to its typical, and the list of what changed between revisions.
//
// A value is seen as a tree by its JSON names: struct fields by name, lists of
// structs with a field named "id" as sets keyed by that id, everything else as
// a leaf. Keyed lists are kept in the order of their elements' "seq", then
// "id", so that a removed part comes back to its place.
package delta

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"sync"
)

// Change is one difference: the JSON before and after at a path such as
// "devices/d7/delay_s". A nil side means that nothing was or is there.
type Change struct {
	Path   string          `json:"path"`
	Before json.RawMessage `json:"before,omitempty"`
	After  json.RawMessage `json:"after,omitempty"`
}

// Part gives the first n steps of the path, "devices/d7" for n = 2.
func (c Change) Part(n int) string {
	steps := strings.SplitN(c.Path, "/", n+1)
	if len(steps) > n {
		steps = steps[:n]
	}
	return strings.Join(steps, "/")
}

// Field gives the last step of the path.
func (c Change) Field() string { return c.Path[strings.LastIndexByte(c.Path, '/')+1:] }

// Added tells that the change brings a thing that was not there.
func (c Change) Added() bool { return c.Before == nil && c.After != nil }

// Removed tells that the change takes away a thing.
func (c Change) Removed() bool { return c.Before != nil && c.After == nil }

// Changes is a difference, in the order in which it was found.
type Changes []Change

// Inverse gives the changes that lead back.
func (cs Changes) Inverse() Changes {
	out := make(Changes, len(cs))
	for i, c := range cs {
		out[len(cs)-1-i] = Change{Path: c.Path, Before: c.After, After: c.Before}
	}
	return out
}

// Without gives the changes whose path is neither path nor below it.
func (cs Changes) Without(path string) Changes {
	var out Changes
	for _, c := range cs {
		if c.Path != path && !strings.HasPrefix(c.Path, path+"/") {
			out = append(out, c)
		}
	}
	return out
}

// Conflict says that a change no longer fits what it meets.
type Conflict struct {
	Path          string
	Expected, Now json.RawMessage
	Missing       bool // the part that holds the field is gone
}

func (c *Conflict) Error() string {
	if c.Missing {
		return fmt.Sprintf("%s is no longer there", c.Path)
	}
	return fmt.Sprintf("%s was %s and is now %s", c.Path, orNothing(c.Expected), orNothing(c.Now))
}

func orNothing(b json.RawMessage) string {
	if b == nil {
		return "nothing"
	}
	return string(b)
}

// Apply carries out changes on the struct that doc points to. Where a change's
// "before" is not what is there it stops with a *Conflict; doc may then be
// half changed, so callers work on a copy.
func Apply(doc any, changes Changes) error {
	for _, c := range changes {
		if err := applyOne(doc, c, true); err != nil {
			return err
		}
	}
	return nil
}

// Overlay carries out changes whatever stood there before, and gives back
// those that found no place (their part is gone, or what they add exists).
func Overlay(doc any, changes Changes) (orphans Changes, err error) {
	for _, c := range changes {
		err := applyOne(doc, c, false)
		var lost *Conflict
		if asConflict(err, &lost) {
			orphans = append(orphans, c)
			continue
		}
		if err != nil {
			return orphans, err
		}
	}
	return orphans, nil
}

func asConflict(err error, target **Conflict) bool {
	c, ok := err.(*Conflict)
	if ok {
		*target = c
	}
	return ok
}

func applyOne(doc any, c Change, strict bool) error {
	v := reflect.ValueOf(doc)
	if v.Kind() != reflect.Pointer || v.Elem().Kind() != reflect.Struct {
		return fmt.Errorf("delta: apply needs a pointer to a struct, not %T", doc)
	}
	v = v.Elem()
	steps := strings.Split(c.Path, "/")
	for i, step := range steps {
		last := i == len(steps)-1
		if v.Kind() == reflect.Struct {
			f, ok := fieldNamed(v.Type(), step)
			if !ok {
				return fmt.Errorf("delta: path %q: %s has no field %q", c.Path, v.Type(), step)
			}
			v = v.Field(f.index)
			if last {
				return setLeaf(v, c, strict)
			}
			continue
		}
		if !keyed(v.Type()) {
			return fmt.Errorf("delta: path %q goes below a leaf at %q", c.Path, step)
		}
		if last {
			return setElement(v, step, c, strict)
		}
		at, ok := indexByID(v)[step]
		if !ok {
			return &Conflict{Path: c.Path, Expected: c.Before, Missing: true}
		}
		v = v.Index(at)
	}
	return nil
}

func setLeaf(v reflect.Value, c Change, strict bool) error {
	if strict {
		now, err := encode(v)
		if err != nil {
			return err
		}
		if !bytes.Equal(now, c.Before) {
			return &Conflict{Path: c.Path, Expected: c.Before, Now: now}
		}
	}
	fresh := reflect.New(v.Type())
	if c.After != nil {
		if err := json.Unmarshal(c.After, fresh.Interface()); err != nil {
			return fmt.Errorf("delta: path %q: %w", c.Path, err)
		}
	}
	v.Set(fresh.Elem())
	return nil
}

func setElement(list reflect.Value, id string, c Change, strict bool) error {
	at, exists := indexByID(list)[id]
	switch {
	case c.After == nil && !exists:
		return &Conflict{Path: c.Path, Expected: c.Before, Missing: true}
	case c.After == nil:
		if strict {
			now, err := encode(list.Index(at))
			if err != nil {
				return err
			}
			if !bytes.Equal(now, c.Before) {
				return &Conflict{Path: c.Path, Expected: c.Before, Now: now}
			}
		}
		kept := reflect.MakeSlice(list.Type(), 0, list.Len()-1)
		kept = reflect.AppendSlice(kept, list.Slice(0, at))
		kept = reflect.AppendSlice(kept, list.Slice(at+1, list.Len()))
		list.Set(kept)
		return nil
	case exists:
		now, _ := encode(list.Index(at))
		return &Conflict{Path: c.Path, Now: now}
	}
	fresh := reflect.New(list.Type().Elem())
	if err := json.Unmarshal(c.After, fresh.Interface()); err != nil {
		return fmt.Errorf("delta: path %q: %w", c.Path, err)
	}
	list.Set(reflect.Append(list, fresh.Elem()))
	sortKeyed(list)
	return nil
}

// encode gives the canonical JSON of a value, nil for an empty one, so that an
// absent field and a zero one are the same thing on both sides of a change.
func encode(v reflect.Value) (json.RawMessage, error) {
	if v.IsZero() || v.Kind() == reflect.Slice && v.Len() == 0 {
		return nil, nil
	}
	return json.Marshal(v.Interface())
}

type field struct {
	name  string
	index int
}

var (
	fieldCache sync.Map // reflect.Type -> []field
	keyedCache sync.Map // reflect.Type -> bool
)

func fieldsOf(t reflect.Type) []field {
	if known, ok := fieldCache.Load(t); ok {
		return known.([]field)
	}
	var out []field
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if !f.IsExported() || name == "-" || name == "" {
			continue
		}
		out = append(out, field{name, i})
	}
	fieldCache.Store(t, out)
	return out
}

func fieldNamed(t reflect.Type, name string) (field, bool) {
	for _, f := range fieldsOf(t) {
		if f.name == name {
			return f, true
		}
	}
	return field{}, false
}

func keyed(t reflect.Type) bool {
	if t.Kind() != reflect.Slice || t.Elem().Kind() != reflect.Struct {
		return false
	}
	if known, ok := keyedCache.Load(t); ok {
		return known.(bool)
	}
	f, ok := fieldNamed(t.Elem(), "id")
	ok = ok && t.Elem().Field(f.index).Type.Kind() == reflect.String
	keyedCache.Store(t, ok)
	return ok
}

var marshaler = reflect.TypeFor[json.Marshaler]()

func isLeaf(t reflect.Type) bool { return t.Implements(marshaler) }

func elementID(v reflect.Value) string {
	f, _ := fieldNamed(v.Type(), "id")
	return v.Field(f.index).String()
}

func indexByID(list reflect.Value) map[string]int {
	out := make(map[string]int, list.Len())
	for i := range list.Len() {
		out[elementID(list.Index(i))] = i
	}
	return out
}
