package machine

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"
)

// list is a file of points, one in a line, for a spreadsheet to write: CSV with
// commas or semicolons, its columns named in the first line.
type list struct {
	src   *source
	kind  string // of the features it is for
	names map[string]bool
	rows  []row
}

// Columns of a list: where the point is, the axis there, and what a table of
// holes states for all of its holes.
var (
	pointColumns = []string{"x", "y", "z"}
	axisColumns  = []string{"i", "j", "k"}
	holeColumns  = []string{"depth", "depth_to", "breakthrough", "name"}
)

// readLists reads the lists that features name, each file once for each kind
// of feature.
func (st *Store) readLists(b *builder, sources *[]*source) {
	type key struct{ name, kind string }
	known := make(map[key]*list)
	b.lists = make(map[string]*list)
	read := func(table, kind, relative string) {
		path := table + ".list"
		if !b.src.states(path) {
			return
		}
		name, ok := st.resolve(b.src, path, relative)
		if !ok {
			return
		}
		l, read := known[key{name, kind}]
		if !read {
			data, err := st.read(name)
			if err != nil {
				b.src.missing(path, relative, name, err)
				return
			}
			l = listOf(name, data, kind)
			known[key{name, kind}] = l
			*sources = append(*sources, l.src)
		}
		b.lists[table] = l
	}
	for i := range b.file.Operations {
		t := &b.file.Operations[i]
		for k := range t.Holes {
			read(t.Holes[k].Path, Hole, t.Holes[k].List)
		}
		for k := range t.Contours {
			read(t.Contours[k].Path, Contour, t.Contours[k].List)
		}
	}
}

// listOf reads a list. What is wrong is noted in its source.
func listOf(name string, data []byte, kind string) *list {
	sum := sha256.Sum256(data)
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	l := &list{src: &source{name: name, data: data, sum: sum}, kind: kind, names: make(map[string]bool)}
	if !l.src.encoding("a list in CSV") {
		return l
	}
	in := csv.NewReader(bytes.NewReader(data))
	in.TrimLeadingSpace = true
	in.ReuseRecord = true
	in.FieldsPerRecord = -1 // told in our words
	first, _, _ := bytes.Cut(data, []byte("\n"))
	if bytes.IndexByte(first, ';') >= 0 {
		in.Comma = ';'
	}
	record, err := in.Read()
	if errors.Is(err, io.EOF) {
		l.src.add(&Error{File: name, Line: 1, Column: 1, Found: "an empty file", Expected: "x,y,z in the first line, and a point in each of the others"})
		return l
	}
	var columns []string
	for err == nil {
		if columns == nil {
			if columns = l.header(in, record); columns == nil {
				return l
			}
		} else {
			l.row(in, columns, record)
		}
		record, err = in.Read()
	}
	var syntax *csv.ParseError
	switch {
	case errors.As(err, &syntax):
		l.src.add(&Error{File: name, Line: syntax.Line, Column: syntax.Column, Found: syntax.Err.Error(), Expected: "a list in CSV"})
	case len(l.rows) == 0 && !l.src.any():
		l.src.add(&Error{File: name, Line: 2, Column: 1, Found: "no point", Expected: "a point in each line after the first"})
	}
	return l
}

// fault notes what is wrong with a field of the record read last.
func (l *list) fault(in *csv.Reader, field int, key, found, expected string, args ...any) {
	line, column := in.FieldPos(field)
	l.src.add(&Error{File: l.src.name, Line: line, Column: column, Key: key, Found: found, Expected: fmt.Sprintf(expected, args...)})
}

// header reads the names of the columns; nil if they will not do.
func (l *list) header(in *csv.Reader, record []string) []string {
	known := slices.Concat(pointColumns, axisColumns)
	if l.kind == Hole {
		known = append(known, holeColumns...)
	}
	columns := make([]string, len(record))
	for i, name := range record {
		name = strings.TrimSpace(name)
		switch {
		case !slices.Contains(known, name):
			l.fault(in, i, "", "column "+quoted(name), "%s", oneOf(name, known))
		case slices.Contains(columns, name):
			l.fault(in, i, "", "column "+quoted(name)+" a second time", "each column once")
		}
		columns[i] = name
	}
	for _, group := range [][]string{pointColumns, axisColumns} {
		if group[0] == "i" && l.kind != Contour && !slices.ContainsFunc(axisColumns, func(c string) bool { return slices.Contains(columns, c) }) {
			continue
		}
		for _, name := range group {
			if !slices.Contains(columns, name) && !l.src.any() {
				l.fault(in, 0, "", "no column "+name, "%s", strings.Join(group, string(in.Comma)))
			}
		}
	}
	if l.src.any() {
		return nil
	}
	return columns
}

// row reads one point.
func (l *list) row(in *csv.Reader, columns, record []string) {
	if len(record) != len(columns) {
		l.fault(in, min(len(record), len(columns))-1, "", count(len(record), "field", "fields"), "%d, as in the first line", len(columns))
		return
	}
	line, _ := in.FieldPos(0)
	w := row{listed: true, where: fmt.Sprintf("%s:%d", l.src.name, line), says: make(map[string]bool)}
	values := make(map[string]*float64)
	for i, field := range record {
		field = strings.TrimSpace(field)
		w.says[columns[i]] = field != ""
		switch column := columns[i]; {
		case column == "name":
			l.name(in, i, field)
			w.name = field
		case column == "depth_to":
			w.depthTo = field
		case field != "" || slices.Contains(pointColumns, column):
			values[column] = l.number(in, i, column, field)
		}
	}
	if l.src.any() {
		return
	}
	w.at = r3.Vector{X: *values["x"], Y: *values["y"], Z: *values["z"]}
	w.depth, w.through = values["depth"], values["breakthrough"]
	switch x, y, z := values["i"], values["j"], values["k"]; {
	case x != nil && y != nil && z != nil:
		w.axis, w.says["axis"] = &r3.Vector{X: *x, Y: *y, Z: *z}, true
	case x != nil || y != nil || z != nil || l.kind == Contour:
		l.fault(in, slices.Index(columns, "i"), "", "an axis without i, j or k", "all three of them")
	}
	l.rows = append(l.rows, w)
}

// name notes what a point is called.
func (l *list) name(in *csv.Reader, i int, name string) {
	if l.names[name] && name != "" {
		l.fault(in, i, "name", quoted(name)+" a second time", "each point under its own name")
	}
	l.names[name] = true
}

// number reads a field; 0 where it is none.
func (l *list) number(in *csv.Reader, i int, column, field string) *float64 {
	v, err := strconv.ParseFloat(field, 64)
	switch {
	case err == nil && math.Abs(v) <= largest && !strings.ContainsAny(field, "xXpP_"):
		return &v
	case strings.Count(field, ",") == 1 && strings.Trim(field, "+-0123456789,") == "":
		l.fault(in, i, column, quoted(field), "a decimal point: %s", strings.Replace(field, ",", ".", 1))
	default:
		l.fault(in, i, column, quoted(field), "a number")
	}
	return new(float64)
}
