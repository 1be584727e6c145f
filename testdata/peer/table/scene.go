//go:build linux

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"path/filepath"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/geom/stl"

	"github.com/golang/geo/r3"
)

// body is one of the generated solids, refined to about a number of facets.
type body struct {
	shape  string
	facets int
}

var shapes = map[string]func(int) *geom.Mesh{
	"plate": shape.GridPlate,
	"knot":  shape.TorusKnot,
	"vise":  shape.ViseBlocks,
	"ball":  shape.BumpyBall,
}

func (b body) String() string { return b.shape + " " + count(b.facets) }

// count writes a number of facets as 19k or 1.04M.
func count(n int) string {
	if n >= 1e6 {
		return fmt.Sprintf("%.3gM", float64(n)/1e6)
	}
	return fmt.Sprintf("%dk", n/1000)
}

// file returns the STL file of a body, written if it is not there yet.
func (t *table) file(b body) (string, error) {
	path := filepath.Join(t.dir, fmt.Sprintf("%s-%d.stl", b.shape, b.facets))
	if _, err := stl.ReadFile(path); !errors.Is(err, fs.ErrNotExist) {
		return path, err
	}
	return path, stl.WriteFile(path, shapes[b.shape](b.facets))
}

// mesh returns a body as its file holds it.
func (t *table) mesh(b body) (*geom.Mesh, error) {
	path, err := t.file(b)
	if err != nil {
		return nil, err
	}
	return stl.ReadFile(path)
}

// scene is a pair of bodies ready to be asked about.
type scene struct {
	a, b         *collide.Tree
	meshA, meshB *geom.Mesh
	fileA, fileB string
}

func (t *table) scene(a, b body) (*scene, error) {
	var s scene
	var err error
	for _, side := range []struct {
		body body
		file *string
		mesh **geom.Mesh
		tree **collide.Tree
	}{{a, &s.fileA, &s.meshA, &s.a}, {b, &s.fileB, &s.meshB, &s.b}} {
		if *side.file, err = t.file(side.body); err != nil {
			return nil, err
		}
		if *side.mesh, err = stl.ReadFile(*side.file); err != nil {
			return nil, err
		}
		*side.tree = collide.NewTree(*side.mesh)
	}
	return &s, nil
}

// plateTop is how high the plate reaches, in mm.
const plateTop = 30

// course says how a sequence of poses runs: b over the plate, tilted about X and
// turned about Z, its lowest point between gaps[0] and gaps[1] mm above the plate.
type course struct {
	random bool    // each pose drawn afresh; otherwise one follows from the other
	tilt   float64 // degrees either way
	gaps   [2]float64
}

func (c course) String() string {
	if c.random {
		return "random"
	}
	return "coherent"
}

// poses returns n poses of b along the course.
func (c course) poses(b *geom.Mesh, n int) []geom.Pose {
	rng := rand.New(rand.NewPCG(3, 9))
	poses := make([]geom.Pose, n)
	for i := range poses {
		s := float64(i) / float64(n)
		tilt, turn, gap := math.Sin(2*math.Pi*s), 2*s, (1-math.Cos(5*math.Pi*s))/2
		x, y := 60*math.Cos(4*math.Pi*s), 40*math.Sin(6*math.Pi*s)
		if c.random {
			tilt, turn, gap = 2*rng.Float64()-1, rng.Float64(), rng.Float64()
			x, y = 60*(2*rng.Float64()-1), 40*(2*rng.Float64()-1)
		}
		pose := geom.Turn(r3.Vector{}, r3.Vector{X: 1}, c.tilt*tilt*math.Pi/180).
			Mul(geom.Turn(r3.Vector{}, r3.Vector{Z: 1}, 2*math.Pi*turn))
		lift := plateTop + c.gaps[0] + (c.gaps[1]-c.gaps[0])*gap - lowest(b, &pose.R)
		poses[i] = geom.Shift(r3.Vector{X: x, Y: y, Z: lift}).Mul(pose)
	}
	return poses
}

// lowest returns the height of the lowest corner of the mesh, turned by r.
func lowest(m *geom.Mesh, r *geom.Rotation) float64 {
	z := math.Inf(1)
	for i := range m.Facets {
		for _, v := range &m.Facets[i] {
			z = min(z, r[2][0]*float64(v[0])+r[2][1]*float64(v[1])+r[2][2]*float64(v[2]))
		}
	}
	return z
}
