package stl

import (
	"fmt"
	"math"
	"strconv"

	"gridswing/geom"
)

// leastFacetText is the length of the shortest facet that the grammar allows;
// it bounds the facets that a text of some size can hold.
const leastFacetText = len("facet outer loop vertex 0 0 0 vertex 0 0 0 vertex 0 0 0 endloop endfacet ")

// asciiDecoder reads "solid" blocks:
//
//	solid [name, to the end of the line]
//	  facet normal n n n
//	    outer loop
//	      vertex x y z   (three times)
//	    endloop
//	  endfacet
//	endsolid [name, to the end of the line]
type asciiDecoder struct {
	*scanner
	src    *source
	facets []geom.Facet
}

func decodeASCII(src *source) (*geom.Mesh, error) {
	d := asciiDecoder{scanner: newScanner(src), src: src}
	if err := d.blocks(); err != nil {
		return nil, err
	}
	return &geom.Mesh{Facets: d.facets}, nil
}

func (d *asciiDecoder) blocks() error {
	for w := trimMark(d.word()); w != nil; w = d.word() {
		if !equalFold(w, "solid") {
			return d.unexpected(w, `"solid" or the end of the file`)
		}
		d.skipLine()
		if err := d.block(); err != nil {
			return err
		}
	}
	if d.err != nil || len(d.facets) == 0 {
		return d.unexpected(nil, "at least one facet")
	}
	return nil
}

// block reads the facets of a solid, up to and with its endsolid.
func (d *asciiDecoder) block() error {
	for {
		w := d.word()
		switch {
		case equalFold(w, "facet"):
			if err := d.facet(); err != nil {
				return err
			}
		case equalFold(w, "endsolid"):
			d.skipLine()
			return nil
		default:
			return d.unexpected(w, `"facet" or "endsolid"`)
		}
	}
}

func (d *asciiDecoder) facet() error {
	if err := d.skipNormal(); err != nil {
		return err
	}
	if err := d.keyword("loop"); err != nil {
		return err
	}
	var f geom.Facet
	for i := range f {
		if err := d.keyword("vertex"); err != nil {
			return err
		}
		for k := range f[i] {
			x, err := d.coordinate()
			if err != nil {
				return err
			}
			f[i][k] = x
		}
	}
	if err := d.keyword("endloop"); err != nil {
		return err
	}
	if err := d.keyword("endfacet"); err != nil {
		return err
	}
	d.add(f)
	return nil
}

// add appends f. The first facets tell how many to make room for, so that a
// large mesh is not copied from one slice to the next while it grows.
func (d *asciiDecoder) add(f geom.Facet) {
	const sample = 256
	if len(d.facets) == sample {
		perFacet := float64(d.base+int64(d.pos)) / sample
		room := min(float64(d.src.size)/perFacet*1.02, float64(d.src.size)/float64(leastFacetText))
		d.facets = append(make([]geom.Facet, 0, int(room)+1), d.facets...)
	}
	d.facets = append(d.facets, f)
}

// skipNormal reads up to and with "outer". The normal is not used, so its
// numbers may be anything, and missing.
func (d *asciiDecoder) skipNormal() error {
	w := d.word()
	if equalFold(w, "normal") {
		w = d.word()
		for i := 0; i < 3 && w != nil && !equalFold(w, "outer"); i++ {
			w = d.word()
		}
	}
	if !equalFold(w, "outer") {
		return d.inFacet(d.unexpected(w, `"outer loop"`))
	}
	return nil
}

func (d *asciiDecoder) keyword(want string) error {
	w := d.word()
	if !equalFold(w, want) {
		return d.inFacet(d.unexpected(w, strconv.Quote(want)))
	}
	return nil
}

func (d *asciiDecoder) coordinate() (float32, error) {
	w := d.word()
	if len(w) == 0 || !startsNumber(w) {
		return 0, d.inFacet(d.unexpected(w, "a finite coordinate"))
	}
	x, err := strconv.ParseFloat(string(w), 32)
	if err == nil {
		return float32(x), nil
	}
	if math.IsInf(x, 0) {
		return 0, d.inFacet(d.unexpected(w, "a coordinate within the range of float32"))
	}
	return 0, d.inFacet(d.unexpected(w, "a finite coordinate, such as 12.5 or -1.25e+01"))
}

// startsNumber keeps words such as NaN, Inf and 0x1p-2 from strconv, to which
// they are numbers.
func startsNumber(w []byte) bool {
	if w[0] == '+' || w[0] == '-' {
		w = w[1:]
	}
	if len(w) == 0 || len(w) > 1 && (w[1] == 'x' || w[1] == 'X') {
		return false
	}
	return w[0] == '.' || w[0] >= '0' && w[0] <= '9'
}

// unexpected says that w, nil for the end of the file, stands where something
// else should; if the file could not be read on, it says that instead.
func (d *asciiDecoder) unexpected(w []byte, expected string) error {
	if d.err != nil {
		return fmt.Errorf("%s: byte %d: %w", d.src.name, d.base+int64(len(d.buf)), d.err)
	}
	e := d.src.malformed(d.wordStart, "end of file", expected)
	if w != nil {
		e.Found = quote(w)
	}
	e.Line, e.Column = d.wordLine, d.wordCol
	return e
}

// inFacet adds the number of the facet being read.
func (d *asciiDecoder) inFacet(err error) error {
	if e, ok := err.(*Error); ok {
		e.Facet = len(d.facets)
	}
	return err
}

func trimMark(w []byte) []byte {
	if len(w) >= len(byteOrderMark) && string(w[:len(byteOrderMark)]) == byteOrderMark {
		return w[len(byteOrderMark):]
	}
	return w
}

// equalFold compares with a lower-case word of ASCII letters, in any case.
func equalFold(w []byte, lower string) bool {
	if len(w) != len(lower) {
		return false
	}
	for i, c := range w {
		if c|0x20 != lower[i] {
			return false
		}
	}
	return true
}
