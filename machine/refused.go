package machine

import (
	"errors"
	"fmt"
	"strings"
)

// Refused says why a variant of a setup cannot be put together. No place in a file is to
// blame: the files are as they were.
type Refused struct {
	Place    string // the placed component concerned; "" if none is
	Key      string // what a setup file would call it, such as "pins"; "" where nothing
	Found    string
	Expected string
}

// Error returns the reason in one line.
func (r *Refused) Error() string {
	where := ""
	for _, w := range []string{r.Place, r.Key} {
		if w != "" {
			where += w + ": "
		}
	}
	return fmt.Sprintf("%sfound %s, expected %s", where, r.Found, r.Expected)
}

// refuse is short for a Refused.
func refuse(place, key, found, expected string, args ...any) *Refused {
	return &Refused{Place: place, Key: key, Found: found, Expected: fmt.Sprintf(expected, args...)}
}

// refusals returns what was found to be wrong as a setup was put together; nil if nothing
// was. Only the setup and the machine take notes then.
func (b *builder) refusals() error {
	var all []error
	for _, s := range []*source{b.src, b.machine.src} {
		for _, e := range s.list {
			r := &Refused{Key: e.Key, Found: e.Found, Expected: e.Expected}
			if t := b.placeAt(e.path); s == b.src && t != nil {
				r.Place = t.Name
				if e.path == t.Path {
					r.Key = ""
				}
			}
			all = append(all, r)
		}
	}
	return errors.Join(all...)
}

// placeAt returns the place whose table has the key with a path; nil if none has.
func (b *builder) placeAt(path string) (found *placeTable) {
	for i := range b.file.Places {
		t := &b.file.Places[i]
		within := path == t.Path || strings.HasPrefix(path, t.Path+".")
		if within && (found == nil || len(t.Path) > len(found.Path)) {
			found = t
		}
	}
	return found
}
