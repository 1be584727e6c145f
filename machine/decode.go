package machine

import (
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/golang/geo/r3"
)

// span is a range, from lower to upper end.
type span [2]float64

// pitch is the distance of a grid's holes along its two directions: a file
// writes one number for both or a pair.
type pitch [2]float64

// pair is a step of a profile.
type pair [2]float64

// points are places: a file writes a list of them, or one by itself.
type points []r3.Vector

// spot is embedded in what is read from a table: the table's path.
type spot struct {
	Path string `toml:"-"`
}

// decode fills the struct that target points to from the root of the file.
// Keys that the struct does not have, values of another kind, numbers that are
// not finite and missing keys that are tagged "required" become faults.
func (s *source) decode(target any) {
	if s.values == nil {
		return
	}
	s.table(reflect.ValueOf(target).Elem(), s.values, "")
}

// table fills a struct. Keys come in the order of their names; the faults are
// sorted by place later.
func (s *source) table(v reflect.Value, values map[string]any, path string) {
	fields := make(map[string]reflect.Value)
	required := collectFields(v, path, fields)
	for _, key := range slices.Sorted(maps.Keys(values)) {
		field, ok := fields[key]
		if !ok {
			s.fault(join(path, key), "an unknown key",
				"%s", oneOf(key, slices.Sorted(maps.Keys(fields))))
			continue
		}
		s.put(field, values[key], join(path, key))
	}
	for _, key := range required {
		if _, ok := values[key]; !ok {
			s.fault(path, "no "+key, "%s", examples[plain(join(path, key))])
		}
	}
}

// collectFields lists a struct's fields by key, those of embedded structs too,
// notes the path in a spot, and returns the required keys.
func collectFields(v reflect.Value, path string, fields map[string]reflect.Value) (required []string) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Type == reflect.TypeFor[spot]() {
			v.Field(i).Field(0).SetString(path)
			continue
		}
		if f.Anonymous {
			required = append(required, collectFields(v.Field(i), path, fields)...)
			continue
		}
		key, option, _ := strings.Cut(f.Tag.Get("toml"), ",")
		fields[key] = v.Field(i)
		if option == "required" {
			required = append(required, key)
		}
	}
	return required
}

// put fills one field from a value.
func (s *source) put(v reflect.Value, value any, path string) {
	switch target := v.Addr().Interface().(type) {
	case *r3.Vector:
		if n, ok := s.numbers(value, 3, path, "a point or direction [x, y, z]"); ok {
			*target = r3.Vector{X: n[0], Y: n[1], Z: n[2]}
		}
		return
	case *span:
		if n, ok := s.numbers(value, 2, path, "a range [from, to]"); ok {
			*target = span{n[0], n[1]}
			if n[0] > n[1] {
				s.fault(path, fmt.Sprintf("%g before %g", n[0], n[1]), "the lower end first")
			}
		}
		return
	case *pitch:
		if n, ok := number(value); ok {
			*target = pitch{n, n}
		} else if n, ok := s.numbers(value, 2, path, "a pitch or a pair of them"); ok {
			*target = pitch{n[0], n[1]}
		}
		return
	}
	if s.putList(v, value, path) {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		s.put(v.Elem(), value, path)
	case reflect.Struct:
		if t, ok := value.(map[string]any); ok {
			s.table(v, t, path)
		} else {
			s.noTable(path, value)
		}
	case reflect.Slice:
		s.slice(v, value, path)
	case reflect.Map:
		s.mapping(v, value, path)
	default:
		s.scalar(v, value, path)
	}
}

// putList fills a field of a kind that a file writes as a list of numbers, or
// of one thing or many; false if it is none.
func (s *source) putList(v reflect.Value, value any, path string) bool {
	switch target := v.Addr().Interface().(type) {
	case *pair:
		if n, ok := s.numbers(value, 2, path, "a pair of numbers"); ok {
			*target = pair{n[0], n[1]}
		}
	case *ratedLoad:
		target.put(s, value, path)
	case *size:
		s.putSize(target, value, path)
	case *sizes:
		items, ok := value.([]any)
		if !ok {
			*target = make(sizes, 1)
			s.putSize(&(*target)[0], value, path)
			return true
		}
		*target = make(sizes, len(items))
		for i, item := range items {
			s.putSize(&(*target)[i], item, fmt.Sprintf("%s[%d]", path, i))
		}
	case *labels:
		if one, single := value.(string); single {
			*target = labels{one}
			return true
		}
		s.slice(v, value, path)
	case *waypoints:
		s.putPath(target, value, path)
	case *points:
		items, ok := value.([]any)
		if ok && len(items) > 0 {
			if _, single := number(items[0]); single {
				*target = make(points, 1)
				s.put(reflect.ValueOf(&(*target)[0]).Elem(), value, path)
				return true
			}
		}
		s.slice(v, value, path)
	default:
		return false
	}
	return true
}

