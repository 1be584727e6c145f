package render

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/render/measure"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// edgeOn is the sine of the angle to the line of sight from which on a cut is seen as more
// than a line.
const edgeOn = 0.1

// checkPlane refuses a plane that cannot be seen or meets nothing. A close-up has its own.
func (p *Picture) checkPlane() error {
	if p.Close != nil {
		p.Plane = nil
	}
	c := p.Plane
	if c == nil {
		return nil
	}
	if n := c.Normal.Norm(); !finite(c.Normal) || n < 1e-3 || n > 1e3 || math.IsNaN(c.At) || math.Abs(c.At) > 1e6 {
		return fmt.Errorf("picture %q: a cut at %g mm along %v: it must be a direction and a place", p.Title, c.At, c.Normal)
	}
	_, _, toward := p.axes()
	n, mm := c.Normal.Normalize(), measure.Lengths{}
	if math.Abs(n.Dot(toward)) < edgeOn {
		return fmt.Errorf("picture %q: the cut at %s = %s mm is seen edge-on in the view %s: it must be another view, such as %s",
			p.Title, c.Name, mm.Short(c.At), p.View, p.viewOf(n))
	}
	low, high := p.reach(n)
	if c.At <= low || c.At >= high {
		return fmt.Errorf("picture %q: the cut at %s = %s mm meets nothing: it must be between %s and %s mm",
			p.Title, c.Name, mm.Short(c.At), mm.Short(low), mm.Short(high))
	}
	return nil
}

// viewOf returns the view that looks most nearly along a direction.
func (p *Picture) viewOf(n r3.Vector) View {
	return slices.MaxFunc([]View{Front, Right, Top}, func(a, b View) int {
		_, _, s := a.axes(operator(p.Up))
		_, _, t := b.axes(operator(p.Up))
		return cmp.Compare(math.Abs(s.Dot(n)), math.Abs(t.Dot(n)))
	})
}

// reach returns from where to where along a direction there is something to cut, mm.
func (p *Picture) reach(n r3.Vector) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	x := n.Ortho().Normalize()
	y := n.Cross(x)
	along := geom.Pose{R: geom.Rotation{{x.X, x.Y, x.Z}, {y.X, y.Y, y.Z}, {n.X, n.Y, n.Z}}}
	for i := range p.Items {
		it := &p.Items[i]
		if it.Emphasis.veil() || it.Whole || it.Shape.Bounds().Empty() {
			continue
		}
		b := it.Shape.BoundsIn(along.Mul(it.Pose))
		low, high = min(low, b.Min.Z), max(high, b.Max.Z)
	}
	return low, high
}

// facing returns the plane as seen from a side, and what the caption says of it.
func (c *Plane) facing(toward r3.Vector, l measure.Lengths) (raster.Plane, string) {
	n := c.Normal.Normalize()
	plane := raster.Plane{Point: n.Mul(c.At), Normal: n}
	if n.Dot(toward) < 0 {
		plane.Normal = n.Mul(-1)
	}
	return plane, fmt.Sprintf("Cut at %s = %s %s; what stands before the cut is taken away.", c.Name, l.Short(c.At), l.Name())
}
