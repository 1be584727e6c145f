package machine

import (
	"cmp"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// spacerFor returns the block as an assembly of two solids, the upper one on an axis.
func spacerFor(place string, old *assembly, from, to float64) (*assembly, error) {
	switch {
	case old.seat == nil:
		return nil, refuse(place, "", "a component without a seat", "one that stands on locators")
	case len(old.axes) > 0:
		return nil, refuse(place, "", "a component with axes of its own", "one that is rigid, such as a riser")
	}
	grids := old.topGrids()
	if len(grids) == 0 {
		return nil, refuse(place, "", "a component without a grid that faces as its seat does", "one that carries others, such as a riser")
	}
	plan := old.outline()
	a := *old
	a.spacer, a.mass, a.grips, a.slots, a.ratings, a.warnings, a.grids = true, 0, nil, nil, nil, nil, nil
	n, middle := old.seat.normal, from+(to-from)/2
	a.axes = []*axis{{
		id: heightAxis, free: true, kind: motion.Linear, reversed: true, direction: n,
		travel: span{-(to - from) / 2, (to - from) / 2}, carriedBy: -1,
	}}
	density := old.meanDensity()
	a.parts = nil
	for i, z := range [2][2]float64{{0, to}, {middle - to, middle}} {
		s, err := plan.block(z[0], z[1])
		if err != nil {
			return nil, refuse(place, "", err.Error(), "solids with an outline in plan")
		}
		p := *old.parts[0]
		p.name, p.at, p.opposite, p.carriedBy, p.solid, p.volume = [2]string{"below", "above"}[i], r3.Vector{}, false, i-1, s, s.Audit.Volume
		p.density, p.outside, p.chordError = density, false, s.ChordError
		p.mass = density * 1e-9 * s.Audit.Volume / 2 // kg/m3 and mm3
		a.parts = append(a.parts, &p)
	}
	st := *old.seat
	st.solids, st.stated = []int{0}, true
	a.seat = &st
	for _, g := range grids {
		up := *g
		up.solid = 1
		up.origin = g.origin.Add(n.Mul(middle - g.origin.Sub(st.pins[0]).Dot(n)))
		a.grids = append(a.grids, &up)
	}
	return &a, nil
}

// topGrids returns the grids in the uppermost plane that faces as the seat does.
func (a *assembly) topGrids() (top []*grid) {
	high := math.Inf(-1)
	for _, g := range a.grids {
		if g.normal().Dot(a.seat.normal) < 1-1e-9 {
			continue
		}
		switch h := g.origin.Sub(a.seat.pins[0]).Dot(a.seat.normal); {
		case h > high+1e-6:
			high, top = h, []*grid{g}
		case h >= high-1e-6:
			top = append(top, g)
		}
	}
	return top
}

// meanDensity is that of a component as a whole, in kg/m3; 0 if it is not known.
func (a *assembly) meanDensity() float64 {
	mass, volume := 0.0, 0.0
	for _, p := range a.parts {
		if p.solid == nil || p.solid.Audit.Volume <= 0 {
			return 0
		}
		volume += p.solid.Audit.Volume
		if p.mass == 0 {
			mass = math.NaN()
		}
		mass += p.mass
	}
	switch {
	case a.mass > 0:
		return a.mass / (volume * 1e-9)
	case math.IsNaN(mass):
		return 0
	}
	return mass / (volume * 1e-9)
}

// outline is a component in plan: the corners of a convex polygon, counter-clockwise, in a frame
// that stands on the seat with Z along its normal.
type outline struct {
	corners shape.Contour
	frame   geom.Pose
	chord   float64 // mm, by which the component may be wider
}

// outline returns the convex hull in plan of the component's solids.
func (a *assembly) outline() *outline {
	st := a.seat
	o := &outline{frame: geom.Pose{R: triad(st.pins[1].Sub(st.pins[0]), st.normal), T: st.pins[0]}}
	back := o.frame.Inverse()
	var points []r2.Point
	for _, p := range a.parts {
		if p.solid == nil {
			continue
		}
		o.chord = max(o.chord, p.solid.ChordError)
		for _, f := range p.solid.Mesh.Facets {
			for _, v := range f {
				q := back.Point(v.Vector().Add(p.at))
				points = append(points, r2.Point{X: q.X, Y: q.Y})
			}
		}
	}
	o.corners = hull(points)
	return o
}

// hull returns the convex hull of points, counter-clockwise, without corners that lie on a
// line (Andrew, "Another efficient algorithm for convex hulls in two dimensions", Information
// Processing Letters 9, 1979).
func hull(points []r2.Point) shape.Contour {
	slices.SortFunc(points, func(a, b r2.Point) int {
		if c := cmp.Compare(a.X, b.X); c != 0 {
			return c
		}
		return cmp.Compare(a.Y, b.Y)
	})
	points = slices.Compact(points)
	if len(points) < 3 {
		return points
	}
	half := func(points []r2.Point) (chain []r2.Point) {
		for _, p := range points {
			for n := len(chain); n >= 2 && chain[n-1].Sub(chain[n-2]).Cross(p.Sub(chain[n-2])) <= 0; n-- {
				chain = chain[:n-1]
			}
			chain = append(chain, p)
		}
		return chain[:len(chain)-1]
	}
	lower := half(points)
	slices.Reverse(points)
	return append(lower, half(points)...)
}

// block returns the prism on the outline from one height above the seat to another. What
// rounding to float32 moves is in its chord error.
func (o *outline) block(from, to float64) (*Solid, error) {
	s, err := shape.Extrude(shape.Region{o.corners}, from, to)
	if err != nil {
		return nil, err
	}
	mesh := s.Moved(o.frame).Mesh()
	audit := geom.AuditOf(mesh)
	far := 0.0
	for _, c := range audit.Bounds.Corners() {
		far = max(far, math.Abs(c.X), math.Abs(c.Y), math.Abs(c.Z))
	}
	return &Solid{Mesh: mesh, Audit: audit, ChordError: o.chord + far*float32Rounding}, nil
}

// float32Rounding is more than what rounding to float32 moves a point by, as a share of its largest
// coordinate: half a unit in the last of 24 places along each of three directions.
const float32Rounding = 2 * 0x1p-24
