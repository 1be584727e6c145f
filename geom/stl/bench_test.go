package stl

import (
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"

	"gridswing/geom"
)

// dome returns 2 n^2 facets of a wavy sheet, neighbours sharing their corners:
// enough for reading and writing, where the shape does not matter.
func dome(n int) *geom.Mesh {
	at := func(i, j int) geom.Vertex {
		x, y := float64(i)/float64(n)*300, float64(j)/float64(n)*200
		return geom.Vertex{float32(x), float32(y), float32(20 * math.Sin(x/30) * math.Cos(y/30))}
	}
	m := &geom.Mesh{}
	for i := range n {
		for j := range n {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.Facets = append(m.Facets, geom.Facet{a, b, c}, geom.Facet{a, c, d})
		}
	}
	return m
}

// million is a mesh of 1,000,000 facets (50 MB as binary STL).
func million(b *testing.B, encode func(io.Writer, *geom.Mesh) error) []byte {
	b.Helper()
	var out bytes.Buffer
	if err := encode(&out, dome(707)); err != nil {
		b.Fatal(err)
	}
	return out.Bytes()
}

// BenchmarkReadFile reads a million facets from a file in the page cache. Hold
// it against BenchmarkReadBytes, which reads the same bytes into fresh memory.
func BenchmarkReadFile(b *testing.B) {
	data := million(b, Encode)
	path := filepath.Join(b.TempDir(), "million.stl")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		b.Fatal(err)
	}
	b.Run("mesh", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		b.ReportAllocs()
		for b.Loop() {
			if _, err := ReadFile(path); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("only bytes", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		b.ReportAllocs()
		for b.Loop() {
			if _, err := os.ReadFile(path); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkDecode decodes a million facets that are in memory already.
func BenchmarkDecode(b *testing.B) {
	for _, c := range []struct {
		name   string
		encode func(io.Writer, *geom.Mesh) error
	}{
		{"binary", Encode},
		{"ascii", func(w io.Writer, m *geom.Mesh) error { return EncodeText(w, m, "dome") }},
	} {
		b.Run(c.name, func(b *testing.B) {
			data := million(b, c.encode)
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Decode(data, "million.stl"); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
