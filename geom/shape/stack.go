package shape

import (
	"errors"
	"fmt"
	"slices"

	"gridswing/geom"

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
	var walls []wall
	for i, l := range layers {
		bottom, top, err := l.oriented()
		var rim map[r2.Point]bool
		if err == nil {
			rim, err = s.face(z, below, bottom)
		}
		if err != nil {
			return nil, fmt.Errorf("layer %d at height %v: %w", i, z, err)
		}
		walls = s.raise(walls, rim, bottom, top, z, z+l.Height)
		z += l.Height
		below = top
	}
	for _, w := range walls {
		s.wall(w)
	}
	if _, err := s.face(z, below, nil); err != nil {
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

// face adds the flat face between two regions and returns its corners.
func (s *Surface) face(z float64, below, above Region) (map[r2.Point]bool, error) {
	up, down, err := flatFace(below, above)
	if err != nil {
		return nil, err
	}
	rim := make(map[r2.Point]bool)
	for _, t := range up {
		*s = append(*s, geom.Triangle{lift(t[0], z), lift(t[1], z), lift(t[2], z)})
		rim[t[0]], rim[t[1]], rim[t[2]] = true, true, true
	}
	for _, t := range down {
		*s = append(*s, geom.Triangle{lift(t[0], z), lift(t[2], z), lift(t[1], z)})
		rim[t[0]], rim[t[1]], rim[t[2]] = true, true, true
	}
	return rim, nil
}

// wall is the side of one contour between two heights.
type wall struct {
	bottom, top Contour
	z0, z1      float64
}

// raise returns the walls of a layer. A vertical wall that goes on from the
// layer below as it is, and where no face meets it, becomes one with it; the
// others that stand so far are finished and added.
func (s *Surface) raise(standing []wall, rim map[r2.Point]bool, bottom, top Region, z0, z1 float64) []wall {
	walls := make([]wall, len(bottom))
	for i, c := range bottom {
		walls[i] = wall{c, top[i], z0, z1}
	}
	for _, w := range standing {
		on := -1
		for i, next := range walls {
			if sameWall(w, next) && !slices.ContainsFunc(w.top, func(p r2.Point) bool { return rim[p] }) {
				on = i
				break
			}
		}
		if on >= 0 {
			walls[on].z0 = w.z0
		} else {
			s.wall(w)
		}
	}
	return walls
}

// sameWall reports whether both walls are vertical and over the same contour.
func sameWall(w, next wall) bool {
	return w.z1 == next.z0 && w.top[0] == next.bottom[0] && slices.Equal(w.top, next.bottom) &&
		slices.Equal(w.bottom, w.top) && slices.Equal(next.bottom, next.top)
}

func (s *Surface) wall(w wall) {
	for k, p := range w.bottom {
		next := (k + 1) % len(w.bottom)
		s.quad(lift(p, w.z0), lift(w.bottom[next], w.z0), lift(w.top[next], w.z1), lift(w.top[k], w.z1))
	}
}

func lift(p r2.Point, z float64) r3.Vector { return r3.Vector{X: p.X, Y: p.Y, Z: z} }
