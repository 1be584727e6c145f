package bores

import (
	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Found is what is round in a mesh.
type Found struct {
	Holes  []Hole // by their first facets
	Bosses []Boss
	Arcs   []Arc
}

// Arc is a cylindrical piece that does not go round by 350 degrees: a fillet, the end
// of a slot, a bore with a keyway, what another bore leaves of one that it crosses.
type Arc struct {
	Middle   r3.Vector // on the axis, half way between the ends
	Axis     r3.Vector // unit, either way
	Diameter float64   // of the circle on which the corners of the facets lie, mm
	Length   float64   // along the axis, mm
	Coverage float64   // radians of the circle, 60 degrees or more
	Boss     bool      // the material is within
}

// Find looks for bores and bosses in a mesh, in mm. It takes time about linear in
// the facets, never fails, and finds the same for the same mesh. Inside and outside
// are told by the facets' sense; a mesh that is wholly inside out is turned first.
//
// A cylinder must turn by 50 degrees or less from side to side, so have 8 sides or
// more, and 1,800 at most (where sides turn by less than 0.2 degrees they are taken
// for one plane), and its corners must be within 1 per cent of its radius. In an open mesh
// it finds what is there. A length of a bent tube that is straight to that extent is a boss.
func Find(m *geom.Mesh) *Found {
	t := newFaceted(newSurface(m))
	patches := findPatches(t)
	f := &Found{Holes: holesOf(t, patches), Bosses: bossesOf(t, patches)}
	for _, p := range patches {
		if p.coverage < fullCircle {
			f.Arcs = append(f.Arcs, Arc{
				Middle: p.center.Add(p.axis.Mul((p.low + p.high) / 2)), Axis: p.axis,
				Diameter: 2 * p.radius, Length: p.high - p.low, Coverage: p.coverage, Boss: p.boss,
			})
		}
	}
	return f
}
