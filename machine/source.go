package machine

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// source is a TOML file as read, with the place of every key in it and the
// faults found so far. A path names a key from the root: "place[1].pins".
type source struct {
	name   string
	data   []byte
	sum    [sha256.Size]byte // of the file's bytes
	values map[string]any
	places map[string]int // path -> byte offset
	faults
}

// parse checks the syntax and notes where every key stands. A source with a
// fault in its syntax has no values.
func parse(name string, data []byte) *source {
	sum := sha256.Sum256(data)
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // a mark that some editors set
	s := &source{name: name, data: data, sum: sum, places: make(map[string]int)}
	if !s.encoding("a TOML file") {
		return s
	}
	if err := toml.Unmarshal(data, &s.values); err != nil {
		s.values = nil
		s.syntax(err)
		return s
	}
	s.index()
	return s
}

// clean returns the file as read, without the faults found so far.
func (s *source) clean() *source {
	return &source{name: s.name, data: s.data, sum: s.sum, values: s.values, places: s.places}
}

// maxPath bounds the length of a path: no key is as deep as that, and a file
// that pretends to must not fill the memory. What is deeper is told at the
// place of what is around it.
const maxPath = 1000

// index walks the file once more for the places of its keys. The syntax is
// known to be right.
func (s *source) index() {
	p := unstable.Parser{}
	p.Reset(s.data)
	counts := make(map[string]int) // path of an array of tables -> tables so far
	table := ""
	for p.NextExpression() {
		n := p.Expression()
		switch n.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = s.header(n, counts)
		case unstable.KeyValue:
			s.keyValue(n, table)
		}
	}
}

// header notes a table's place and returns its path. Every part of the key
// that is an array of tables stands for the last table of that array.
func (s *source) header(n *unstable.Node, counts map[string]int) string {
	path := ""
	key := n.Key()
	for key.Next() {
		k := key.Node()
		if len(path) > maxPath {
			break
		}
		path = join(path, string(k.Data))
		if n.Kind == unstable.ArrayTable && key.IsLast() {
			counts[path]++
		}
		if c := counts[path]; c > 0 {
			path = fmt.Sprintf("%s[%d]", path, c-1)
		}
		s.note(path, k.Raw)
	}
	return path
}

func (s *source) keyValue(n *unstable.Node, table string) {
	path := table
	key := n.Key()
	for key.Next() {
		k := key.Node()
		if len(path) > maxPath {
			return
		}
		path = join(path, string(k.Data))
		s.note(path, k.Raw)
	}
	s.value(n.Value(), path)
}

func (s *source) value(n *unstable.Node, path string) {
	children := n.Children()
	switch n.Kind {
	case unstable.Array:
		for i := 0; children.Next(); i++ {
			child := children.Node()
			element := fmt.Sprintf("%s[%d]", path, i)
			if child.Raw.Length > 0 {
				s.note(element, child.Raw)
			}
			s.value(child, element)
		}
	case unstable.InlineTable:
		for children.Next() {
			s.keyValue(children.Node(), path)
		}
	}
}

// note keeps the first place of a path.
func (s *source) note(path string, at unstable.Range) {
	if _, known := s.places[path]; !known {
		s.places[path] = int(at.Offset)
	}
}

func join(table, key string) string {
	if table == "" {
		return key
	}
	return table + "." + key
}

// states reports whether the file has the key with that path.
func (s *source) states(path string) bool {
	_, stated := s.places[path]
	return stated
}

// at returns line and column of the key with that path, or of the innermost
// table around it that the file has; a file's first byte for the root.
func (s *source) at(path string) (line, column int) {
	for path != "" {
		for _, p := range []string{path, path + "[0]"} { // [[table]] has a place for each, none for all
			if offset, ok := s.places[p]; ok {
				return s.position(offset)
			}
		}
		path = path[:max(0, strings.LastIndexAny(path, ".["))]
	}
	return 1, 1
}

// position returns line and column of a byte, both from 1.
func (s *source) position(offset int) (line, column int) {
	before := s.data[:offset]
	return 1 + bytes.Count(before, []byte{'\n'}), offset - bytes.LastIndexByte(before, '\n')
}

// fault notes an error at a path. The key printed is the path's last part,
// without its place in an array.
func (s *source) fault(path, found, expected string, args ...any) {
	line, column := s.at(path)
	key := path[strings.LastIndex(path, ".")+1:]
	key, _, _ = strings.Cut(key, "[")
	s.add(&Error{
		File: s.name, Line: line, Column: column, Key: key,
		Found: found, Expected: fmt.Sprintf(expected, args...), path: path,
	})
}
