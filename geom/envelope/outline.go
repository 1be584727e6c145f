package envelope

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// disc is a round slice about the axis, mm along it and away from it.
type disc struct{ from, to, radius float64 }

// outline is what solids sweep in a full turn about an axis, filled to the axis: discs that
// stand on each other, from the lowest to the highest.
type outline []disc

const (
	slicesIn = 256  // in which an outline is taken
	alike    = 0.05 // mm; slices whose radii differ by no more are one
)

// outlineOf returns the outline of the loads about the joint of index c, along its axis from its
// point, all other parameters at p.
//
// A slice's radius is that of the farthest point of any facet in it. The distance from a line is a
// convex function, so over the part of a facet that is in a slice it is largest at a corner
// of that part, and every such corner is on an edge of the facet: edges are all that is looked at.
func outlineOf(loads []Load, c int, p motion.Params) (outline, error) {
	var edges []edge
	low, high := math.Inf(1), math.Inf(-1)
	for i := range loads {
		j := &loads[i].Chain.Joints[c]
		inner := part(&loads[i].Chain, c+1, len(loads[i].Chain.Joints), p).Mul(loads[i].Chain.Home)
		stand := standing(j.Point, j.Axis)
		toAxis := stand.Inverse().Mul(inner)
		for f := range loads[i].Mesh.Facets {
			a, b, d := loads[i].Mesh.Triangle(f)
			a, b, d = toAxis.Point(a), toAxis.Point(b), toAxis.Point(d)
			edges = append(edges, edge{a, b}, edge{b, d}, edge{d, a})
			low, high = min(low, a.Z, b.Z, d.Z), max(high, a.Z, b.Z, d.Z)
		}
	}
	if len(edges) == 0 {
		return nil, errors.New("what is carried has no facets")
	}
	if !(math.Abs(low) < 1e9 && math.Abs(high) < 1e9) {
		return nil, fmt.Errorf("what is carried reaches from %g to %g mm along the axis: it cannot be drawn", low, high)
	}
	step := max((high-low)/slicesIn, 1e-3)
	radii := make([]float64, slicesIn)
	for i := range edges {
		edges[i].into(radii, low, step)
	}
	return stacked(radii, low, step), nil
}

// edge is of a facet, in the axis' frame.
type edge struct{ a, b r3.Vector }

// into makes the slices that the edge passes as wide as it is in them.
func (e *edge) into(radii []float64, low, step float64) {
	a, b := e.a, e.b
	if a.Z > b.Z {
		a, b = b, a
	}
	// Rounding may put an end on either side of a border: both slices count.
	const little = 1e-9
	first := max(int((a.Z-low)/step-little), 0)
	last := min(int((b.Z-low)/step+little), len(radii)-1)
	along := b.Sub(a)
	at := func(z float64) float64 {
		t := 1.0
		if along.Z > 0 {
			t = max(0, min((z-a.Z)/along.Z, 1))
		}
		q := a.Add(along.Mul(t))
		return math.Hypot(q.X, q.Y)
	}
	for k := first; k <= last; k++ {
		r := max(at(low+float64(k)*step), at(low+float64(k+1)*step))
		if k == first {
			r = max(r, math.Hypot(a.X, a.Y))
		}
		radii[k] = max(radii[k], r*(1+1e-12))
	}
}

// stacked makes neighbouring slices that are nearly alike one disc, as wide as the widest.
func stacked(radii []float64, low, step float64) outline {
	var o outline
	narrowest := 0.0 // of the last disc's slices
	for k, r := range radii {
		z := low + float64(k)*step
		if n := len(o); n > 0 && max(o[n-1].radius, r)-min(narrowest, r) <= alike {
			o[n-1].to, o[n-1].radius = z+step, max(o[n-1].radius, r)
			narrowest = min(narrowest, r)
			continue
		}
		o = append(o, disc{z, z + step, r})
		narrowest = r
	}
	return o
}

func (o outline) low() float64  { return o[0].from }
func (o outline) high() float64 { return o[len(o)-1].to }

// reach is how far the outline's farthest point is from a point of the axis.
func (o outline) reach(z float64) float64 {
	most := 0.0
	for _, d := range o {
		most = max(most, math.Hypot(d.radius, max(math.Abs(d.from-z), math.Abs(d.to-z))))
	}
	return most
}

// grown returns an outline round every ball of the radius by about a point of the outline.
func (o outline) grown(by float64) outline {
	var ends []float64
	for _, d := range o {
		ends = append(ends, d.from-by, d.to+by)
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	var grown outline
	for i, to := range ends[1:] {
		g := disc{from: ends[i], to: to}
		for _, d := range o {
			if d.from-by < g.to && d.to+by > g.from {
				g.radius = max(g.radius, d.radius+by)
			}
		}
		grown = append(grown, g)
	}
	return grown
}

// distance returns how far a point, r from the axis and z along it, is from the outline, 0
// inside; or something beyond most, if it is farther than that.
func (o outline) distance(r, z, most float64) float64 {
	i, n := 0, len(o) // the first disc that ends no lower
	for i < n {
		if k := (i + n) / 2; o[k].to < z {
			i = k + 1
		} else {
			n = k
		}
	}
	best := most * most
	for k := i; k < len(o); k++ {
		away := max(0, o[k].from-z)
		if away*away >= best {
			break
		}
		out := max(0, r-o[k].radius)
		best = min(best, out*out+away*away)
	}
	for k := min(i, len(o)) - 1; k >= 0; k-- {
		away := max(0, z-o[k].to)
		if away*away >= best {
			break
		}
		out := max(0, r-o[k].radius)
		best = min(best, out*out+away*away)
	}
	return math.Sqrt(best)
}
