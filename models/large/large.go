// Package large builds the demo's machine as machine models are delivered:
// millions of facets, screws and ribs as shells of their own that sink into the
// castings, and surfaces with facets missing. It is for benchmarks and tests of
// everything that has to cope with such models; nothing of it is checked in.
package large

import (
	"bytes"
	"fmt"
	"io/fs"
	"strings"
	"testing/fstest"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/geom/stl"
	"gridswing/models"

	"github.com/golang/geo/r3"
)

// machineFile is the one whose solids become large.
const machineFile = "machines/mill-3.toml"

// body says how one of the machine's solids is built up.
type body struct {
	file   string
	share  float64 // of all facets
	screws int
	ribbed bool // filled with ribs that cross each other
}

var bodies = []body{
	{"bed", 0.18, 240, true},
	{"column", 0.18, 300, true},
	{"saddle", 0.10, 120, false},
	{"table", 0.16, 0, false},
	{"head", 0.16, 160, true},
	{"guards", 0.16, 400, false},
	{"door", 0.06, 60, false},
}

// FS returns the demo's folder with a machine of about the given number of
// facets, from some 300,000 up. The setups in it are the demo's own; only the
// machine file differs, in that it states the open solids to be outside of each
// other. The same count gives the same bytes.
func FS(facets int) (fs.FS, error) {
	text, err := fs.ReadFile(models.Demo, machineFile)
	if err != nil {
		return nil, err
	}
	file := string(text)
	extra := fstest.MapFS{}
	for i := range bodies {
		b := &bodies[i]
		name := "solids/" + b.file + ".stl"
		line := fmt.Sprintf("file = \"../%s\"\n", name)
		if !strings.Contains(file, line) {
			return nil, fmt.Errorf("%s does not name %s", machineFile, name)
		}
		file = strings.Replace(file, line, line+"outside = true\n", 1)
		m, err := b.mesh(facets)
		if err != nil {
			return nil, err
		}
		var data bytes.Buffer
		data.Grow(84 + 50*len(m.Facets))
		if err := stl.Encode(&data, m); err != nil {
			return nil, err
		}
		extra[name] = &fstest.MapFile{Data: data.Bytes()}
	}
	extra[machineFile] = &fstest.MapFile{Data: []byte(file)}
	return models.Overlay(extra), nil
}

// Mesh returns the large model of one of the machine's solids, by the name of
// its file without ".stl", as a part of a machine of the given number of facets.
func Mesh(file string, facets int) (*geom.Mesh, error) {
	for i := range bodies {
		if bodies[i].file == file {
			return bodies[i].mesh(facets)
		}
	}
	return nil, fmt.Errorf("no large model of %q", file)
}

func (b *body) mesh(facets int) (*geom.Mesh, error) {
	plain, err := stl.ReadFS(models.Demo, "solids/"+b.file+".stl")
	if err != nil {
		return nil, err
	}
	want := int(b.share * float64(facets))
	s := shape.SurfaceOf(plain)
	dressed := b.dress(s, plain.Bounds())
	s = shape.Join(s.WithFacets(want-len(dressed)), dressed)
	return &geom.Mesh{Facets: torn(s.Mesh().Facets)}, nil
}

// dress returns the shells that builders leave in a model: ribs inside the
// casting and the screws that hold its covers.
func (b *body) dress(s shape.Surface, bounds geom.Box) shape.Surface {
	var more shape.Surface
	if b.ribbed {
		more = append(more, ribs(bounds)...)
	}
	coarse := s.WithFacets(20 * b.screws)
	round := shape.Round{Chord: 0.2} // nobody models a screw finely
	screw := shape.Join(shape.Cylinder(5, -25, 2, round), shape.Cylinder(8, -1, 5, round))
	for i := range b.screws {
		f := coarse[i*len(coarse)/b.screws]
		normal := f[1].Sub(f[0]).Cross(f[2].Sub(f[0])).Normalize()
		at := f[0].Add(f[1]).Add(f[2]).Mul(1.0 / 3)
		more = append(more, screw.Moved(upright(at, normal))...)
	}
	return more
}

// ribs returns plates of 30 mm that cross each other in the middle third of the box.
func ribs(bounds geom.Box) shape.Surface {
	c, size := bounds.Center(), bounds.Size()
	third := size.Mul(1.0 / 6)
	const half = 15.0
	var s shape.Surface
	for i := range 5 {
		shift := float64(i-2) / 3
		x, z := c.X+third.X*shift, c.Z+third.Z*shift
		s = append(s, shape.Box(r3.Vector{X: x - half, Y: c.Y - third.Y, Z: c.Z - third.Z},
			r3.Vector{X: x + half, Y: c.Y + third.Y, Z: c.Z + third.Z})...)
		s = append(s, shape.Box(r3.Vector{X: c.X - third.X, Y: c.Y - third.Y, Z: z - half},
			r3.Vector{X: c.X + third.X, Y: c.Y + third.Y, Z: z + half})...)
	}
	return s
}

// upright returns the pose that puts the Z axis along the normal at a point.
func upright(at, normal r3.Vector) geom.Pose {
	x := normal.Ortho()
	y := normal.Cross(x)
	return geom.Pose{R: geom.Rotation{{x.X, y.X, normal.X}, {x.Y, y.Y, normal.Y}, {x.Z, y.Z, normal.Z}}, T: at}
}

// torn leaves out one facet in some two thousand.
func torn(facets []geom.Facet) []geom.Facet {
	kept := facets[:0]
	for i, f := range facets {
		if i%1999 != 1000 {
			kept = append(kept, f)
		}
	}
	return kept
}
