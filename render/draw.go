package render

import (
	"context"
	"fmt"
	"image"
	"math"
	"slices"

	"gridswing/render/ink"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// minRadius is the least radius of a close-up, in mm: below it, facets are
// larger than what is looked at.
const minRadius = 0.5

// Draw draws the picture. It fails if there is nothing to see, if the view is
// not known, a number is not finite, the size is no size, or the context is done.
func (p *Picture) Draw(ctx context.Context) (*image.RGBA, error) {
	q := *p
	if err := q.complete(); err != nil {
		return nil, err
	}
	d, err := q.drawScene(ctx)
	if err != nil {
		return nil, err
	}
	d.blankMargins()
	d.ways()
	d.labels()
	d.header()
	d.triad()
	d.scaleBar()
	d.legend()
	return d.page.RGBA, nil
}

// drawScene lays out the page and draws the items.
func (p *Picture) drawScene(ctx context.Context) (*drawing, error) {
	d := &drawing{Picture: p, page: ink.NewCanvas(p.Width, p.Height, ink.Paper),
		unit: min(float64(p.Width)/DefaultWidth, float64(p.Height)/DefaultHeight)}
	scene := raster.Scene{Lines: ink.Text, Overlap: ink.Black, Workers: p.Workers, Bodies: p.bodies(d.unit)}
	d.bodies = scene.Bodies
	if p.Close != nil {
		plane, words := p.cut()
		scene.Cut = &plane
		p.Caption = append(append([]string(nil), p.Caption...), words)
	}
	d.layOut()
	camera, err := p.camera(d.view.Shrunk(50 * d.unit))
	if err != nil {
		return nil, err
	}
	scene.Camera, d.camera = camera, camera
	d.seen, err = scene.Draw(ctx, d.page.RGBA)
	return d, err
}

// complete fills in what is not stated and refuses what cannot be drawn.
func (p *Picture) complete() error {
	if p.Width == 0 && p.Height == 0 {
		p.Width, p.Height = DefaultWidth, DefaultHeight
	}
	if p.Width < 200 || p.Height < 200 || p.Width > 20000 || p.Height > 20000 {
		return fmt.Errorf("picture %q: a size of %d x %d pixels cannot be drawn: each must be 200 to 20000", p.Title, p.Width, p.Height)
	}
	if c := p.Close; c != nil && !(finite(c.Center) && finite(c.Across) && finite(c.Facing) && finite(c.Upright) && c.Radius >= minRadius && c.Radius < 1e6) {
		return fmt.Errorf("picture %q: a close-up of radius %g mm round %v cannot be drawn: the radius must be %g mm or more", p.Title, c.Radius, c.Center, minRadius)
	}
	if p.Up == (r3.Vector{}) {
		p.Up = r3.Vector{Z: 1}
	}
	if !finite(p.Up) || p.Up.Norm() < 1e-3 || p.Up.Norm() > 1e3 {
		return fmt.Errorf("picture %q: up is %v: it must be a direction", p.Title, p.Up)
	}
	p.Up = p.Up.Normalize()
	view, err := ParseView(string(p.View))
	if err != nil {
		return fmt.Errorf("picture %q: %w", p.Title, err)
	}
	for i := range p.Items {
		it := &p.Items[i]
		if it.Shape == nil {
			return fmt.Errorf("picture %q: item %q has no shape", p.Title, it.Name)
		}
		b := it.Shape.Bounds()
		if !b.Empty() && !finite(it.Pose.Point(b.Min)) || !finite(it.Pose.T) {
			return fmt.Errorf("picture %q: item %q does not stand at a finite place", p.Title, it.Name)
		}
	}
	for _, way := range p.Ways {
		if slices.ContainsFunc(way, func(q r3.Vector) bool { return !finite(q) }) {
			return fmt.Errorf("picture %q: a way is not at finite points: %v", p.Title, way)
		}
	}
	for _, m := range p.Marks {
		if !finite(m.Point) || !finite(m.Gap) {
			return fmt.Errorf("picture %q: mark %q is not at a finite point: %v", p.Title, m.Label, m.Point)
		}
	}
	if p.Close != nil {
		p.chooseCut() // and the view, if none is stated
	} else {
		p.View = view
	}
	return nil
}

func finite(v r3.Vector) bool {
	return !math.IsNaN(v.X+v.Y+v.Z) && !math.IsInf(v.X, 0) && !math.IsInf(v.Y, 0) && !math.IsInf(v.Z, 0)
}
