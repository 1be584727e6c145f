package bores_test

import (
	"encoding/binary"
	"math"
	"reflect"
	"testing"

	"gridswing/geom"
	"gridswing/geom/bores"
	"gridswing/geom/shape"
)

// FuzzFind reads facets from bytes, 36 each, as STL has them: any coordinates,
// infinities and others that are no numbers included.
func FuzzFind(f *testing.F) {
	add := func(m *geom.Mesh) {
		var data []byte
		for _, facet := range m.Facets {
			for k := range 9 {
				data = binary.LittleEndian.AppendUint32(data, math.Float32bits(facet[k/3][k%3]))
			}
		}
		f.Add(data)
	}
	add(&geom.Mesh{})
	round := shape.Round{Chord: 1}
	add(shape.Tube(5, 10, 0, 20, round).Mesh())
	add(shape.Cone(10, 0, 0, 20, round).Mesh())
	nan, inf := float32(math.NaN()), float32(math.Inf(1))
	add(&geom.Mesh{Facets: []geom.Facet{{{nan, 0, 0}, {1, inf, 0}, {0, 1, 0}}, {{3e38, 0, 0}, {-3e38, 3e38, 1}, {0, 1, 3e38}}}})
	f.Fuzz(func(t *testing.T, data []byte) {
		m := &geom.Mesh{}
		for ; len(data) >= 36; data = data[36:] {
			var facet geom.Facet
			for k := range 9 {
				facet[k/3][k%3] = math.Float32frombits(binary.LittleEndian.Uint32(data[4*k:]))
			}
			m.Facets = append(m.Facets, facet)
		}
		found := bores.Find(m)
		grids, _ := found.Patterns()
		for _, g := range grids {
			if len(g.Openings)+len(g.Omit) != g.Columns*g.Rows {
				t.Errorf("%d holes and %d missing of %d x %d places", len(g.Openings), len(g.Omit), g.Columns, g.Rows)
			}
		}
		again := bores.Find(m)
		if !reflect.DeepEqual(found, again) {
			t.Errorf("another answer for the same mesh: %+v, %+v", found, again)
		}
	})
}

// BenchmarkFind looks at plates of 48 holes in more and more facets.
func BenchmarkFind(b *testing.B) {
	for _, size := range []struct {
		name   string
		facets int
	}{{"10k", 10_000}, {"100k", 100_000}, {"1M", 1_000_000}} {
		m := shape.GridPlate(size.facets)
		b.Run(size.name, func(b *testing.B) {
			for b.Loop() {
				if f := bores.Find(m); len(f.Holes) != 48 {
					b.Fatalf("%d holes, want 48", len(f.Holes))
				}
			}
		})
	}
	ball := shape.BumpyBall(1_000_000)
	b.Run("round all over, 1M", func(b *testing.B) {
		for b.Loop() {
			bores.Find(ball)
		}
	})
}
