package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// On small whole numbers the determinants are exact, and many rays graze: where
// the ray is sure, it is right, and it is sure whenever nothing is zero.
func TestRayCrossingAgainstIntegers(t *testing.T) {
	point := rapid.Custom(func(t *rapid.T) [3]int {
		x := rapid.IntRange(-4, 4)
		return [3]int{x.Draw(t, "x"), x.Draw(t, "y"), x.Draw(t, "z")}
	})
	vector := func(p [3]int) r3.Vector {
		return r3.Vector{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])}
	}
	sign := func(x int) int { return min(max(x, -1), 1) }
	rapid.Check(t, func(t *rapid.T) {
		o := point.Draw(t, "o")
		var p, d [3][3]int
		for i := range p {
			p[i] = point.Draw(t, "p")
			d[i] = [3]int{p[i][0] - o[0], p[i][1] - o[1], p[i][2] - o[2]}
		}
		side := func(a, b [3]int) int { return sign(a[1]*b[2] - a[2]*b[1]) }
		a, b, c := side(d[0], d[1]), side(d[1], d[2]), side(d[2], d[0])
		det := sign(d[0][0]*(d[1][1]*d[2][2]-d[1][2]*d[2][1]) +
			d[0][1]*(d[1][2]*d[2][0]-d[1][0]*d[2][2]) +
			d[0][2]*(d[1][0]*d[2][1]-d[1][1]*d[2][0]))
		want := 0
		if a == b && b == c && a == det {
			want = a
		}
		got, sure := rayCrossing(vector(o), vector(p[0]), vector(p[1]), vector(p[2]))
		if sure && got != want {
			t.Fatalf("crossing %d, want %d (sides %d %d %d, det %d)", got, want, a, b, c, det)
		}
		if !sure && a*b*c*det != 0 {
			t.Fatalf("not sure of sides %d %d %d, det %d", a, b, c, det)
		}
	})
}

// A void of any shape: in a torus, a thinner torus turned inside out, as seen
// from anywhere; beside it, or in its hole, the same is inside out.
func TestCavityInTorus(t *testing.T) {
	outer, inner := torus(40, 10, 48, 24), torus(40, 3, 30, 11)
	rapid.Check(t, func(t *rapid.T) {
		turn := Turn(r3.Vector{}, drawVector(t, "axis", 1).Add(r3.Vector{Z: 2}).Normalize(), rapid.Float64Range(-3, 3).Draw(t, "angle"))
		place := rapid.IntRange(0, 2).Draw(t, "place")
		shift := Shift([]r3.Vector{{}, {Z: 14}, {X: 100}}[place])
		pose := func(p Pose, facets []Facet) []Facet {
			out := make([]Facet, len(facets))
			for i, f := range facets {
				for k := range f {
					out[i][k] = VertexOf(p.Point(f[k].Vector()))
				}
			}
			return out
		}
		a := AuditOf(join(pose(turn, outer.Facets), flipped(pose(turn.Mul(shift), inner.Facets))))
		if cavity := place == 0; !a.Closed || (a.Cavities == 1) != cavity || a.InsideOut == cavity {
			t.Fatalf("place %d: closed %v, %d cavities, inside out %v", place, a.Closed, a.Cavities, a.InsideOut)
		}
		// 2 pi^2 R a^2, less what the chords cut off.
		volume := 2 * math.Pi * math.Pi * 40 * (100 - 9)
		if place == 0 && math.Abs(a.Volume-volume) > 0.02*volume {
			t.Fatalf("volume %g, want %g", a.Volume, volume)
		}
	})
}
