package shape

import (
	"fmt"
	"math"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r2"
)

func TestBodiesOfAnyFineness(t *testing.T) {
	knot := 2 * math.Pi * math.Pi * 36 // times the length over 2 pi: Pappus, as the tube does not bite itself
	hole := Round{Chord: 0.02}.Circle(r2.Point{}, 8).area()
	for _, body := range []struct {
		name   string
		build  func(int) *geom.Mesh
		shells int
		volume float64 // 0: see loose
		within float64 // relative, at 10,000 facets
		size   [3]float64
	}{
		{"grid plate", GridPlate, 1, 30 * (400*300 - 48*hole), 1e-6, [3]float64{400, 300, 30}},
		{"vise blocks", ViseBlocks, 7, 315*42.5*75*2 + 305*40*25 + 110*125*50 + 60*125*44 + 185*24*24 + 20*100*55, 1e-6, [3]float64{330, 125, 120}},
		{"torus knot", TorusKnot, 1, knot / (2 * math.Pi) * knotLength(), 0.05, [3]float64{120, 124.5, 40}},
		{"bumpy ball", BumpyBall, 1, 4.0 / 3 * math.Pi * 60 * 60 * 60, 0.01, [3]float64{127, 129.5, 120}},
	} {
		for _, want := range []int{10_000, 37_000, 90_000} {
			t.Run(fmt.Sprintf("%s/%d", body.name, want), func(t *testing.T) {
				m := body.build(want)
				a := geom.AuditOf(m)
				if !a.Closed || !a.Oriented || a.InsideOut || len(a.Shells) != body.shells {
					t.Errorf("%d shells, want %d; %v", len(a.Shells), body.shells, a.Faults())
				}
				if off := math.Abs(float64(a.Facets)/float64(want) - 1); off > 0.03 {
					t.Errorf("%d facets, want about %d", a.Facets, want)
				}
				if off := math.Abs(a.Volume/body.volume - 1); off > body.within {
					t.Errorf("volume %v, want %v: off by %.3g", a.Volume, body.volume, off)
				}
				size := a.Bounds.Size()
				for k, got := range []float64{size.X, size.Y, size.Z} {
					if math.Abs(got-body.size[k]) > 0.04*body.size[k] {
						t.Errorf("size %v, want about %v", size, body.size)
						break
					}
				}
			})
		}
	}
}

// knotLength integrates the speed of the centre line.
func knotLength() float64 {
	length := 0.0
	const n = 20000
	for i := range n {
		a, _, _ := torusKnot(45, 14, 2*math.Pi*float64(i)/n)
		b, _, _ := torusKnot(45, 14, 2*math.Pi*float64(i+1)/n)
		length += b.Sub(a).Norm()
	}
	return length
}

func TestBodiesAreTheSameEveryTime(t *testing.T) {
	a, b := ViseBlocks(30_000), ViseBlocks(30_000)
	if len(a.Facets) != len(b.Facets) {
		t.Fatalf("%d and %d facets", len(a.Facets), len(b.Facets))
	}
	for i := range a.Facets {
		if a.Facets[i] != b.Facets[i] {
			t.Fatalf("facet %d differs", i)
		}
	}
}

func TestRefinedKeepsItsPromise(t *testing.T) {
	s := Cylinder(40, 0, 100, fine)
	for _, limit := range []float64{60, 9, 2.5} {
		for _, f := range s.Refined(limit) {
			for k := range 3 {
				if l := f[k].Sub(f[(k+1)%3]).Norm(); l > limit*(1+1e-12) {
					t.Fatalf("edge of %v, want at most %v", l, limit)
				}
			}
		}
		sound(t, s.Refined(limit), 1, volumeOf(s))
	}
}

func BenchmarkBodies(b *testing.B) {
	for name, build := range map[string]func(int) *geom.Mesh{
		"plate": GridPlate, "vise": ViseBlocks, "knot": TorusKnot, "ball": BumpyBall,
	} {
		b.Run(name+"/1M", func(b *testing.B) {
			for b.Loop() {
				build(1_000_000)
			}
		})
	}
}
