package collide

import (
	"math"
	"math/rand/v2"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// cuboid returns the surface of a box, 12 facets.
func cuboid(lo, hi r3.Vector) *geom.Mesh {
	c := func(i int) geom.Vertex {
		pick := func(bit int, a, b float64) float64 {
			if i>>bit&1 == 0 {
				return a
			}
			return b
		}
		return geom.VertexOf(r3.Vector{X: pick(0, lo.X, hi.X), Y: pick(1, lo.Y, hi.Y), Z: pick(2, lo.Z, hi.Z)})
	}
	m := &geom.Mesh{}
	for _, q := range [6][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Facets = append(m.Facets,
			geom.Facet{c(q[0]), c(q[1]), c(q[2])},
			geom.Facet{c(q[0]), c(q[2]), c(q[3])})
	}
	return m
}

// centered returns a box about the origin.
func centered(x, y, z float64) *geom.Mesh {
	h := r3.Vector{X: x / 2, Y: y / 2, Z: z / 2}
	return cuboid(h.Mul(-1), h)
}

// joined returns one mesh of several.
func joined(meshes ...*geom.Mesh) *geom.Mesh {
	all := &geom.Mesh{}
	for _, m := range meshes {
		all.Facets = append(all.Facets, m.Facets...)
	}
	return all
}

// moved returns the mesh at another place.
func moved(m *geom.Mesh, pose geom.Pose) *geom.Mesh {
	out := &geom.Mesh{Facets: make([]geom.Facet, len(m.Facets))}
	for i, f := range m.Facets {
		for k := range f {
			out.Facets[i][k] = geom.VertexOf(pose.Point(f[k].Vector()))
		}
	}
	return out
}

// lattice returns the closed surface of an n x m torus-like or ball-like grid.
func lattice(n, m int, wrap bool, at func(u, v float64) r3.Vector) *geom.Mesh {
	mesh := &geom.Mesh{}
	p := func(i, j int) geom.Vertex {
		if wrap {
			i, j = i%n, j%m
		} else {
			i %= n
		}
		return geom.VertexOf(at(float64(i)/float64(n), float64(j)/float64(m)))
	}
	for i := range n {
		for j := range m {
			a, b, c, d := p(i, j), p(i+1, j), p(i+1, j+1), p(i, j+1)
			if wrap || j > 0 {
				mesh.Facets = append(mesh.Facets, geom.Facet{a, b, c})
			}
			if wrap || j < m-1 {
				mesh.Facets = append(mesh.Facets, geom.Facet{a, c, d})
			}
		}
	}
	return mesh
}

// bumpy returns a closed ball with bumps, of some 2 n^2 facets.
func bumpy(n int, radius, bump float64, seed float64) *geom.Mesh {
	return lattice(n, n, false, func(u, v float64) r3.Vector {
		su, cu := math.Sincos(2 * math.Pi * u)
		sv, cv := math.Sincos(math.Pi * v)
		r := radius + bump*sv*math.Sin(5*2*math.Pi*u+seed)*math.Sin(4*math.Pi*v+seed)
		return r3.Vector{X: r * sv * cu, Y: r * sv * su, Z: -r * cv}
	})
}

func randomUnit(r *rand.Rand) r3.Vector {
	for {
		v := r3.Vector{X: 2*r.Float64() - 1, Y: 2*r.Float64() - 1, Z: 2*r.Float64() - 1}
		if n := v.Norm(); n > 0.1 && n <= 1 {
			return v.Mul(1 / n)
		}
	}
}

// randomPose returns a turned pose some distance away; now and then a square one.
func randomPose(r *rand.Rand, far float64) geom.Pose {
	axis, angle := randomUnit(r), r.Float64()*2*math.Pi
	if r.IntN(4) == 0 {
		axis, angle = r3.Vector{Z: 1}, math.Pi/2*float64(r.IntN(4))
	}
	pose := geom.Turn(r3.Vector{}, axis, angle)
	pose.T = randomUnit(r).Mul(far * r.Float64())
	return pose
}
