package main

import (
	"fmt"
	"strings"

	"gridswing/machine"
)

// find puts the whole name of the operation that is asked for into o, and says what is wrong if
// there is none that can be looked at. An operation that is done at several parts has a part in
// brackets behind its name; they may be left out where only one is so called.
func (o *reportOptions) find(s *machine.Setup) error {
	if o.operation == "" {
		return nil
	}
	var names, known []string // all, and those that were looked at
	for i := range s.Operations {
		known = append(known, s.Operations[i].Name)
	}
	names = append(names, known...)
	for _, f := range s.Faulty {
		names = append(names, f.Name)
	}
	found := called(o.operation, names)
	switch len(found) {
	case 0:
		return unknownOperation(o.operation, known)
	case 1:
		o.operation = found[0]
	default:
		return wrong("", "--operation: found %q, expected one of: %s", o.operation, strings.Join(found, ", "))
	}
	for _, f := range s.Faulty {
		if f.Name == o.operation {
			return wrong("", "%s: operation %q cannot be looked at: %s", f.Where, f.Name, f.Reason)
		}
	}
	return nil
}

// called returns the name itself if it is there, else those that are it with a part in brackets.
func called(name string, names []string) (list []string) {
	for _, n := range names {
		if n == name {
			return []string{n}
		}
		if part, is := strings.CutPrefix(n, name+" ("); is && strings.HasSuffix(part, ")") {
			list = append(list, n)
		}
	}
	return list
}

func unknownOperation(name string, known []string) error {
	expected := "one of: " + strings.Join(known, ", ")
	if near := machine.Nearest(name, known); near != "" {
		expected = fmt.Sprintf("%q, perhaps (known: %s)", near, strings.Join(known, ", "))
	}
	return wrong("", "--operation: found %q, expected %s", name, expected)
}