func (s *source) scalar(v reflect.Value, value any, path string) {
	switch v.Kind() {
	case reflect.String:
		if t, ok := value.(string); ok {
			v.SetString(t)
			return
		}
		s.kindFault(path, value, "a text in quotes")
	case reflect.Bool:
		if t, ok := value.(bool); ok {
			v.SetBool(t)
			return
		}
		s.kindFault(path, value, "true or false")
	case reflect.Int:
		if t, ok := value.(int64); ok && int64(int32(t)) == t {
			v.SetInt(t)
			return
		}
		s.kindFault(path, value, "a whole number")
	default:
		if t, ok := number(value); ok {
			v.SetFloat(t)
			return
		}
		s.kindFault(path, value, "a number")
	}
}

func (s *source) slice(v reflect.Value, value any, path string) {
	items, ok := value.([]any)
	if name := plain(path); !ok && slices.Contains(lists, name) {
		s.fault(path, "one ["+name+"]", "double brackets for each: [[%s]]", name)
		return
	}
	if !ok {
		s.kindFault(path, value, "a list")
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), len(items), len(items)))
	for i, item := range items {
		s.put(v.Index(i), item, fmt.Sprintf("%s[%d]", path, i))
	}
}

// mapping fills a map from text to numbers or ranges.
func (s *source) mapping(v reflect.Value, value any, path string) {
	t, ok := value.(map[string]any)
	if !ok {
		s.noTable(path, value)
		return
	}
	v.Set(reflect.MakeMap(v.Type()))
	for _, key := range slices.Sorted(maps.Keys(t)) {
		item := reflect.New(v.Type().Elem()).Elem()
		s.put(item, t[key], join(path, key))
		v.SetMapIndex(reflect.ValueOf(key), item)
	}
}

// numbers reads a list of exactly n numbers.
func (s *source) numbers(value any, n int, path, expected string) ([]float64, bool) {
	items, ok := value.([]any)
	if !ok {
		s.kindFault(path, value, expected)
		return nil, false
	}
	if len(items) > n {
		expected += ", decimals with a point"
	}
	if len(items) != n {
		s.fault(path, count(len(items), "entry", "entries"), "%s", expected)
		return nil, false
	}
	list := make([]float64, n)
	for i, item := range items {
		if list[i], ok = number(item); !ok {
			s.kindFault(path, item, expected)
			return nil, false
		}
	}
	return list, true
}

// noTable says that a value is no table, and how one is written.
func (s *source) noTable(path string, value any) {
	expected := "a table"
	if example, known := examples[plain(path)]; known {
		expected += ": " + example
	}
	s.kindFault(path, value, expected)
}

// largest is the largest number a file may hold: a thousand kilometres, so that
// nothing computed from it overflows.
const largest = 1e9

// number returns a number of reasonable size; TOML's inf and nan are none. A
// whole number is fine where a number is wanted.
func number(value any) (float64, bool) {
	t, ok := value.(float64)
	if i, whole := value.(int64); whole {
		t, ok = float64(i), true
	}
	return t, ok && math.Abs(t) <= largest
}

// kindFault says that a value is of the wrong kind.
func (s *source) kindFault(path string, value any, expected string) {
	found := "a date or time"
	switch t := value.(type) {
	case string:
		found = fmt.Sprintf("the text %q", t)
	case int64, float64, bool:
		found = fmt.Sprint(t)
	case []any:
		found = "a list"
	case map[string]any:
		found = "a table"
	case time.Time:
		found = "the time " + t.String()
	}
	s.fault(path, found, "%s", expected)
}
