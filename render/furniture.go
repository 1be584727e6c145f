package render

import (
	"image"
	"math"
	"slices"

	"gridswing/render/ink"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// drawing is a picture being drawn.
type drawing struct {
	*Picture
	page    ink.Surface // nil until the scene is drawn
	scene   *image.RGBA // the bodies, as large as the page
	density float64     // pixels of the scene to one of the page
	unit    float64     // pixels; 1 at the default size
	view    ink.Area    // where the scene is
	foot    float64     // top of the footer
	low     float64     // where its upper part ends, which is all of it on a page that is wide enough
	keys    keyRows     // the legend
	camera  raster.Camera
	seen    *raster.Seen
	bodies  []raster.Body // as drawn
	silent  []string      // marks and bodies with a verdict that have no label
}

const margin = 48 // pixels at full size

func (d *drawing) title() ink.Type {
	return ink.Type{Size: 36 * d.unit, Bold: true, Color: d.Theme.Text}
}

func (d *drawing) text() ink.Type  { return ink.Type{Size: 21 * d.unit, Color: d.Theme.Text} }
func (d *drawing) small() ink.Type { return ink.Type{Size: 19 * d.unit, Color: d.Theme.Text} }

// layOut divides the page: title and caption, scene, footer.
func (d *drawing) layOut() {
	u := d.unit
	d.Caption = ink.Lines(d.Caption, int((0.45*float64(d.Height)-82*u)/(30*u)))
	top := 96*u + 30*u*float64(len(d.Caption))
	if d.Bare {
		top = 0
	}
	d.keys = d.placeKeys()
	d.low = float64(d.Height) - d.keys.below
	d.foot = d.low - 136*u
	d.view = ink.Area{Y0: top, X1: float64(d.Width), Y1: d.foot}
}

// blankMargins wipes what the scene drew outside of its place: what a close-up
// leaves out, and ghosts. Pictures that hold the same room are framed alike, with ghosts and without.
func (d *drawing) blankMargins() {
	ghosts := slices.ContainsFunc(d.Items, func(it Item) bool { return it.Emphasis.veil() })
	if d.Close == nil && !ghosts && len(d.Within) == 0 {
		return
	}
	d.page.Fill(0, 0, float64(d.Width), d.view.Y0, d.Theme.Paper)
	d.page.Fill(0, d.view.Y1, float64(d.Width), float64(d.Height), d.Theme.Paper)
	edges := []float64{d.view.Y0, d.view.Y1}
	if d.Bare {
		edges = edges[1:]
	}
	for _, y := range edges {
		d.page.Line(1.5*d.unit, d.Theme.Faint, ink.Point{X: 0, Y: y}, ink.Point{X: float64(d.Width), Y: y})
	}
}

// leastTitle is how much smaller than usual a long title may be set: what it is about often stands at its end.
const leastTitle = 0.6

// titleIn returns the title as it fits a width: in smaller letters if it is long, and shortened if those
// would be too small.
func (d *drawing) titleIn(width float64) (ink.Type, string) {
	t := d.title()
	least := leastTitle * t.Size
	for w := t.Width(d.Title); w > width && t.Size > least; w = t.Width(d.Title) {
		t.Size = max(t.Size*min(width/w, 0.99), least) // again, as widths of letters are rounded
	}
	return t, ink.Shorten(t, d.Title, width)
}

func (d *drawing) header() {
	if d.Bare {
		return
	}
	u := d.unit
	width := float64(d.Width) - 2*margin*u
	letters, title := d.titleIn(width)
	d.page.Text(margin*u, 66*u, ink.Left, letters, title)
	for i, line := range d.Caption {
		d.page.Text(margin*u, (102+30*float64(i))*u, ink.Left, d.text(), ink.Shorten(d.text(), line, width))
	}
}

// triad draws the directions of X, Y and Z.
func (d *drawing) triad() {
	u := d.unit
	at := ink.Point{X: 92 * u, Y: d.low - 44*u}
	if d.View == Isometric {
		at.Y -= 6 * u
	}
	lowest := 0.0 // how far down an axis leads, of its length
	for _, axis := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		lowest = max(lowest, -d.camera.Up.Dot(axis))
	}
	at.Y -= max(0, 72*lowest-36) * u
	t := ink.Type{Size: 20 * u, Bold: true, Color: d.Theme.Text}
	var tips []ink.Point
	for i, axis := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		name := string("XYZ"[i])
		dx, dy := d.camera.Right.Dot(axis), -d.camera.Up.Dot(axis)
		l := math.Hypot(dx, dy)
		if l < nearlyEndOn {
			d.endOn(at, d.camera.Toward.Dot(axis) > 0, name, t)
			continue
		}
		d.arrow(at, ink.Point{X: at.X + 48*u*dx, Y: at.Y + 48*u*dy})
		tip := ink.Point{X: at.X + (48*l+15)*u*dx/l, Y: at.Y + (48*l+15)*u*dy/l + t.Ascent()/2}
		for _, other := range tips {
			if math.Hypot(tip.X-other.X, tip.Y-other.Y) < 18*u { // two axes that look alike
				tip.X, tip.Y = other.X+18*u*math.Abs(dy)/l, other.Y+18*u*math.Abs(dx)/l
			}
		}
		if d.underArrow(axis) {
			tip = ink.Point{X: at.X + 48*u*dx + 16*u*math.Abs(dy)/l, Y: at.Y + 48*u*dy + 16*u*math.Abs(dx)/l + t.Ascent()/2}
		}
		tips = append(tips, tip)
		d.page.Text(tip.X, tip.Y, ink.Center, t, name)
	}
}

