package delta

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"
)

// Canonical gives the change with its values spelled as Diff spells them, so
// that one that was written elsewhere compares equal. doc names the type that
// the path starts from, a struct or a pointer to one. A path that the type has
// not, or a value that does not fit its place, is an error.
func (c Change) Canonical(doc any) (Change, error) {
	t, key, err := typeAt(reflect.TypeOf(doc), c.Path)
	if err != nil {
		return c, err
	}
	before, err := canonical(t, key, c.Before)
	if err != nil {
		return c, fmt.Errorf("before: %w", err)
	}
	after, err := canonical(t, key, c.After)
	if err != nil {
		return c, fmt.Errorf("after: %w", err)
	}
	return Change{Path: c.Path, Before: before, After: after}, nil
}

// typeAt gives the type of what a path leads to and, for a part of a keyed
// list, the part's ID.
func typeAt(t reflect.Type, path string) (at reflect.Type, key string, err error) {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	for step := range strings.SplitSeq(path, "/") {
		key = ""
		switch {
		case keyed(t):
			t, key = t.Elem(), step
			continue
		case t.Kind() != reflect.Struct || isLeaf(t):
			return nil, "", fmt.Errorf("path %q goes below a value at %q", path, step)
		}
		f, ok := fieldNamed(t, step)
		if !ok {
			return nil, "", fmt.Errorf("path %q: there is no field %q", path, step)
		}
		t = t.Field(f.index).Type
	}
	if key == "" && (keyed(t) || t.Kind() == reflect.Struct && !isLeaf(t)) {
		return nil, "", fmt.Errorf("path %q ends too early: name a part or a field", path)
	}
	return t, key, nil
}

func canonical(t reflect.Type, key string, raw json.RawMessage) (json.RawMessage, error) {
	if raw == nil {
		return nil, nil
	}
	fresh := reflect.New(t)
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	if err := dec.Decode(fresh.Interface()); err != nil {
		return nil, err
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, fmt.Errorf("there is more than one value")
	}
	if key == "" {
		return encode(fresh.Elem())
	}
	if id := elementID(fresh.Elem()); id != key {
		return nil, fmt.Errorf("the part is called %q and its path says %q", id, key)
	}
	sortBelow(fresh.Elem())
	return json.Marshal(fresh.Interface())
}
