package shape

import (
	"errors"
	"fmt"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Layer is a slice of a stacked solid. Its walls run straight from Bottom to
// Top, contour by contour and corner by corner, so the two must have as many;
// with Top nil they are vertical.
type Layer struct {
	Height      float64 // mm, above zero
	Bottom, Top Region
}

// Stack builds one closed solid of layers on top of each other, from z upward.
// Where the material changes from one layer to the next a flat face appears: so
// a step in a bore, the floor of a pocket, the shoulder of a shaft. Contours
// that touch each other, within a layer or across a joint, must share their
// corners there: where a corner of one lies on an edge of the other, the edge
// needs a corner too, or the solid is open. Contours that cross are an error.
func Stack(z float64, layers ...Layer) (Surface, error) {
	if len(layers) == 0 {
		return nil, errors.New("a stack needs a layer")
	}
	var s Surface
	var below Region
	for i, l := range layers {
		bottom, top, err := l.oriented()
		if err == nil {
			err = s.face(z, below, bottom)
		}
		if err != nil {
			return nil, fmt.Errorf("layer %d at height %v: %w", i, z, err)
		}
		s.walls(bottom, top, z, z+l.Height)
		z += l.Height
		below = top
	}
	if err := s.face(z, below, nil); err != nil {
		return nil, fmt.Errorf("top at height %v: %w", z, err)
	}
	return s, nil
}

// Extrude builds the prism over the region between two heights.
func Extrude(region Region, z0, z1 float64) (Surface, error) {
	return Stack(min(z0, z1), Layer{Height: max(z0, z1) - min(z0, z1), Bottom: region})
}

// Chamfered builds the prism over the region between two heights with all edges
// of both ends chamfered at 45 degrees; holes through it widen at their ends.
func Chamfered(region Region, z0, z1, chamfer float64) (Surface, error) {
	body := region.oriented()
	narrow := body.Inset(chamfer)
	return Stack(z0,
		Layer{Height: chamfer, Bottom: narrow, Top: body},
		Layer{Height: z1 - z0 - 2*chamfer, Bottom: body},
		Layer{Height: chamfer, Bottom: body, Top: narrow})
}

// oriented checks the layer and returns its ends with the material on the left.
func (l *Layer) oriented() (bottom, top Region, err error) {
	if !(l.Height > 0) {
		return nil, nil, fmt.Errorf("height %v mm, want above zero", l.Height)
	}
	for _, c := range l.Bottom {
		if len(c) < 3 {
			return nil, nil, fmt.Errorf("contour of %d corners, want 3 or more", len(c))
		}
	}
	bottom = l.Bottom.oriented()
	if l.Top == nil {
		return bottom, bottom, nil
	}
	if len(l.Top) != len(l.Bottom) {
		return nil, nil, fmt.Errorf("%d contours below, %d above", len(l.Bottom), len(l.Top))
	}
	for i, c := range l.Bottom {
		if len(l.Top[i]) != len(c) {
			return nil, nil, fmt.Errorf("contour %d has %d corners below, %d above", i, len(c), len(l.Top[i]))
		}
	}
	return bottom, l.Top.oriented(), nil
}

func (s *Surface) face(z float64, below, above Region) error {
	up, down, err := flatFace(below, above)
	if err != nil {
		return err
	}
	for _, t := range up {
		*s = append(*s, Triangle{lift(t[0], z), lift(t[1], z), lift(t[2], z)})
	}
	for _, t := range down {
		*s = append(*s, Triangle{lift(t[0], z), lift(t[2], z), lift(t[1], z)})
	}
	return nil
}

func (s *Surface) walls(bottom, top Region, z0, z1 float64) {
	for i, c := range bottom {
		for k, p := range c {
			next := (k + 1) % len(c)
			s.quad(lift(p, z0), lift(c[next], z0), lift(top[i][next], z1), lift(top[i][k], z1))
		}
	}
}

func lift(p r2.Point, z float64) r3.Vector { return r3.Vector{X: p.X, Y: p.Y, Z: z} }
