package render

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// section is a plane that a close-up can be cut by, square to an axis of the bed.
type section struct {
	name   string
	normal r3.Vector
	view   View // the one that looks most nearly straight at it
}

// sections are the planes in the order in which they are preferred where
// nothing else decides: the upright ones first.
func sections(f frame) []section {
	straight := []View{Front, Right, Top}
	list := []section{{name: "X", normal: r3.Vector{X: 1}}, {name: "Y", normal: r3.Vector{Y: 1}}, {name: "Z", normal: r3.Vector{Z: 1}}}
	for i := range list {
		most := 0.0
		for _, v := range straight {
			if _, _, toward := v.axes(f); math.Abs(toward.Dot(list[i].normal)) > most+1e-9 {
				most, list[i].view = math.Abs(toward.Dot(list[i].normal)), v
			}
		}
	}
	slices.SortStableFunc(list, func(a, b section) int {
		return cmp.Compare(slices.Index(straight, a.view), slices.Index(straight, b.view))
	})
	return list
}

const (
	noDirection = 1e-3 // mm; a shorter Across is what rounding left
	sameFacet   = 0.02 // mm; facets that are nearest to a point but for so much are all nearest
	inPlane     = 0.05 // mm; a face so near to the cut would lie in it
	facesPlane  = 0.99 // cosine; a face turned away from the cut so little would lie in it
)

// face is what a body with a verdict is like where it is nearest to the point.
type face struct {
	point   r3.Vector   // bed frame
	normals []r3.Vector // of the facets there, bed frame: one where it is flat
}

// faces returns those of the two bodies with a verdict that come nearest to the
// close-up's point; fewer if there are fewer.
func (p *Picture) faces() []face {
	var list []face
	for i := range p.Items {
		it := &p.Items[i]
		if it.Emphasis < Tight {
			continue
		}
		back := it.Pose.Inverse()
		f := face{}
		if f.point, f.normals = it.Shape.Nearest(back.Point(p.Close.Center), sameFacet); f.normals == nil {
			continue
		}
		f.point = it.Pose.Point(f.point)
		for k, n := range f.normals {
			f.normals[k] = it.Pose.Dir(n)
		}
		list = append(list, f)
	}
	slices.SortStableFunc(list, func(a, b face) int {
		return cmp.Compare(a.point.Sub(p.Close.Center).Norm2(), b.point.Sub(p.Close.Center).Norm2())
	})
	return list[:min(2, len(list))]
}

// across returns the direction in which bodies with these faces come together;
// zero if it cannot be told. Of an edge or corner on a flat face, that of the
// face; otherwise that of the two faces that look at each other most.
func across(faces []face) r3.Vector {
	switch len(faces) {
	case 0:
		return r3.Vector{}
	case 1:
		return faces[0].normals[0]
	}
	a, b := faces[0].normals, faces[1].normals
	if len(a) == 1 && len(b) > 1 {
		return a[0]
	}
	if len(b) == 1 && len(a) > 1 {
		return b[0]
	}
	best, least := r3.Vector{}, math.Inf(1)
	for _, m := range a {
		for _, n := range b {
			if d := m.Dot(n); d < least {
				best, least = m.Sub(n), d
			}
		}
	}
	if best.Norm() < 0.5 { // all look the same way
		return a[0]
	}
	return best.Normalize()
}

// chooseCut sets the plane of the close-up, and the view if none is stated:
// of the planes that face the viewer the one that contains Across best, so that
// it is square to the faces that meet; of equal ones, one in which no face lies.
func (p *Picture) chooseCut() {
	c := *p.Close
	if c.Facing != (r3.Vector{}) {
		c.section = section{normal: c.Facing.Normalize()}
		p.Close, p.View = &c, ""
		return
	}
	faces := p.faces()
	direction := c.Across
	if direction.Norm() < noDirection {
		direction = across(faces)
	}
	f := operator(p.Up)
	least := math.Inf(1)
	for _, s := range sections(f) {
		if p.View != "" {
			if _, _, toward := p.View.axes(f); math.Abs(s.normal.Dot(toward)) <= 0.1 {
				continue
			}
		}
		cost := math.Abs(s.normal.Dot(direction))
		shift := c.intoMaterial(s.normal, faces)
		if shift != 0 {
			cost += 0.05
		}
		if cost < least-1e-9 {
			least, c.section, c.shift = cost, s, shift
		}
	}
	if p.View == "" {
		p.View = c.section.view
	}
	p.Close = &c
}

// intoMaterial returns how far to move a cut through the point along its normal
// so that no face lies in it, in mm: a body that ends there would be seen
// either uncut or not at all.
func (c *CloseUp) intoMaterial(normal r3.Vector, faces []face) float64 {
	for _, f := range faces {
		if math.Abs(f.point.Sub(c.Center).Dot(normal)) > inPlane {
			continue
		}
		for _, n := range f.normals {
			if d := n.Dot(normal); math.Abs(d) > facesPlane {
				return -math.Copysign(min(0.02*c.Radius, 1), d)
			}
		}
	}
	return 0
}

// cut returns the cutting plane of a close-up, or of the whole, and what the caption says of it.
func (p *Picture) cut() (raster.Plane, string) {
	_, _, toward := p.axes()
	if p.Close == nil {
		return p.Plane.facing(toward, p.Lengths)
	}
	n, c := p.Close.section.normal, p.Close
	point := c.Center.Add(n.Mul(c.shift))
	if c.section.name == "" {
		return raster.Plane{Point: point, Normal: n}, fmt.Sprintf(
			"Close-up within %s %s, seen square to the cut.", p.Lengths.Short(c.Radius), p.Lengths.Name())
	}
	words := fmt.Sprintf("Close-up within %s %s of the point, cut at %s = %s %s; what stands before the cut is taken away.",
		p.Lengths.Short(c.Radius), p.Lengths.Name(), c.section.name, p.Lengths.Short(n.Dot(point)), p.Lengths.Name())
	if n.Dot(toward) < 0 {
		n = n.Mul(-1)
	}
	return raster.Plane{Point: point, Normal: n}, words
}

// Cut returns what the caption says of the cut; "" of a picture without one. It fails where
// Draw does.
func (p *Picture) Cut() (string, error) {
	q := *p
	if err := q.complete(); err != nil || q.Close == nil && q.Plane == nil {
		return "", err
	}
	_, words := q.cut()
	return words, nil
}
