package geom

import (
	"math"
	"math/big"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// relative returns how far got is from want, as a part of scale.
func relative(got, want, scale float64) float64 { return math.Abs(got-want) / scale }

// tetrahedron returns the surface of the tetrahedron abcd, outside without.
func tetrahedron(a, b, c, d r3.Vector) []Triangle {
	if b.Sub(a).Cross(c.Sub(a)).Dot(d.Sub(a)) < 0 {
		a, b = b, a
	}
	return []Triangle{{a, c, b}, {a, b, d}, {b, c, d}, {c, a, d}}
}

// F. Tonon, "Explicit exact formulas for the 3-D tetrahedron inertia tensor in
// terms of its vertex coordinates", J. Math. Stat. 1(1), 2005, worked example.
// Asserted to 1e-9 are the figures of the same tetrahedron in exact rational
// arithmetic; the paper's own are rounded and agree to 1e-7. The integral of xy is
// 11996.20139 and that of xz -46343.16738: the paper names them the other way
// round in its tensor.
func TestMassTonon(t *testing.T) {
	m := MassOfTriangles(tetrahedron(
		r3.Vector{X: 8.33220, Y: -11.86875, Z: 0.93355}, r3.Vector{X: 0.75523, Y: 5, Z: 16.37072},
		r3.Vector{X: 52.61236, Y: 5, Z: -5.38580}, r3.Vector{X: 2, Y: 5, Z: 3}))
	for _, c := range []struct {
		name              string
		got, exact, paper float64
	}{
		{"volume", m.Volume, 1873.2333642, 1873.2333642},
		{"Ixx", m.Inertia[0][0], 43520.33329, 43520.33257},
		{"Iyy", m.Inertia[1][1], 194711.29259, 194711.28938},
		{"Izz", m.Inertia[2][2], 191168.76489, 191168.76173},
		{"int yz", -m.Inertia[1][2], 4417.66157, 4417.66150},
		{"int xz", -m.Inertia[0][2], -46343.16738, -46343.16662},
		{"int xy", -m.Inertia[0][1], 11996.20139, 11996.20119},
	} {
		if relative(c.got, c.exact, math.Abs(c.exact)) > 1.2e-9 { // digits given
			t.Errorf("%s: got %.12g, exact %.12g", c.name, c.got, c.exact)
		}
		if relative(c.got, c.paper, math.Abs(c.paper)) > 1e-7 {
			t.Errorf("%s: got %.12g, published %.12g", c.name, c.got, c.paper)
		}
	}
	exact := r3.Vector{X: 15.9249475, Y: 0.7828125, Z: 3.7296175} // the mean of the corners
	paper := r3.Vector{X: 15.92492, Y: 0.78281, Z: 3.72962}
	if m.Centroid.Sub(exact).Norm() > 1e-13 || m.Centroid.Sub(paper).Norm() > 3e-5 {
		t.Errorf("centroid %v, exact %v, published %v", m.Centroid, exact, paper)
	}
}

// The right-corner tetrahedron of sides 5, 4, 3 along the axes: volume 10, first
// moments 12.5, 10, 7.5, second 25, 16, 9, products xy 10, yz 6, zx 7.5: closed
// forms V = abc/6, int x = Va/4, int x2 = Va2/10, int xy = Vab/20; the same figures come
// with the sample data of B. Mirtich, "Fast and accurate computation of polyhedral
// mass properties", J. Graphics Tools 1(2), 1996.
func TestMassRightCorner(t *testing.T) {
	m := MassOfTriangles(tetrahedron(r3.Vector{}, r3.Vector{X: 5}, r3.Vector{Y: 4}, r3.Vector{Z: 3}))
	about := m.WithDensity(1e9).About(r3.Vector{}) // density 1 per mm3
	want := [3][3]float64{{16 + 9, -10, -7.5}, {-10, 25 + 9, -6}, {-7.5, -6, 25 + 16}}
	for i := range 3 {
		for j := range 3 {
			if relative(about[i][j], want[i][j], 25) > 1e-14 {
				t.Errorf("I[%d][%d] = %.15g, want %g", i, j, about[i][j], want[i][j])
			}
		}
	}
	if first := m.Centroid.Mul(m.Volume).Sub(r3.Vector{X: 12.5, Y: 10, Z: 7.5}); relative(m.Volume, 10, 10) > 1e-14 || first.Norm() > 1e-13 {
		t.Errorf("volume %.15g, centroid %v", m.Volume, m.Centroid)
	}
}

// revolved returns the surface swept by a profile (radius, z), which begins and
// ends on the axis or is closed, in n steps.
func revolved(n int, closed bool, profile ...[2]float64) []Triangle {
	at := func(i int, p [2]float64) r3.Vector {
		s, c := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		return r3.Vector{X: p[0] * c, Y: p[0] * s, Z: p[1]}
	}
	if closed {
		profile = append(profile, profile[0])
	}
	var out []Triangle
	for k := 1; k < len(profile); k++ {
		low, high := profile[k-1], profile[k]
		for i := range n {
			a, b, c, d := at(i, low), at(i+1, low), at(i+1, high), at(i, high)
			if low[0] > 0 {
				out = append(out, Triangle{a, b, c})
			}
			if high[0] > 0 {
				out = append(out, Triangle{a, c, d})
			}
		}
	}
	return out
}

// arc returns points of a circle about (r, z).
func arc(n int, r, z, radius, from, to float64) (points [][2]float64) {
	for i := range n + 1 {
		s, c := math.Sincos(from + (to-from)*float64(i)/float64(n))
		points = append(points, [2]float64{math.Max(r+radius*c, 0), z + radius*s})
	}
	return points
}

// Closed forms of any handbook. The meshes are inscribed with 600 steps a turn or
// more, both ways round: an inscribed polygon falls short by (2 pi / n)^2 / 6, 2e-5, of
// its circle, and a volume or moment by a few times that.
func TestMassClosedForms(t *testing.T) {
	capArc := arc(300, 0, 0, 25, math.Asin(15./25), math.Pi/2)
	capArc[len(capArc)-1][0] = 0
	ball := arc(300, 0, 0, 10, -math.Pi/2, math.Pi/2)
	ball[0][0], ball[300][0] = 0, 0
	ring := arc(600, 40, 0, 10, 0, 2*math.Pi)
	for _, c := range []struct {
		name             string
		surface          []Triangle
		volume, centroid float64
		ix, iz           float64 // 0: not known
	}{
		{"cylinder r 20, h 50", revolved(2000, false, [2]float64{0, 0}, [2]float64{20, 0}, [2]float64{20, 50}, [2]float64{0, 50}),
			62831.853072, 25, 19373154.697, 12566370.614},
		{"cone frustum R 30, r 10, h 40", revolved(2000, false, [2]float64{0, 0}, [2]float64{30, 0}, [2]float64{10, 40}, [2]float64{0, 40}),
			54454.272662, 180. / 13, 13247854.56, 15205308.443},
		{"torus R 40, a 10", revolved(600, true, ring[:600]...),
			78956.835209, 0, 68100270.368, 132252698.975},
		{"spherical cap r 25, h 10", revolved(600, false, append([][2]float64{{0, 15}}, capArc...)...),
			6806.784083, 18.461538, 0, 0},
		{"ball r 10", revolved(600, false, ball...),
			4188.790205, 0, 167551.608, 167551.608},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := MassOfTriangles(c.surface)
			if e := relative(m.Volume, c.volume, c.volume); e > 5e-5 || m.Volume > c.volume {
				t.Errorf("volume %.9g, want %.9g (inscribed, not more)", m.Volume, c.volume)
			}
			if off := m.Centroid.Sub(r3.Vector{Z: c.centroid}).Norm(); off > 1e-3 {
				t.Errorf("centroid %v, want %g up the axis", m.Centroid, c.centroid)
			}
			for k, want := range []float64{c.ix, c.ix, c.iz} {
				if want != 0 && relative(m.Inertia[k][k], want, want) > 1e-4 {
					t.Errorf("I[%d] = %.9g, want %.9g", k, m.Inertia[k][k], want)
				}
			}
		})
	}
}

