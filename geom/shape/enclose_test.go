package shape

import (
	"math"
	"strings"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// winding returns how often the mesh goes round p: the sum of the solid angles
// of its facets over 4 pi (van Oosterom, Strackee, IEEE Trans. Biomed. Eng. 30(2),
// 1983). It is 1 inside of a simple solid.
func winding(m *geom.Mesh, p r3.Vector) float64 {
	sum := 0.0
	for i := range m.Facets {
		a, b, c := m.Triangle(i)
		a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
		la, lb, lc := a.Norm(), b.Norm(), c.Norm()
		sum += 2 * math.Atan2(a.Dot(b.Cross(c)), la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb)
	}
	return sum / (4 * math.Pi)
}

// turned returns a point of the outline's surface, at an angle.
func turned(p r2.Point, angle float64) r3.Vector {
	sin, cos := math.Sincos(angle)
	return r3.Vector{X: p.X * cos, Y: p.X * sin, Z: p.Y}
}

// outlines draws outlines with cones, steps, grooves, points on the axis, and edges
// of all sizes down to those that rounding swallows.
func outlines(t *rapid.T) Contour {
	size := rapid.SampledFrom([]float64{0.01, 1, 40, 3000}).Draw(t, "size")
	length := rapid.OneOf(rapid.Just(0.0), rapid.Just(1e-7), rapid.Float64Range(1e-9, 1))
	radius := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1e-9, 1), rapid.SampledFrom([]float64{0.5, 0.5000001, 1}))
	at := rapid.Float64Range(-3, 3).Draw(t, "lowest") * size
	var c Contour
	for range rapid.IntRange(2, 9).Draw(t, "points") {
		c = append(c, r2.Point{X: radius.Draw(t, "radius") * size, Y: at})
		at += length.Draw(t, "length") * size
	}
	return c
}

// Nothing of the true solid is outside: points of its surface, most of them where a
// side of the polygon touches the circle.
func TestEncloseHoldsTheTrueSolid(t *testing.T) {
	const sides = 24
	rapid.Check(t, func(t *rapid.T) {
		c := outlines(t)
		m, err := Enclose(c, sides)
		if err != nil {
			if c.climbs() == nil {
				t.Fatalf("%v: %v", c, err)
			}
			return
		}
		if a := geom.AuditOf(m); !a.Closed || !a.Oriented || a.InsideOut {
			t.Fatalf("%v: %v", c, a.Faults())
		}
		for i, q := range append(c[1:len(c):len(c)], r2.Point{Y: c[len(c)-1].Y}) {
			along := rapid.SampledFrom([]float64{0, 1e-6, 0.3, 0.5, 1}).Draw(t, "along")
			p := c[i].Add(q.Sub(c[i]).Mul(along))
			if c[i].X == 0 && q.X == 0 {
				continue // nothing turns
			}
			side := float64(rapid.IntRange(0, 2*sides-1).Draw(t, "half sides"))
			v := turned(p, side*math.Pi/sides)
			if w := winding(m, v); w < 0.99 {
				t.Fatalf("%v: %v on the true surface is outside: wound %v times", c, v, w)
			}
		}
	})
}

// And it is hardly larger: no corner is further out than the polygon's, and e.
func TestEncloseIsTight(t *testing.T) {
	const sides = 72
	rapid.Check(t, func(t *rapid.T) {
		c := outlines(t)
		m, err := Enclose(c, sides)
		if err != nil {
			return
		}
		size := 0.0
		for _, p := range c {
			size = max(size, p.Norm())
		}
		slack := 18 * outward * size // a pole goes on by up to 17e
		for i := range m.Facets {
			for _, v := range m.Facets[i] {
				p := r2.Point{X: math.Hypot(float64(v[0]), float64(v[1])) * math.Cos(math.Pi/sides), Y: float64(v[2])}
				if !c.near(p, slack) {
					t.Fatalf("%v: corner %v is not near the outline", c, p)
				}
			}
		}
	})
}

// near reports whether a point is within slack of the outline or its ends'
// discs.
func (c Contour) near(p r2.Point, slack float64) bool {
	line := c.betweenPoles()
	for i, b := range line[1:] {
		a := line[i]
		along := b.Sub(a)
		f := min(1, max(0, p.Sub(a).Dot(along)/along.Dot(along)))
		if p.Sub(a.Add(along.Mul(f))).Norm() <= slack {
			return true
		}
	}
	return false
}

// A cylinder and a cone of round numbers: a corner at r/cos(pi/n), the volume
// of the prism, n r^2 tan(pi/n) h (any handbook).
func TestEncloseCylinder(t *testing.T) {
	m, err := Enclose(Contour{{X: 10, Y: -50}, {X: 10, Y: 0}}, 72)
	if err != nil {
		t.Fatal(err)
	}
	a := geom.AuditOf(m)
	if len(m.Facets) != 72*4 || len(a.Shells) != 1 || a.Degenerate != 0 {
		t.Errorf("%d facets, %d shells, %v", len(m.Facets), len(a.Shells), a.Faults())
	}
	want := 72 * 100 * math.Tan(math.Pi/72) * 50
	if a.Volume < want || a.Volume > want*1.00002 {
		t.Errorf("volume %v, want %v and a hair", a.Volume, want)
	}
	if z := a.Bounds.Min.Z; z >= -50 || z < -50.0001 {
		t.Errorf("lowest point %v, want -50 or a hair below", z)
	}
	if x := a.Bounds.Max.X; x < 10/math.Cos(math.Pi/72) || x > 10.0097 {
		t.Errorf("corner at %v", x)
	}
	cone, err := Enclose(Contour{{Y: 0}, {X: 10, Y: 10}}, 72)
	if err != nil {
		t.Fatal(err)
	}
	if z := cone.Bounds().Min.Z; z > -1.9*outward*10 || z < -3*outward*15 {
		t.Errorf("point at %v, want 2e lower", z)
	}
}

func TestEncloseRefuses(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		outline Contour
		sides   int
		want    string
	}{
		{nil, 72, "encloses nothing"},
		{Contour{{X: 1}}, 72, "encloses nothing"},
		{Contour{{X: 1}, {X: 2}}, 72, "encloses nothing"},
		{Contour{{Y: 1}, {Y: 2}}, 72, "encloses nothing"},
		{Contour{{X: 1, Y: 1}, {X: 1}}, 72, "goes backwards"},
		{Contour{{X: -1}, {X: 1, Y: 1}}, 72, "beyond the axis"},
		{Contour{{X: 1}, {X: 1, Y: nan}}, 72, "not a number"},
		{Contour{{X: math.Inf(1)}, {X: 1, Y: 1}}, 72, "not a number"},
		{Contour{{X: 1e38}, {X: 1, Y: 1}}, 72, "cannot be stored"},
		{Contour{{X: 1e-40}, {X: 1e-40, Y: 1e-40}}, 72, "cannot be stored"},
		{Contour{{X: 1}, {X: 1, Y: 1}}, 2, "want 3 or more"},
	} {
		m, err := Enclose(c.outline, c.sides)
		if err == nil || !strings.Contains(err.Error(), c.want) || m != nil {
			t.Errorf("%v: error %v, want %q", c.outline, err, c.want)
		}
	}
}
