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
	if err := q.size(); err != nil {
		return nil, err
	}
	page := ink.NewCanvas(q.Width, q.Height, q.Theme.Or(ink.Light).Paper)
	if err := p.DrawOn(ctx, page); err != nil {
		return nil, err
	}
	return page.RGBA, nil
}

// DrawOn draws the picture on all of a surface, whatever Width and Height say, and fails where
// Draw does. The bodies become an Image, as fine as the surface asks for; lettering and all else
// is drawn over it.
func (p *Picture) DrawOn(ctx context.Context, page ink.Surface) error {
	q := *p
	width, height := page.Size()
	q.Width, q.Height = int(width), int(height)
	if err := q.complete(); err != nil {
		return err
	}
	d, err := q.drawScene(ctx, page.Density())
	if err != nil {
		return err
	}
	d.page = page
	d.putScene()
	d.blankMargins()
	d.ways()
	d.labels()
	d.header()
	d.triad()
	d.scaleBar()
	d.drawLegend()
	d.drawSilent()
	return nil
}

// drawScene lays out the page and draws the items, with so many pixels to one of the page.
func (p *Picture) drawScene(ctx context.Context, density float64) (*drawing, error) {
	d := &drawing{Picture: p, unit: p.Lettering, density: density}
	if d.unit == 0 {
		d.unit = min(float64(p.Width)/DefaultWidth, float64(p.Height)/DefaultHeight)
	}
	pixels := func(length int) int { return int(math.Ceil(float64(length) * density)) }
	d.scene = ink.NewCanvas(pixels(p.Width), pixels(p.Height), p.Theme.Paper).RGBA
	scene := raster.Scene{Lines: ink.Text, Overlap: p.overlap(), Workers: p.Workers, Density: density, Bodies: p.bodies(d.unit * density)}
	d.bodies = scene.Bodies
	if p.Close != nil || p.Plane != nil {
		plane, words := p.cut()
		scene.Cut = &plane
		p.Caption = append(append([]string(nil), p.Caption...), words)
	}
	d.layOut()
	camera, err := p.camera(d.view.Shrunk(d.room()*d.unit), scene.Cut)
	if err != nil {
		return nil, err
	}
	d.camera = camera
	camera.X, camera.Y, camera.Scale = camera.X*density, camera.Y*density, camera.Scale*density
	scene.Camera = camera
	d.seen, err = scene.Draw(ctx, d.scene)
	return d, err
}

// room is how much is left free round what is seen, at full size.
func (p *Picture) room() float64 {
	if p.Bare {
		return 24
	}
	return 50
}

// putScene puts the bodies in their place on the page.
func (d *drawing) putScene() {
	r := d.scene.Rect
	r.Min.Y, r.Max.Y = int(d.view.Y0*d.density), min(int(math.Ceil(d.view.Y1*d.density)), r.Max.Y)
	d.page.Image(ink.Area{Y0: float64(r.Min.Y) / d.density, X1: float64(r.Max.X) / d.density, Y1: float64(r.Max.Y) / d.density},
		d.scene.SubImage(r).(*image.RGBA))
}

// pixel returns where in the scene a point of the page is.
func (d *drawing) pixel(x, y float64) (int, int) { return int(x * d.density), int(y * d.density) }

// size fills in the size if it is not stated.
func (p *Picture) size() error {
	if p.Width == 0 && p.Height == 0 {
		p.Width, p.Height = DefaultWidth, DefaultHeight
	}
	if p.Width < 200 || p.Height < 200 || p.Width > 20000 || p.Height > 20000 {
		return fmt.Errorf("picture %q: a size of %d x %d pixels cannot be drawn: each must be 200 to 20000", p.Title, p.Width, p.Height)
	}
	return nil
}

// complete fills in what is not stated and refuses what cannot be drawn.
func (p *Picture) complete() error {
	if err := p.size(); err != nil {
		return err
	}
	if !(p.Lettering >= 0 && p.Lettering <= 20) {
		return fmt.Errorf("picture %q: a unit of lettering of %g pixels: it must be 20 or less", p.Title, p.Lettering)
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
	p.Theme = p.Theme.Or(ink.Light)
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
	for _, way := range append([]Way{p.Within}, p.Ways...) {
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
	return p.checkPlane()
}

func finite(v r3.Vector) bool {
	return !math.IsNaN(v.X+v.Y+v.Z) && !math.IsInf(v.X, 0) && !math.IsInf(v.Y, 0) && !math.IsInf(v.Z, 0)
}
