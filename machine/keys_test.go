package machine

import (
	"reflect"
	"strings"
)

// keys are the keys of a kind of file, by path without places in arrays.
type keys struct{ required, lists, all []string }

// keysOf walks the tables of a kind of file.
func keysOf[T any]() (k keys) {
	k.walk(reflect.TypeFor[T](), "")
	return k
}

func (k *keys) walk(table reflect.Type, path string) {
	for i := range table.NumField() {
		f := table.Field(i)
		if f.Anonymous && f.Type != reflect.TypeFor[spot]() {
			k.walk(f.Type, path)
		}
		key, option, _ := strings.Cut(f.Tag.Get("toml"), ",")
		if key == "" || f.Anonymous {
			continue
		}
		inner := join(path, key)
		k.all = append(k.all, inner)
		if option == "required" {
			k.required = append(k.required, inner)
		}
		t := f.Type
		if t.Kind() == reflect.Pointer {
			t = t.Elem()
		}
		if t.Kind() == reflect.Slice && isTable(t.Elem()) {
			k.lists = append(k.lists, inner)
			t = t.Elem()
		}
		if isTable(t) {
			k.walk(t, inner)
		}
	}
}

// isTable reports whether a type is read from a table: all of this package's
// structs are, but not points.
func isTable(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && t.PkgPath() == reflect.TypeFor[spot]().PkgPath()
}
