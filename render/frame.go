package render

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/render/ink"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// axes returns the camera's axes: right, up, and toward the viewer.
func (v View) axes() (right, up, toward r3.Vector) {
	x, y, z := r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}
	switch v {
	case Front:
		return x, z, y.Mul(-1)
	case Right:
		return y, z, x
	case Top:
		return x, y, z
	}
	toward = r3.Vector{X: 1, Y: -1, Z: 1}.Normalize()
	right = r3.Vector{X: 1, Y: 1}.Normalize()
	return right, toward.Cross(right), toward
}

// foreshortening is how long a mm along X, Y or Z looks in the view, where it
// is not seen end-on: 1, or sqrt(2/3) in the isometric view (ISO 5456-3).
func (v View) foreshortening() float64 {
	if v == Isometric {
		return math.Sqrt(2.0 / 3)
	}
	return 1
}

// camera frames the items that are no ghosts (all, if there are no others), or
// the close-up, in the given area.
func (p *Picture) camera(a ink.Area) (raster.Camera, error) {
	var c raster.Camera
	c.Right, c.Up, c.Toward = p.View.axes()
	c.X, c.Y = (a.X0+a.X1)/2, (a.Y0+a.Y1)/2
	if p.Close != nil {
		c.Center = p.Close.Center
		c.Scale = min(a.Width(), a.Height()) / (2 * p.Close.Radius)
		return c, nil
	}
	box := geom.EmptyBox() // along right, up, toward
	onlyGhosts := !slices.ContainsFunc(p.Items, func(it Item) bool { return it.Emphasis != Ghost })
	for i := range p.Items {
		it := &p.Items[i]
		if it.Emphasis == Ghost && !onlyGhosts {
			continue
		}
		view := geom.Pose{R: geom.Rotation{
			{c.Right.X, c.Right.Y, c.Right.Z}, {c.Up.X, c.Up.Y, c.Up.Z}, {c.Toward.X, c.Toward.Y, c.Toward.Z}}}.Mul(it.Pose)
		box = box.Union(it.Shape.BoundsIn(view))
	}
	if box.Empty() {
		return c, fmt.Errorf("picture %q shows nothing: it has no items with facets", p.Title)
	}
	size, mid := box.Size(), box.Center()
	c.Center = c.Right.Mul(mid.X).Add(c.Up.Mul(mid.Y)).Add(c.Toward.Mul(mid.Z))
	c.Scale = min(a.Width()/max(size.X, 1e-3), a.Height()/max(size.Y, 1e-3))
	return c, nil
}

// The planes a close-up can be cut by, in the order in which they are preferred
// where nothing else decides: the upright ones first.
var cuts = []struct {
	name   string
	normal r3.Vector
	view   View // straight at the cut
}{
	{"Y", r3.Vector{Y: 1}, Front},
	{"X", r3.Vector{X: 1}, Right},
	{"Z", r3.Vector{Z: 1}, Top},
}

// best returns the plane that contains Across best, of those that face the viewer.
func (c *CloseUp) best(facing func(normal r3.Vector) bool) int {
	best, least := 0, math.Inf(1)
	for i := range cuts {
		if off := math.Abs(cuts[i].normal.Dot(c.Across)); facing(cuts[i].normal) && off < least-1e-9 {
			best, least = i, off
		}
	}
	return best
}

// straight returns the view that looks straight at the best cut.
func (c *CloseUp) straight() View {
	return cuts[c.best(func(r3.Vector) bool { return true })].view
}

// cut returns the cutting plane of a close-up and what the caption says of it.
func (p *Picture) cut() (raster.Plane, string) {
	_, _, toward := p.View.axes()
	best := p.Close.best(func(n r3.Vector) bool { return math.Abs(n.Dot(toward)) > 0.1 })
	n, name := cuts[best].normal, cuts[best].name
	at := n.Dot(p.Close.Center)
	if n.Dot(toward) < 0 {
		n = n.Mul(-1)
	}
	words := fmt.Sprintf("Close-up within %s mm of the point, cut at %s = %s mm; what stands before the cut is taken away.",
		short(p.Close.Radius), name, short(at))
	return raster.Plane{Point: p.Close.Center, Normal: n}, words
}

// short prints mm to a tenth, without a needless zero behind the point.
func short(mm float64) string {
	tenths := math.Round(mm*10) / 10
	if tenths == 0 {
		return "0"
	}
	return fmt.Sprintf("%g", tenths)
}
