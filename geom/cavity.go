package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// probe is a point on a shell whose outside is within. How often the other
// shells wind around it says whether it is inside their material.
type probe struct {
	at        r3.Vector
	shell     int32
	winding   int
	undecided bool // the ray grazes an edge, or begins on a facet
}

// probesPerShell points are asked of each shell, so that one that merely dips
// into another body is not taken for a void in it, and so that a ray that cannot
// be decided does not matter.
const probesPerShell = 8

// findCavities marks the shells that are cavities: of the probes that could be
// decided, which must be some, all lie inside the other closed and oriented shells.
func (a *Audit) findCavities(m *Mesh, shellOf []int32) {
	probes := a.probes(m, shellOf)
	if len(probes) == 0 {
		return
	}
	for f := range m.Facets {
		s := &a.Shells[shellOf[f]]
		if s.Closed && s.Oriented {
			crossFacet(m, f, shellOf[f], probes)
		}
	}
	outside := map[int32]bool{}
	for _, p := range probes {
		if !p.undecided {
			a.Shells[p.shell].Cavity = true
			outside[p.shell] = outside[p.shell] || p.winding < 1
		}
	}
	for s, out := range outside {
		if out {
			a.Shells[s].Cavity = false
		}
	}
}

// probes returns points on the facets of every shell with negative volume, spread
// evenly over its facets, in ascending order of Y; none if nothing could be around them.
func (a *Audit) probes(m *Mesh, shellOf []int32) []probe {
	if !slices.ContainsFunc(a.Shells, func(s Shell) bool { return s.Volume > 0 }) {
		return nil
	}
	// Not the centroid: neighbours in regular meshes line up with that.
	const u, v, w = 0.2718, 0.3142, 0.4140
	var probes []probe
	seen := make([]int, len(a.Shells))
	for f, s := range shellOf {
		shell := &a.Shells[s]
		if shell.Volume >= 0 {
			continue
		}
		if seen[s]%((shell.Facets+probesPerShell-1)/probesPerShell) == 0 {
			p, q, r := m.Triangle(f)
			probes = append(probes, probe{at: p.Mul(u).Add(q.Mul(v)).Add(r.Mul(w)), shell: s})
		}
		seen[s]++
	}
	slices.SortFunc(probes, func(p, q probe) int { return cmp.Compare(p.at.Y, q.at.Y) })
	return probes
}

// crossFacet adds the facet to the winding of each probe whose ray, along +X,
// goes through it. Only the probes within its extent in Y are looked at, so that
// all facets together cost little more than one search each.
func crossFacet(m *Mesh, facet int, shell int32, probes []probe) {
	p, q, r := m.Triangle(facet)
	lowY, highY := min(p.Y, q.Y, r.Y), max(p.Y, q.Y, r.Y)
	lowZ, highZ := min(p.Z, q.Z, r.Z), max(p.Z, q.Z, r.Z)
	highX := max(p.X, q.X, r.X)
	i, _ := slices.BinarySearchFunc(probes, lowY, func(b probe, y float64) int { return cmp.Compare(b.at.Y, y) })
	for ; i < len(probes) && probes[i].at.Y <= highY; i++ {
		b := &probes[i]
		if b.shell == shell || b.undecided || b.at.X > highX || b.at.Z < lowZ || b.at.Z > highZ {
			continue
		}
		crossing, sure := rayCrossing(b.at, p, q, r)
		b.winding += crossing
		b.undecided = !sure
	}
}

// rayCrossing returns +1 if the ray from o along +X leaves through the front of
// the triangle pqr, -1 if it enters, 0 if it misses. It is not sure where a sign
// is within rounding.
//
// The signs are those of the 2-D and 3-D orientation determinants, with the error
// bounds of Shewchuk, "Adaptive precision floating-point arithmetic and fast
// robust geometric predicates", Discrete Comput. Geom. 18, 1997.
func rayCrossing(o, p, q, r r3.Vector) (crossing int, sure bool) {
	p, q, r = p.Sub(o), q.Sub(o), r.Sub(o)
	a, sureA := sideYZ(p, q)
	b, sureB := sideYZ(q, r)
	c, sureC := sideYZ(r, p)
	if sureA && sureB && a != b || sureB && sureC && b != c || sureC && sureA && c != a {
		return 0, true
	}
	if !sureA || !sureB || !sureC {
		return 0, false
	}
	// det > 0: seen from o the triangle runs clockwise, o is behind it.
	det := p.Dot(q.Cross(r))
	size := math.Abs(p.X)*(math.Abs(q.Y*r.Z)+math.Abs(q.Z*r.Y)) +
		math.Abs(p.Y)*(math.Abs(q.Z*r.X)+math.Abs(q.X*r.Z)) +
		math.Abs(p.Z)*(math.Abs(q.X*r.Y)+math.Abs(q.Y*r.X))
	if math.Abs(det) <= 8*unitRoundoff*size {
		return 0, false
	}
	// The normal's X component has the sign of a; going out along +X it is
	// positive. The facet lies ahead if det has that sign too.
	if det > 0 == (a > 0) {
		return a, true
	}
	return 0, true
}

// unitRoundoff of float64.
const unitRoundoff = 1.0 / (1 << 53)

// sideYZ returns on which side of the line pq the origin lies, in the YZ plane:
// +1 if it is to the left, -1 to the right.
func sideYZ(p, q r3.Vector) (side int, sure bool) {
	s, t := p.Y*q.Z, p.Z*q.Y
	if math.Abs(s-t) <= 4*unitRoundoff*(math.Abs(s)+math.Abs(t)) {
		return 0, false
	}
	if s > t {
		return 1, true
	}
	return -1, true
}
