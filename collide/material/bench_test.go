package material

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

// bench is a block of 100 x 60 x 60 mm that is cut from above by an end mill of 10 mm in moves of 0.3 mm, along a
// raster whose lines are so far apart and so deep; after each move its neck and its shank are asked about.
type bench struct {
	name        string
	cell        float64
	deep, aside float64
}

var benches = []bench{
	{"finish", 0.5, 0.5, 0.5},
	{"rough", 0.5, 2, 4},
	{"slot", 0.5, 5, 10},
	{"finish", 0.25, 0.5, 0.5},
	{"rough", 0.25, 2, 4},
}

// moves calls f with each move of the raster until it says no.
func (b *bench) moves(f func(s *Sweep) bool) {
	const step = 0.3
	for z := 60 - b.deep; z > 30; z -= b.deep {
		for y := 5.0; y < 55; y += b.aside {
			for x := 5.0; x < 95; x += step {
				s := Sweep{Origin: r3.Vector{X: x, Y: y, Z: z}, Axis: r3.Vector{Z: 1}, Ways: []r3.Vector{{X: step}}}
				if !f(&s) {
					return
				}
			}
		}
	}
}

func BenchmarkMoves(b *testing.B) {
	cutter := endMill(10, 22)
	neck := Body{Outline: Outline{{4.75, 22}, {4.75, 40}}}
	shank := Body{Outline: Outline{{10, 40}, {20, 60}, {20, 90}}}
	for _, k := range benches {
		b.Run(fmt.Sprintf("%s/%g", k.name, k.cell), func(b *testing.B) {
			m := mustNew(b, block(v(0, 0, 0), v(100, 60, 60)), 0.01, k.cell)
			n, want, got := 0, 0.0, 0.0
			b.ReportAllocs()
			b.ResetTimer()
			for n < b.N {
				c := m.Clone()
				k.moves(func(s *Sweep) bool {
					got += c.Cut(cutter, s).Volume
					for _, body := range []*Body{&neck, &shank} {
						if _, ok := c.Keeps(body, s, 0.2, 0); !ok {
							b.Fatalf("not clear at %v", s.Origin)
						}
					}
					n++
					want += k.deep * min(k.aside, 10) * 0.3
					return n < b.N
				})
			}
			if math.IsNaN(got + want) {
				b.Fatal("no volume")
			}
		})
	}
}

// A tool in a pocket of its own, so that neck and shank are between walls.
func BenchmarkKeepsInPocket(b *testing.B) {
	m := mustNew(b, block(v(0, 0, 0), v(100, 60, 60)), 0.01, 0.5)
	line(m, endMill(10, 60), v(0, 0, 1), v(20, 30, 30), v(80, 30, 30), 20)
	neck := Body{Outline: Outline{{4.5, 10}, {4.5, 40}}}
	b.ResetTimer()
	for i := range b.N {
		s := Sweep{Origin: v(20+60*float64(i%200)/200, 30, 30), Axis: v(0, 0, 1), Ways: []r3.Vector{{X: 0.3}}}
		if _, ok := m.Keeps(&neck, &s, 0.2, 0); !ok {
			b.Fatal("not clear")
		}
	}
}

func BenchmarkNew(b *testing.B) {
	mesh := block(v(0, 0, 0), v(100, 60, 60))
	for b.Loop() {
		mustNew(b, mesh, 0.01, 0.5)
	}
}
