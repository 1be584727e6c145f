package shape

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// Hole is a round hole from the top of a plate downward.
type Hole struct {
	At     r2.Point
	Radius float64
	// Depth below the top; zero means through.
	Depth float64
	// A wider bore at the mouth: a counterbore for a screw head, a bushing.
	HeadRadius, HeadDepth float64
	// Chamfer of the mouth at 45 degrees, and of the exit of a through hole.
	Chamfer float64
}

// Pocket is a recess with a flat floor from the top of a plate downward.
type Pocket struct {
	Outline Contour
	Depth   float64 // zero means through: a window
}

// Plate is a flat solid from z = 0 to Thickness with holes and pockets that do
// not meet each other. It is built as one closed shell.
type Plate struct {
	Outline   Contour
	Thickness float64
	Chamfer   float64 // of the outline, above and below
	Holes     []Hole
	Pockets   []Pocket
	Round     Round
}

// sameLevel is the difference of depths, in mm, that rounding may make.
const sameLevel = 1e-9

// step is a point of a hole's profile.
type step struct{ radius, depth float64 }

// profile returns the hole as radii over depth, straight between them.
func (h *Hole) profile(thickness float64) []step {
	bottom := h.Depth
	if bottom == 0 {
		bottom = thickness
	}
	var p []step
	mouth := h.Radius
	if h.HeadDepth > 0 {
		mouth = h.HeadRadius
	}
	if h.Chamfer > 0 {
		p = append(p, step{mouth + h.Chamfer, 0})
	}
	p = append(p, step{mouth, h.Chamfer})
	if h.HeadDepth > 0 {
		p = append(p, step{mouth, h.HeadDepth}, step{h.Radius, h.HeadDepth})
	}
	if h.Depth == 0 && h.Chamfer > 0 {
		return append(p, step{h.Radius, bottom - h.Chamfer}, step{h.Radius + h.Chamfer, bottom})
	}
	return append(p, step{h.Radius, bottom})
}

// over returns the radius of a profile at both ends of a slice that holds no
// point of it inside; zero where the hole has ended.
func over(p []step, from, to float64) (r0, r1 float64) {
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if a.depth-sameLevel <= from && to <= b.depth+sameLevel {
			return between(a, b, from), between(a, b, to)
		}
	}
	return 0, 0
}

func between(a, b step, depth float64) float64 {
	if math.Abs(depth-a.depth) <= sameLevel {
		return a.radius
	}
	if math.Abs(depth-b.depth) <= sameLevel {
		return b.radius
	}
	return a.radius + (b.radius-a.radius)*((depth-a.depth)/(b.depth-a.depth))
}

// Surface builds the plate.
func (p *Plate) Surface() (Surface, error) {
	layers, err := p.Layers()
	if err != nil {
		return nil, err
	}
	return Stack(0, layers...)
}

// Layers returns the plate as layers from its underside up, for a stack that
// goes on below or above it.
func (p *Plate) Layers() ([]Layer, error) {
	if !(p.Thickness > 2*p.Chamfer) {
		return nil, fmt.Errorf("thickness %v mm, want above twice the chamfer of %v mm", p.Thickness, p.Chamfer)
	}
	outline := p.Outline
	if outline.area() < 0 {
		outline = outline.reversed()
	}
	rim := []step{{0, p.Thickness}} // the outline's inset over depth
	if p.Chamfer > 0 {
		rim = []step{{p.Chamfer, 0}, {0, p.Chamfer}, {0, p.Thickness - p.Chamfer}, {p.Chamfer, p.Thickness}}
	}
	profiles := make([][]step, len(p.Holes))
	for i := range p.Holes {
		profiles[i] = p.Holes[i].profile(p.Thickness)
	}
	levels := p.levels(rim, profiles)
	var layers []Layer
	for i := len(levels) - 1; i > 0; i-- { // from the bottom up
		top, bottom := levels[i-1], levels[i]
		l := Layer{Height: bottom - top}
		i0, i1 := over(rim, top, bottom)
		l.Top = append(l.Top, outline.inset(i0))
		l.Bottom = append(l.Bottom, outline.inset(i1))
		p.cut(&l, profiles, top, bottom)
		layers = append(layers, l)
	}
	return layers, nil
}

// levels returns the depths at which anything changes, in order.
func (p *Plate) levels(rim []step, profiles [][]step) []float64 {
	levels := []float64{0, p.Thickness}
	for _, profile := range append(profiles, rim) {
		for _, s := range profile {
			levels = append(levels, s.depth)
		}
	}
	for _, k := range p.Pockets {
		if k.Depth > 0 {
			levels = append(levels, k.Depth)
		}
	}
	slices.Sort(levels)
	return slices.CompactFunc(levels, func(a, b float64) bool { return math.Abs(b-a) <= sameLevel })
}

// cut adds the contours of holes and pockets to the layer between two depths.
func (p *Plate) cut(l *Layer, profiles [][]step, top, bottom float64) {
	for i, profile := range profiles {
		r0, r1 := over(profile, top, bottom)
		if r0 == 0 {
			continue
		}
		widest := 0.0
		for _, s := range profile {
			widest = max(widest, s.radius)
		}
		n := p.Round.Segments(widest)
		l.Top = append(l.Top, p.Round.CircleOf(p.Holes[i].At, r0, n))
		l.Bottom = append(l.Bottom, p.Round.CircleOf(p.Holes[i].At, r1, n))
	}
	for _, k := range p.Pockets {
		if k.Depth == 0 || bottom <= k.Depth {
			l.Top = append(l.Top, k.Outline)
			l.Bottom = append(l.Bottom, k.Outline)
		}
	}
}

// HoleGrid returns a copy of the hole at each place of a grid of columns x rows
// with the pitch, centred on the given point; keep, if not nil, chooses places.
func HoleGrid(h Hole, center r2.Point, columns, rows int, pitch float64, keep func(r2.Point) bool) []Hole {
	var holes []Hole
	for row := range rows {
		for column := range columns {
			h.At = r2.Point{
				X: center.X + (float64(column)-float64(columns-1)/2)*pitch,
				Y: center.Y + (float64(row)-float64(rows-1)/2)*pitch,
			}
			if keep == nil || keep(h.At) {
				holes = append(holes, h)
			}
		}
	}
	return holes
}

// BoltCircle returns count copies of the hole on a circle, the first in the
// direction +x; count is a multiple of 4 or 6, or rounding shows.
func BoltCircle(h Hole, center r2.Point, radius float64, count int) []Hole {
	holes := make([]Hole, count)
	for i := range holes {
		h.At = center.Add(direction(i, count).Mul(radius))
		holes[i] = h
	}
	return holes
}
