package shape

import (
	"math"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

func must(t testing.TB, s Surface, err error) Surface {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// sound fails the test unless the surface is closed, oriented, the right way
// out, made of the given number of shells, and of the volume (1e-6 relative:
// vertices are stored as float32).
func sound(t testing.TB, s Surface, shells int, volume float64) geom.Audit {
	t.Helper()
	a := geom.AuditOf(s.Mesh())
	if !a.Closed || !a.Oriented || a.InsideOut || a.Degenerate != 0 {
		t.Errorf("not sound: %v", a.Faults())
	}
	if len(a.Shells) != shells {
		t.Errorf("%d shells, want %d", len(a.Shells), shells)
	}
	if math.Abs(volumeOf(s)-volume) > 1e-11*volume {
		t.Errorf("volume %v mm3, want %v", volumeOf(s), volume)
	}
	if math.Abs(a.Volume-volume) > 1e-6*volume {
		t.Errorf("volume as stored %v mm3, want %v", a.Volume, volume)
	}
	return a
}

func volumeOf(s Surface) float64 { return geom.MassOfTriangles(s).Volume }

// ngonRatio is the area of the inscribed n-gon to that of its circle.
func ngonRatio(n int) float64 {
	return float64(n) / (2 * math.Pi) * math.Sin(2*math.Pi/float64(n))
}

var fine = Round{Chord: 0.02}

func TestBox(t *testing.T) {
	s := Box(r3.Vector{X: 3, Y: -2, Z: 1}, r3.Vector{X: 1, Y: 2, Z: 4})
	a := sound(t, s, 1, 24)
	if a.Area != 52 { // 2 x 3 x 4, as in node-stl 0.7.3, test/test_data/box_2x3x4.stl
		t.Errorf("area %v, want 52", a.Area)
	}
}

// Closed forms of any handbook, times the ratio of the polygon to the circle.
func TestRevolvedBodies(t *testing.T) {
	n := float64(fine.Segments(20))
	sound(t, Cylinder(20, 0, 50, fine), 1, math.Pi*400*50*ngonRatio(int(n)))
	n = float64(fine.Segments(30))
	sound(t, Cone(30, 10, 0, 40, fine), 1, 52000*math.Pi/3*ngonRatio(int(n)))
	sound(t, Cone(30, 0, 5, 45, fine), 1, math.Pi*900*40/3*ngonRatio(int(n)))
	sound(t, Cone(0, 30, 5, 45, fine), 1, math.Pi*900*40/3*ngonRatio(int(n)))
	sound(t, Tube(10, 30, -5, 5, fine), 1, math.Pi*800*10*ngonRatio(int(n)))
}

// A torus: both the profile and the turn are polygons, so both ratios apply
// (Pappus: area of the profile times the way of its centroid).
func TestTorus(t *testing.T) {
	s, err := Revolve(fine.Circle(r2.Point{X: 40}, 10), fine)
	ratio := ngonRatio(fine.Segments(10)) * ngonRatio(fine.Segments(50))
	a := sound(t, must(t, s, err), 1, 2*math.Pi*math.Pi*40*100*ratio)
	if euler := a.Vertices - a.Edges + a.Facets; euler != 0 {
		t.Errorf("Euler number %d, want 0 of a torus", euler)
	}
}

func TestBall(t *testing.T) {
	half := Contour{{X: 0, Y: -10}}.Arc(r2.Point{}, r2.Point{X: 0, Y: 10}, true, fine)
	s, err := Revolve(half, fine)
	got := volumeOf(must(t, s, err))
	// Inscribed both ways: below the ball, by no more than the chord error times its area, twice.
	want := 4188.790205
	if got >= want || got < want-2*0.02*4*math.Pi*100 {
		t.Errorf("volume %v, want just below %v", got, want)
	}
	sound(t, s, 1, got)
}

func TestRoundSides(t *testing.T) {
	for _, radius := range []float64{0.5, 5.1, 8, 45, 160, 1000} {
		for _, chord := range []float64{0.005, 0.02, 0.3} {
			for side, inOut := range map[Side][2]float64{Inscribed: {1, 0}, Circumscribed: {0, 1}, Astride: {1, 1}} {
				d := Round{Chord: chord, Side: side}
				c := d.Circle(r2.Point{}, radius)
				corner := c[0].Norm()
				middle := c[0].Add(c[1]).Mul(0.5).Norm()
				if middle < radius-inOut[0]*chord*1.000001-1e-12 || corner > radius+inOut[1]*chord*1.000001+1e-12 {
					t.Errorf("radius %v chord %v side %d: polygon from %v to %v", radius, chord, side, middle, corner)
				}
				if side == Astride && math.Abs((corner-radius)-(radius-middle)) > 1e-9*radius {
					t.Errorf("radius %v: not astride: %v and %v", radius, middle, corner)
				}
				// one step coarser would break the promise
				if n := len(c) - 4; n >= minSegments && (Round{Chord: chord, Side: side}).worst(radius, n) < chord {
					t.Errorf("radius %v chord %v side %d: %d edges would have done", radius, chord, side, n)
				}
			}
		}
	}
}

// worst is the chord error of the n-gon, by its definition.
func (d Round) worst(radius float64, n int) float64 {
	corner := d.corner(radius, n)
	return max(corner-radius, radius-corner*math.Cos(math.Pi/float64(n)))
}

func TestDirectionIsSymmetric(t *testing.T) {
	for _, n := range []int{12, 16, 20, 92, 100} {
		for i := range n {
			p, opposite, quarter := direction(i, n), direction(i+n/2, n), direction(i+n/4, n)
			if opposite != (r2.Point{X: -p.X, Y: -p.Y}) || quarter != (r2.Point{X: -p.Y, Y: p.X}) {
				t.Fatalf("direction %d of %d: %v, half a turn on %v, a quarter on %v", i, n, p, opposite, quarter)
			}
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			if math.Hypot(p.X-cos, p.Y-sin) > 1e-15 {
				t.Fatalf("direction %d of %d: %v, want %v %v", i, n, p, cos, sin)
			}
		}
	}
}

func TestAlongAxesKeepsHandedness(t *testing.T) {
	s := Cone(5, 3, 1, 11, fine)
	for _, turned := range []Surface{s.AlongX(), s.AlongY(), s.MirroredX(), s.Shifted(4, 5, 6)} {
		sound(t, turned, 1, volumeOf(s))
	}
	if b := s.AlongX().Mesh().Bounds(); b.Min.X != 1 || b.Max.X != 11 || b.Max.Y != 5 {
		t.Errorf("along X: %v", b)
	}
	if b := s.AlongY().Mesh().Bounds(); b.Min.Y != 1 || b.Max.Y != 11 || b.Max.Z != 5 {
		t.Errorf("along Y: %v", b)
	}
}