// underArrow reports whether another axis leads the same way as one on the page, and farther: the
// other's arrow runs through where its name would be.
func (d *drawing) underArrow(axis r3.Vector) bool {
	flat := func(v r3.Vector) ink.Point { return ink.Point{X: d.camera.Right.Dot(v), Y: d.camera.Up.Dot(v)} }
	a := flat(axis)
	for _, other := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		b := flat(other)
		la, lb := math.Hypot(a.X, a.Y), math.Hypot(b.X, b.Y)
		if lb > la && a.X*b.X+a.Y*b.Y > 0.97*la*lb {
			return true
		}
	}
	return false
}

// nearlyEndOn is how long an axis must look, of its length, to have room for an arrow.
const nearlyEndOn = 0.28

// endOn draws an axis that points at the viewer (a dot, the arrow's tip) or away
// (a cross, its tail).
func (d *drawing) endOn(at ink.Point, toward bool, name string, t ink.Type) {
	u := d.unit
	d.page.Disc(at, 9*u, d.Theme.Text)
	d.page.Disc(at, 7*u, d.Theme.Paper)
	if toward {
		d.page.Disc(at, 3*u, d.Theme.Text)
	} else {
		r := 5 * u
		d.page.Line(2*u, d.Theme.Text, ink.Point{X: at.X - r, Y: at.Y - r}, ink.Point{X: at.X + r, Y: at.Y + r})
		d.page.Line(2*u, d.Theme.Text, ink.Point{X: at.X - r, Y: at.Y + r}, ink.Point{X: at.X + r, Y: at.Y - r})
	}
	d.page.Text(at.X-20*u, at.Y+20*u+t.Ascent()/2, ink.Center, t, name)
}

func (d *drawing) arrow(a, b ink.Point) {
	u := d.unit
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	dx, dy := (b.X-a.X)/l, (b.Y-a.Y)/l
	d.page.Line(2.2*u, d.Theme.Text, a, ink.Point{X: b.X - 8*u*dx, Y: b.Y - 8*u*dy})
	foot := ink.Point{X: b.X - 13*u*dx, Y: b.Y - 13*u*dy}
	d.page.Polygon([]ink.Point{b, {X: foot.X - 5*u*dy, Y: foot.Y + 5*u*dx}, {X: foot.X + 5*u*dy, Y: foot.Y - 5*u*dx}}, d.Theme.Text)
}

// scaleBar draws a round length. In the isometric view it is the length of a
// line to the operator's right, away from him or upward, all three of which are
// shortened alike; mostly these are X, Y and Z.
func (d *drawing) scaleBar() {
	u := d.unit
	perMM := d.camera.Scale * d.View.foreshortening()
	length := d.Lengths.Round(scaleLong * u / perMM)
	x0, y := scaleLeft*u, d.low-62*u
	w := length * perMM
	for i := range 4 { // four fields, dark and light in turn
		a, b := x0+w*float64(i)/4, x0+w*float64(i+1)/4
		c := d.Theme.Text
		if i%2 == 1 {
			c = d.Theme.Paper
		}
		d.page.Fill(a, y-10*u, b, y, c)
	}
	d.page.Frame(x0, y-10*u, x0+w, y, 1.5*u, d.Theme.Text)
	d.page.Text(x0, y+24*u, ink.Center, d.small(), "0")
	d.page.Text(x0+w, y+24*u, ink.Center, d.small(), d.Lengths.Write(length)+" "+d.Lengths.Name())
	if words := d.along(); words != "" {
		d.page.Text(x0+w+16*u, y, ink.Left, d.small(), words)
	}
}

// along says along which lines the scale bar's length holds; "" if along all of them.
func (d *drawing) along() string {
	switch {
	case d.View != Isometric:
		return ""
	case !operator(d.Up).square():
		return "to the right, away or up"
	}
	return "along X, Y or Z"
}

// swatch draws a small piece of what the emphasis looks like.
func (d *drawing) swatch(c ink.Surface, a ink.Area, e Emphasis, pattern ink.Pattern) {
	l := e.look()
	base := d.color(e, 0)
	line, width := ink.Text, max(l.outline*0.8, 1.2)*d.unit
	if e.veil() {
		base, line = ink.Mix(d.Theme.Paper, base, 0.4), ink.Mix(d.Theme.Paper, d.Theme.Text, 0.4)
	}
	c.Fill(a.X0, a.Y0, a.X1, a.Y1, base)
	c.PatternIn([][]ink.Point{a.Rounded().Outline()}, pattern, l.stroke)
	c.Frame(a.X0, a.Y0, a.X1, a.Y1, width, line)
}

func (d *drawing) cutSwatch(x, y float64) {
	w, h := 44*d.unit, 24*d.unit
	d.page.Fill(x, y, x+w, y+h, groupColors[0])
	d.page.Pattern(ink.Area{X0: x, Y0: y, X1: x + w, Y1: y + h}.Pixels(), ink.SectionUp, ink.Mix(groupColors[0], ink.Text, 0.6))
	d.page.Frame(x, y, x+w, y+h, 1.2*d.unit, ink.Text)
}