// An inscribed n-gon prism holds (n / 2 pi) sin(2 pi / n) of its cylinder, exactly.
func TestMassPrism(t *testing.T) {
	for n, ratio := range map[int]float64{16: 0.97449536, 32: 0.99358685, 64: 0.99839439, 128: 0.99959845, 256: 0.99989960} {
		m := MassOfTriangles(revolved(n, false, [2]float64{0, 0}, [2]float64{20, 0}, [2]float64{20, 50}, [2]float64{0, 50}))
		if got := m.Volume / (math.Pi * 20 * 20 * 50); math.Abs(got-ratio) > 6e-9 {
			t.Errorf("n = %d: %.10g of the cylinder, want %g", n, got, ratio)
		}
		exact := float64(n) / (2 * math.Pi) * math.Sin(2*math.Pi/float64(n)) * math.Pi * 20 * 20 * 50
		if relative(m.Volume, exact, exact) > 1e-13 {
			t.Errorf("n = %d: volume %.16g, want %.16g", n, m.Volume, exact)
		}
	}
}

// Far from the origin the same solid has the same mass, to the rounding of its
// coordinates: 10 km off, where the moments about the origin are 1e10 times as large.
func TestMassFarFromOrigin(t *testing.T) {
	small := box(Vertex{0, 0, 0}, Vertex{16, 8, 4})
	far := box(Vertex{1 << 23, 1 << 23, -1 << 23}, Vertex{1<<23 + 16, 1<<23 + 8, -1<<23 + 4})
	want, got := MassOf(join(small)), MassOf(join(far))
	if got.Volume != 512 || got.Inertia != want.Inertia {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if c := (r3.Vector{X: 1<<23 + 8, Y: 1<<23 + 4, Z: -1<<23 + 2}); got.Centroid != c {
		t.Errorf("centroid %v, want %v", got.Centroid, c)
	}
}

// What is not solid has a mass that means nothing, but numbers it is.
func TestMassOfNoSolid(t *testing.T) {
	if got := MassOf(join()); got != (Mass{}) {
		t.Errorf("no facets: %+v", got)
	}
	flat := []Facet{{{0, 0, 5}, {1, 0, 5}, {0, 1, 5}}}
	if got := MassOf(join(flat)); got != (Mass{}) {
		t.Errorf("one facet: %+v", got)
	}
	if got := MassOf(join(flipped(box(Vertex{}, Vertex{1, 2, 3})))); got.Volume != -6 {
		t.Errorf("inside out: volume %g, want -6", got.Volume)
	}
}

func drawVector(t *rapid.T, name string, most float64) r3.Vector {
	x := rapid.Float64Range(-most, most)
	return r3.Vector{X: x.Draw(t, name+".x"), Y: x.Draw(t, name+".y"), Z: x.Draw(t, name+".z")}
}

// Volume and first moments of any tetrahedron beside exact rational arithmetic.
func TestMassAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p [4]r3.Vector
		for i := range p {
			p[i] = drawVector(t, string(rune('a'+i)), 1000)
		}
		m := MassOfTriangles(tetrahedron(p[0], p[1], p[2], p[3]))
		rat := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
		var d [3][3]*big.Rat
		for i := range 3 {
			v, o := array(p[i+1]), array(p[0])
			for k := range 3 {
				d[i][k] = new(big.Rat).Sub(rat(v[k]), rat(o[k]))
			}
		}
		det := new(big.Rat)
		for k := range 3 {
			minor := new(big.Rat).Mul(d[1][(k+1)%3], d[2][(k+2)%3])
			minor.Sub(minor, new(big.Rat).Mul(d[1][(k+2)%3], d[2][(k+1)%3]))
			det.Add(det, minor.Mul(minor, d[0][k]))
		}
		volume, _ := det.Abs(det).Quo(det, rat(6)).Float64()
		if relative(m.Volume, volume, 8e9) > 1e-14 {
			t.Fatalf("volume %.17g, want %.17g", m.Volume, volume)
		}
		if volume > 1e5 {
			centre := p[0].Add(p[1]).Add(p[2]).Add(p[3]).Mul(0.25)
			if m.Centroid.Sub(centre).Norm() > 1e-7 {
				t.Fatalf("centroid %v, want %v", m.Centroid, centre)
			}
		}
	})
}
