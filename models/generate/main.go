// Command generate builds the solids of the demo setup and writes them as
// binary STL. Run it from the top of the repository:
//
//	go run ./models/generate
//
// Every solid is built in the frame of the file that names it, in mm: those of
// the machine in the bed frame with all axes at zero, those of a component in
// the component's frame.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/geom/stl"

	"github.com/golang/geo/r2"
)

// chord is the largest distance of a facet from the true surface, in mm; the
// component and machine files state it with every solid that has round faces.
const chord = 0.02

// coarse is the same of the risers that the demo's setup does not stand on.
const coarse = 0.06

// round has the corners of polygons on the circle, as modellers export them.
var round = shape.Round{Chord: chord}

// solid is one file of the demo. No edge is longer than maxEdge, so that flat
// faces have as many facets as modellers give them.
type solid struct {
	file    string
	maxEdge float64
	build   func() (shape.Surface, error)
}

var solids = []solid{
	{"bed", 160, bed},
	{"column", 160, column},
	{"saddle", 120, saddle},
	{"table", 120, table},
	{"head", 120, head},
	{"spindle-nose", 60, spindleNose},
	{"guards", 200, guards},
	{"door", 150, door},
	{"grid-plate", 900, gridPlate},
	{"trunnion-base", 120, trunnionBase},
	{"trunnion-drive", 60, driveSupport},
	{"trunnion-bearing", 60, bearingSupport},
	{"trunnion-cradle", 40, cradle},
	{"trunnion-rotary", 40, rotaryHousing},
	{"trunnion-motor", 20, rotaryMotor},
	{"trunnion-faceplate", 60, faceplate},
	{"riser", 60, func() (shape.Surface, error) { return riser(50, 100, chord) }},
	{"riser-20", 120, func() (shape.Surface, error) { return riser(20, 50, coarse) }},
	{"riser-30", 120, func() (shape.Surface, error) { return riser(30, 50, coarse) }},
	{"riser-75", 120, func() (shape.Surface, error) { return riser(75, 50, coarse) }},
	{"riser-100", 120, func() (shape.Surface, error) { return riser(100, 50, coarse) }},
	{"vise-body", 30, viseBody},
	{"vise-fixed-jaw", 8, fixedJaw},
	{"vise-moving-jaw", 8, movingJaw},
	{"vise-nut", 20, viseNut},
	{"vise-screw", 40, viseScrew},
	{"vise-parallels", 30, parallels},
	{"stock", 10, stock},
	{"bracket", 15, bracket},
}

// mesh builds the solid as it is written.
func (s *solid) mesh() (*geom.Mesh, error) {
	surface, err := s.build()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.file, err)
	}
	return surface.Refined(s.maxEdge).Mesh(), nil
}

func main() {
	dir := flag.String("dir", "models/demo/solids", "folder to write the solids to")
	flag.Parse()
	if err := generate(*dir); err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(1)
	}
}

func generate(dir string) error {
	total := 0
	for i := range solids {
		s := &solids[i]
		m, err := s.mesh()
		if err != nil {
			return err
		}
		if err := stl.WriteFile(filepath.Join(dir, s.file+".stl"), m); err != nil {
			return err
		}
		fmt.Printf("%-20s %7d facets\n", s.file, len(m.Facets))
		total += len(m.Facets)
	}
	fmt.Printf("%-20s %7d facets\n", "together", total)
	return nil
}

// at is a point of a contour.
func at(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }

// hexagon is the outline of a socket of the width across flats.
func hexagon(center r2.Point, flats float64) shape.Contour {
	const corners = 6
	r := flats / 1.7320508075688772
	c := make(shape.Contour, 0, corners)
	for _, d := range [corners]r2.Point{{X: 1}, {X: 0.5, Y: 0.8660254037844386}, {X: -0.5, Y: 0.8660254037844386},
		{X: -1}, {X: -0.5, Y: -0.8660254037844386}, {X: 0.5, Y: -0.8660254037844386}} {
		c = append(c, center.Add(d.Mul(r)))
	}
	return c
}

// layer is a slice with vertical walls over a region.
func layer(height float64, region ...shape.Contour) shape.Layer {
	return shape.Layer{Height: height, Bottom: region}
}

// bevelled is a slice whose walls slope, as a chamfer does.
func bevelled(height float64, bottom, top shape.Region) shape.Layer {
	return shape.Layer{Height: height, Bottom: bottom, Top: top}
}
