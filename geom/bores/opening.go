package bores

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// Opening is where a hole opens: its mouth, or the far end of a through hole.
type Opening struct {
	Hole     int // in Found.Holes
	Far      bool
	At       r3.Vector // on the axis, in the plane of the face
	Axis     r3.Vector // unit, out of the hole
	Diameter float64   // of the step there, mm
}

// Openings returns the openings of all holes, mouths first.
func (f *Found) Openings() []Opening {
	var all []Opening
	for i := range f.Holes {
		h := &f.Holes[i]
		all = append(all, Opening{i, false, h.Mouth, h.Axis, h.First().Diameter})
	}
	for i := range f.Holes {
		h := &f.Holes[i]
		if h.Bottom == Through {
			all = append(all, Opening{i, true, h.Far(), h.Axis.Mul(-1), h.Last().Diameter})
		}
	}
	return all
}

// What openings of one pattern may differ by: float32 makes less.
const (
	sameDiameter = 0.005             // relative
	samePlane    = 0.02              // mm
	samePlace    = 0.02              // mm, from the place in the pattern
	sameAxis     = math.Pi / 180 / 5 // radians
)

// inOneFace gathers the openings of one diameter that lie in one face, the largest
// gathering first.
func inOneFace(all []Opening) [][]Opening {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b Opening) int { return cmp.Compare(a.Diameter, b.Diameter) })
	var groups [][]Opening
	for _, o := range all {
		at := -1
		for i := len(groups) - 1; i >= 0; i-- {
			g := &groups[i][0]
			if o.Diameter > g.Diameter*(1+sameDiameter) {
				break
			}
			if o.inFaceOf(g) {
				at = i
				break
			}
		}
		if at < 0 {
			groups = append(groups, []Opening{o})
		} else {
			groups[at] = append(groups[at], o)
		}
	}
	slices.SortStableFunc(groups, func(a, b []Opening) int {
		return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(farOnes(a), farOnes(b)),
			cmp.Compare(b[0].Diameter, a[0].Diameter))
	})
	return groups
}

func farOnes(group []Opening) int {
	n := 0
	for _, o := range group {
		if o.Far {
			n++
		}
	}
	return n
}

// inFaceOf reports whether both open in one plane, towards the same side.
func (o *Opening) inFaceOf(g *Opening) bool {
	return turn(o.Axis, g.Axis) <= sameAxis && math.Abs(o.At.Sub(g.At).Dot(g.Axis)) <= samePlane
}

// frame is a plane with axes along which patterns are measured.
type frame struct{ origin, u, v, normal r3.Vector }

// frameOf returns the plane of openings: their mean axis, and as u the direction in
// it that comes nearest to X, to Y where the face looks along X.
func frameOf(group []Opening) frame {
	var f frame
	for _, o := range group {
		f.normal = f.normal.Add(o.Axis)
		f.origin = f.origin.Add(o.At)
	}
	f.normal = f.normal.Normalize()
	f.origin = f.origin.Mul(1 / float64(len(group)))
	f.u = f.across(r3.Vector{X: 1})
	if math.Abs(f.normal.X) > 0.9 {
		f.u = f.across(r3.Vector{Y: 1})
	}
	f.v = f.normal.Cross(f.u)
	return f
}

// across returns the unit vector in the plane nearest to a direction.
func (f *frame) across(d r3.Vector) r3.Vector {
	return d.Sub(f.normal.Mul(d.Dot(f.normal))).Normalize()
}

// along reports whether a direction is square to a plane, either way.
func along(d r3.Vector, f frame) bool { return d.Cross(f.normal).Norm() <= sameAxis }
