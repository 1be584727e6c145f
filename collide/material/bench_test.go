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
						if _, ok := c.Keeps(body, s, 0.2); !ok {
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

// A ball end leads along the top in moves of 0.3 mm, its axis tilted more from move to move and the moves up and down
// a little, as in five axes.
func BenchmarkTilted(b *testing.B) {
	cutter := ballEnd(10, 22, 24)
	m := mustNew(b, block(v(0, 0, 0), v(100, 60, 60)), 0.01, 0.5)
	b.ResetTimer()
	for n := 0; n < b.N; {
		c := m.Clone()
		for y := 5.0; y < 55 && n < b.N; y += 0.5 {
			for x := 5.0; x < 95 && n < b.N; x += 0.3 {
				sin, cos := math.Sincos(0.3 + 0.3*math.Sin(x/10))
				axis := v(0, sin, cos)
				tip := v(x, y, 59+0.5*math.Sin(x/3)).Sub(axis.Mul(5)).Add(v(0, 0, 5))
				s := Sweep{Origin: tip, Axis: axis, Ways: []r3.Vector{{X: 0.3, Z: 0.05 * math.Cos(x/3)}}, Off: 0.002}
				c.Cut(cutter, &s)
				n++
			}
		}
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
		if _, ok := m.Keeps(&neck, &s, 0.2); !ok {
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
