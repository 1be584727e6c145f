package collide

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Contains reports whether the point lies inside the solid whose surface the
// tree holds: whether the surface winds round it. Shells that overlap count as
// one solid, a shell turned inwards within another as a cavity. The surface
// must be closed; on the surface itself either answer may come.
//
// A ray is followed outward and its crossings counted with their sense. Where
// the ray passes too near an edge to be sure, another direction is taken, and if
// none serves the solid angle of all facets decides (van Oosterom, Strackee,
// IEEE Trans. Biomed. Eng. 30(2), 1983).
func (t *Tree) Contains(p r3.Vector) bool {
	if len(t.nodes) == 0 {
		return false
	}
	for _, d := range rays {
		if winding, sure := t.crossings(p, d); sure {
			return winding != 0
		}
	}
	return math.Abs(t.solidAngle(p)) > 2*math.Pi
}

// rays are directions parallel to nothing that is usual in a solid.
var rays = func() (d [8]r3.Vector) {
	for i := range d {
		// Points of a Fibonacci lattice on the sphere.
		z := 1 - (2*float64(i)+1)/float64(len(d))
		sin, cos := math.Sincos(float64(i)*math.Pi*(3-math.Sqrt(5)) + 0.317)
		r := math.Sqrt(1 - z*z)
		d[i] = r3.Vector{X: r * cos, Y: r * sin, Z: z}
	}
	return d
}()

// crossings sums the senses in which the ray from p along d crosses facets:
// +1 outward, -1 inward. It is not sure where a facet is grazed.
func (t *Tree) crossings(p, d r3.Vector) (winding int, sure bool) {
	stack := make([]int32, 1, 64)
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		n := &t.nodes[i]
		var b box
		n.load(&b)
		if !b.meetsRay(p, d) {
			continue
		}
		if !n.leaf() {
			stack = append(stack, i+1, n.next)
			continue
		}
		for f := n.next; f < n.next+n.count; f++ {
			sense, ok := crosses(&t.facets[f], p, d)
			if !ok {
				return 0, false
			}
			winding += sense
		}
	}
	return winding, true
}

// meetsRay reports whether the ray may meet the box: the slab test in the
// box's own axes, widened a little.
func (b *box) meetsRay(p, d r3.Vector) bool {
	lo, hi := 0.0, math.Inf(1)
	v := p.Sub(b.center)
	for k := range b.axis {
		s, e := v.Dot(b.axis[k]), d.Dot(b.axis[k])
		h := b.half[k]*(1+1e-6) + 1e-9*(1+b.radius+math.Abs(s))
		if e == 0 {
			if math.Abs(s) > h {
				return false
			}
			continue
		}
		near, far := (-h-s)/e, (h-s)/e
		lo, hi = max(lo, min(near, far)), min(hi, max(near, far))
	}
	return lo <= hi
}

// crosses returns the sense in which the ray from p along d crosses the facet,
// 0 if it does not. ok is false where it comes too near the facet's edge, or p
// too near its plane, to be sure.
func crosses(f *geom.Facet, p, d r3.Vector) (sense int, ok bool) {
	a, b, c := f[0].Vector().Sub(p), f[1].Vector().Sub(p), f[2].Vector().Sub(p)
	// Scalar triple products: on which side of each edge the ray passes.
	u, v, w := d.Dot(c.Cross(b)), d.Dot(a.Cross(c)), d.Dot(b.Cross(a))
	largest := max(a.Dot(a), b.Dot(b), c.Dot(c))
	doubt := 1e-12 * largest
	inside := u > doubt && v > doubt && w > doubt || u < -doubt && v < -doubt && w < -doubt
	outside := (u < -doubt || v < -doubt || w < -doubt) && (u > doubt || v > doubt || w > doubt)
	if outside {
		return 0, true
	}
	if !inside {
		// Behind p nothing matters, however thin.
		if a.Dot(d) < 0 && b.Dot(d) < 0 && c.Dot(d) < 0 {
			return 0, true
		}
		return 0, false
	}
	n := b.Sub(a).Cross(c.Sub(a))
	height, slope := a.Dot(n), d.Dot(n)
	if math.Abs(height) <= 1e-12*math.Sqrt(largest*n.Dot(n)) {
		return 0, false
	}
	switch {
	case (height > 0) != (slope > 0):
		return 0, true // behind
	case slope > 0:
		return 1, true
	default:
		return -1, true
	}
}

// solidAngle returns the solid angle under which the surface is seen from p:
// 4 pi times its winding number.
func (t *Tree) solidAngle(p r3.Vector) float64 {
	sum := 0.0
	for i := range t.facets {
		f := &t.facets[i]
		a, b, c := f[0].Vector().Sub(p), f[1].Vector().Sub(p), f[2].Vector().Sub(p)
		la, lb, lc := a.Norm(), b.Norm(), c.Norm()
		sum += 2 * math.Atan2(a.Dot(b.Cross(c)),
			la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb)
	}
	return sum
}
