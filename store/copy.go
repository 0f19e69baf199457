package store

import "reflect"

// deepCopy gives a value that shares nothing with the one it is made from. It
// serves documents that are plain data: structs, slices, maps, pointers.
func deepCopy[T any](from *T) *T {
	out := new(T)
	copyInto(reflect.ValueOf(out).Elem(), reflect.ValueOf(from).Elem())
	return out
}

func copyInto(to, from reflect.Value) {
	switch from.Kind() {
	case reflect.Struct:
		to.Set(from)
		for i := range from.NumField() {
			if holdsReferences(from.Field(i).Type()) {
				copyInto(to.Field(i), from.Field(i))
			}
		}
	case reflect.Slice:
		if from.IsNil() {
			return
		}
		to.Set(reflect.MakeSlice(from.Type(), from.Len(), from.Len()))
		reflect.Copy(to, from)
		if holdsReferences(from.Type().Elem()) {
			for i := range from.Len() {
				copyInto(to.Index(i), from.Index(i))
			}
		}
	case reflect.Map:
		if from.IsNil() {
			return
		}
		to.Set(reflect.MakeMapWithSize(from.Type(), from.Len()))
		for it := from.MapRange(); it.Next(); {
			value := reflect.New(from.Type().Elem()).Elem()
			copyInto(value, it.Value())
			to.SetMapIndex(it.Key(), value)
		}
	case reflect.Pointer:
		if from.IsNil() {
			return
		}
		to.Set(reflect.New(from.Type().Elem()))
		copyInto(to.Elem(), from.Elem())
	default:
		to.Set(from)
	}
}

func holdsReferences(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Struct, reflect.Slice, reflect.Map, reflect.Pointer:
		return true
	}
	return false
}
