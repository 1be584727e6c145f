package stl

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"

	"gridswing/geom"
)

// header opens every binary file written; it must not begin with "solid".
const header = "binary STL, lengths in mm, outside where the corners run counter-clockwise"

// Encode writes m as binary STL, with the normals that follow from the corners
// and zero attribute words. The same mesh gives the same bytes. A mesh that
// Decode would refuse (no facets, a corner that is not finite) is an error,
// before anything is written.
func Encode(w io.Writer, m *geom.Mesh) error {
	if err := writable(m); err != nil {
		return err
	}
	out := bufio.NewWriterSize(w, 1<<16)
	var prefix [prefixSize]byte
	copy(prefix[:headerSize], header)
	binary.LittleEndian.PutUint32(prefix[headerSize:], uint32(len(m.Facets)))
	out.Write(prefix[:]) // bufio keeps the first error for Flush
	var record [recordSize]byte
	for i := range m.Facets {
		n := normal(m, i)
		words := [12]float32{float32(n.X), float32(n.Y), float32(n.Z)}
		for k := range 9 {
			words[3+k] = m.Facets[i][k/3][k%3]
		}
		for k, x := range words {
			binary.LittleEndian.PutUint32(record[4*k:], math.Float32bits(x))
		}
		out.Write(record[:])
	}
	return out.Flush()
}

// EncodeText writes m as ASCII STL under the given name, which may be empty and
// must be one line. The numbers are the shortest that read back as the same
// float32. Errors are those of Encode.
func EncodeText(w io.Writer, m *geom.Mesh, name string) error {
	if err := writable(m); err != nil {
		return err
	}
	if strings.ContainsAny(name, "\r\n\x00") {
		return fmt.Errorf("stl: found the name %q, expected one line of text", name)
	}
	out := bufio.NewWriterSize(w, 1<<16)
	fmt.Fprintln(out, strings.TrimRight("solid "+name, " "))
	var line []byte
	for i := range m.Facets {
		n := geom.VertexOf(normal(m, i))
		line = appendNumbers(append(line[:0], "facet normal"...), &n)
		line = append(line, "outer loop\n"...)
		for k := range m.Facets[i] {
			line = appendNumbers(append(line, "vertex"...), &m.Facets[i][k])
		}
		out.Write(append(line, "endloop\nendfacet\n"...))
	}
	fmt.Fprintln(out, strings.TrimRight("endsolid "+name, " "))
	return out.Flush()
}

func appendNumbers(line []byte, v *geom.Vertex) []byte {
	for _, x := range v {
		line = strconv.AppendFloat(append(line, ' '), float64(x), 'g', -1, 32)
	}
	return append(line, '\n')
}

// writable refuses what Decode would not read back.
func writable(m *geom.Mesh) error {
	if n := len(m.Facets); n == 0 || n > math.MaxUint32 {
		return fmt.Errorf("stl: found a mesh of %d facets, expected 1 to %d", n, uint32(math.MaxUint32))
	}
	for i := range m.Facets {
		for k := range 9 {
			if x := m.Facets[i][k/3][k%3]; !finite(x) {
				return fmt.Errorf("stl: facet %d: found %v, expected a finite coordinate", i+1, x)
			}
		}
	}
	return nil
}

// normal returns the unit normal of facet i, zero for a facet without one.
func normal(m *geom.Mesh, i int) r3.Vector {
	a, b, c := m.Triangle(i)
	return b.Sub(a).Cross(c.Sub(a)).Normalize()
}
