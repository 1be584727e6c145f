package bores

import (
	"gridswing/geom"
)

// Found is what is round in a mesh.
type Found struct {
	Holes  []Hole // by their first facets
	Bosses []Boss
	// Arcs is how many cylindrical pieces do not go round by 350 degrees: fillets,
	// the ends of slots, what is left of a bore that another one crosses.
	Arcs int
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
			f.Arcs++
		}
	}
	return f
}
