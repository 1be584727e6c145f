package geom

import (
	"fmt"
	"math"
	"testing"
)

// torus returns a torus about the z axis, of radius r and tube radius a, as
// 2 n k facets: n steps round the axis, k round the tube.
func torus(r, a float64, n, k int) *Mesh {
	at := func(i, j int) Vertex {
		u := 2 * math.Pi * float64(i%n) / float64(n)
		v := 2 * math.Pi * float64(j%k) / float64(k)
		d := r + a*math.Cos(v)
		return Vertex{float32(d * math.Cos(u)), float32(d * math.Sin(u)), float32(a * math.Sin(v))}
	}
	m := &Mesh{Facets: make([]Facet, 0, 2*n*k)}
	for i := range n {
		for j := range k {
			p, q, s, t := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.Facets = append(m.Facets, Facet{p, q, s}, Facet{p, s, t})
		}
	}
	return m
}

// soup returns the facets of m pulled apart, so that no two share a corner.
func soup(m *Mesh) *Mesh {
	out := &Mesh{Facets: make([]Facet, len(m.Facets))}
	for i, f := range m.Facets {
		for k := range f {
			f[k][2] += float32(i)
		}
		out.Facets[i] = f
	}
	return out
}

func BenchmarkAuditOf(b *testing.B) {
	for _, n := range []int{250, 500, 1000, 1600} {
		m := torus(200, 80, n, n)
		for _, c := range []struct {
			name string
			mesh *Mesh
		}{{"closed", m}, {"soup", soup(m)}} {
			b.Run(fmt.Sprintf("%s/%d", c.name, len(m.Facets)), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					AuditOf(c.mesh)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(m.Facets)), "ns/facet")
			})
		}
	}
}

func BenchmarkEdgesOf(b *testing.B) {
	m := torus(200, 80, 1000, 500)
	b.ReportAllocs()
	for b.Loop() {
		EdgesOf(m, math.Pi/6)
	}
}

func BenchmarkMassOf(b *testing.B) {
	m := torus(200, 80, 1000, 500)
	b.ReportAllocs()
	for b.Loop() {
		MassOf(m)
	}
}
