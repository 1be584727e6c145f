package chart

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"gridswing/render/ink"
)

// Moment is a chart of the moment about a tilt axis over tilt, as an envelope over the
// rotary axis.
type Moment struct {
	Title   string
	Caption []string
	Tilt    Axis
	// Points run from Tilt.Lo to Tilt.Hi, two or more.
	Points []MomentPoint
	Moving bool    // Lowest and Highest say something of their own
	Rating float64 // N m, either way; 0: none
	Over   string  // what the envelope is over, such as "all of C"; "" if over nothing
	// Marks stand at their tilt and moment; Rotary counts for nothing.
	Marks         []MomentMark
	Width, Height int // pixels; 0: 1600, 1200
	Bare          bool
	Lettering     float64 // as in Swing
}

// MomentPoint is the moment at one tilt, in N m: between which values it lies at rest,
// and while the axis accelerates.
type MomentPoint struct {
	Tilt                             float64 // degrees
	Least, Greatest, Lowest, Highest float64
}

// MomentMark is a place that the chart points at.
type MomentMark struct {
	Tilt, Moment float64
	Label        string
}

// Draw draws the chart. It fails if the points do not run upward along the tilt axis, a
// number is no number, or the context is done.
func (m *Moment) Draw(ctx context.Context) (*image.RGBA, error) {
	c := *m
	if c.Width == 0 && c.Height == 0 {
		c.Width, c.Height = 1600, 1200
	}
	if err := c.ready(ctx); err != nil {
		return nil, err
	}
	return painted(c.Width, c.Height, c.paint), nil
}

// DrawOn draws the chart on all of a surface, and fails where Draw does. If there is no room for
// Lettering, it is smaller.
func (m *Moment) DrawOn(ctx context.Context, page ink.Surface) error {
	c := *m
	c.Width, c.Height = sized(page)
	if err := c.ready(ctx); err != nil {
		return err
	}
	c.Lettering = fitting(c.Lettering, c.Width, c.Height, func(unit float64) bool {
		d := newSheet(&Swing{Width: c.Width, Height: c.Height, Bare: c.Bare, Lettering: unit, Cap: 1, Caption: c.Caption})
		return d.cramped(momentKey, d.plot.Width())
	})
	c.paint(page)
	return nil
}

// momentKey is how high the key is at most, at full size.
const momentKey = 340

func (m *Moment) ready(ctx context.Context) error {
	if err := m.check(); err != nil {
		return fmt.Errorf("moment chart %q: %w", m.Title, err)
	}
	return ctx.Err()
}

func (m *Moment) paint(page ink.Surface) {
	s := &Swing{Title: m.Title, Caption: m.Caption, Tilt: m.Tilt, Cap: 1, Width: m.Width, Height: m.Height, Bare: m.Bare, Lettering: m.Lettering}
	d := &momentSheet{sheet: newSheet(s), Moment: m}
	d.page = page
	d.header()
	d.lo, d.hi = m.scale()
	d.ground()
	d.scaleLeft()
	d.curves()
	d.ratings()
	d.frame()
	d.ticksBelow(&m.Tilt)
	d.key()
	d.place()
}

func (m *Moment) check() error {
	switch {
	case !increasing(m.Tilt):
		return fmt.Errorf("%s runs from %g to %g degrees: it must run upward", m.Tilt.Name, m.Tilt.Lo, m.Tilt.Hi)
	case len(m.Points) < 2:
		return fmt.Errorf("%d points: it takes two or more", len(m.Points))
	case !(m.Rating >= 0 && m.Rating < math.MaxFloat64):
		return fmt.Errorf("a rating of %g N m: it must be 0 or more", m.Rating)
	}
	if err := checkSize(m.Width, m.Height, m.Lettering); err != nil {
		return err
	}
	for i, p := range m.Points {
		if sum := p.Tilt + p.Least + p.Greatest + p.Lowest + p.Highest; math.IsNaN(sum) || math.IsInf(sum, 0) {
			return fmt.Errorf("point %d is no number", i)
		}
		if i > 0 && p.Tilt <= m.Points[i-1].Tilt {
			return fmt.Errorf("point %d at %g degrees, after %g", i, p.Tilt, m.Points[i-1].Tilt)
		}
	}
	for _, k := range m.Marks {
		if sum := k.Tilt + k.Moment; math.IsNaN(sum) || math.IsInf(sum, 0) {
			return fmt.Errorf("mark %q is nowhere", k.Label)
		}
	}
	return nil
}

// sideShare is what part of the rating the moment must reach on a side for the rating to
// be shown there.
const sideShare = 0.25

// scale returns the ends of the upright axis: all moments, 0, and the rating on the side
// to which the moment goes farther, on the other one where it comes near.
func (m *Moment) scale() (lo, hi float64) {
	for _, p := range m.Points {
		lo, hi = min(lo, p.Least, p.Lowest), max(hi, p.Greatest, p.Highest)
	}
	if m.Rating > 0 {
		if hi >= -lo || hi > sideShare*m.Rating {
			hi = max(hi, m.Rating)
		}
		if -lo > hi || -lo > sideShare*m.Rating {
			lo = min(lo, -m.Rating)
		}
	}
	room := 0.08 * (hi - lo)
	if room == 0 { // nothing pulls anywhere
		room = 1
	}
	if lo < 0 || hi == 0 {
		lo -= room
	}
	return lo, hi + room
}

// momentSheet is a moment chart being drawn.
type momentSheet struct {
	*sheet
	*Moment
	lo, hi float64
}

func (d *momentSheet) level(moment float64) float64 {
	return d.plot.Y1 - d.plot.Height()*(moment-d.lo)/(d.hi-d.lo)
}

func (d *momentSheet) at(tilt float64) float64 { return d.across(&d.Moment.Tilt, tilt) }

var (
	envelopeGround = ink.Ramp(ink.Blue, 80)
	envelopeLine   = ink.Ramp(ink.Blue, 26)
	beyondGround   = color.RGBA{244, 244, 242, 255}
	beyondStroke   = color.RGBA{176, 178, 182, 255}
)

// ground fills the envelope, and what is beyond the rating with level bars; where
// the envelope is beyond it, as contact looks.
func (d *momentSheet) ground() {
	var outline []ink.Point
	for i := range d.Points {
		outline = append(outline, ink.Point{X: d.at(d.Points[i].Tilt), Y: d.level(d.Points[i].Greatest)})
	}
	for i := len(d.Points) - 1; i >= 0; i-- {
		outline = append(outline, ink.Point{X: d.at(d.Points[i].Tilt), Y: d.level(d.Points[i].Least)})
	}
	d.page.Polygon(outline, envelopeGround)
	if d.Rating == 0 {
		return
	}
	upper, lower := d.plot, d.plot
	upper.Y1, lower.Y0 = d.level(d.Rating), d.level(-d.Rating)
	for _, a := range []ink.Area{upper, lower} {
		if a.Y0 >= a.Y1 {
			continue
		}
		d.fill(a, false, true)
		if part := levelled(outline, a.Y0, a.Y1); len(part) > 2 {
			d.page.Polygon(part, ink.ContactGround)
			d.page.PatternIn([][]ink.Point{part}, ink.Hatch, ink.ContactStroke)
		}
	}
}

// levelled returns the part of an outline between two levels: it is cut by one and then by the
// other (Sutherland and Hodgman, Communications of the ACM 17(1), 1974).
func levelled(outline []ink.Point, top, foot float64) []ink.Point {
	cut := func(outline []ink.Point, level float64, inside func(y float64) bool) (kept []ink.Point) {
		for i, q := range outline {
			p := outline[(i+len(outline)-1)%len(outline)]
			if inside(p.Y) != inside(q.Y) {
				kept = append(kept, ink.Point{X: p.X + (q.X-p.X)*(level-p.Y)/(q.Y-p.Y), Y: level})
			}
			if inside(q.Y) {
				kept = append(kept, q)
			}
		}
		return kept
	}
	outline = cut(outline, top, func(y float64) bool { return y >= top })
	return cut(outline, foot, func(y float64) bool { return y <= foot })
}

// fill covers an area as the envelope looks, what is beyond the rating, or both.
func (d *momentSheet) fill(a ink.Area, inside, beyond bool) {
	l := look{ground: beyondGround, pattern: ink.Rungs, stroke: beyondStroke}
	switch {
	case inside && beyond:
		l = look{ground: ink.ContactGround, pattern: ink.Hatch, stroke: ink.ContactStroke}
	case inside:
		l = look{ground: envelopeGround}
	}
	d.page.Fill(a.X0, a.Y0, a.X1, a.Y1, l.ground)
	d.page.PatternIn([][]ink.Point{a.Outline()}, l.pattern, l.stroke)
}

// scaleLeft draws the upright axis, with faint lines across and a line at 0.
func (d *momentSheet) scaleLeft() {
	u := d.unit
	steps := lengths(d.hi-d.lo, 10)
	for _, v := range multiples(d.lo, d.hi, steps[1]-steps[0]) {
		y := d.level(v)
		d.page.Line(u, color.RGBA{0, 0, 0, 40}, ink.Point{X: d.plot.X0, Y: y}, ink.Point{X: d.plot.X1, Y: y})
		d.leftTick(y, number(v))
	}
	if d.lo < 0 {
		d.page.Line(2*u, ink.Text, ink.Point{X: d.plot.X0, Y: d.level(0)}, ink.Point{X: d.plot.X1, Y: d.level(0)})
	}
	d.page.TextUp(54*u-d.edge, (d.plot.Y0+d.plot.Y1)/2, d.strong(), "Moment about "+d.Moment.Tilt.Name+", N m")
}

// curves draws the edges of the envelope, and dashed those while the axis accelerates.
func (d *momentSheet) curves() {
	u := d.unit
	line := func(of func(p *MomentPoint) float64) (points []ink.Point) {
		for i := range d.Points {
			points = append(points, ink.Point{X: d.at(d.Points[i].Tilt), Y: d.level(of(&d.Points[i]))})
		}
		return points
	}
	if d.Moving {
		for _, points := range [][]ink.Point{line(func(p *MomentPoint) float64 { return p.Lowest }), line(func(p *MomentPoint) float64 { return p.Highest })} {
			d.dashes(points)
		}
	}
	d.page.Line(3.5*u, envelopeLine, line(func(p *MomentPoint) float64 { return p.Least })...)
	d.page.Line(3.5*u, envelopeLine, line(func(p *MomentPoint) float64 { return p.Greatest })...)
}

// dashes draws a curve in short dashes of even length along it.
func (d *momentSheet) dashes(points []ink.Point) {
	u := d.unit
	const dash, gap = 7, 6
	run := 0.0
	var piece []ink.Point
	flush := func() {
		if len(piece) > 1 {
			d.page.Line(2.4*u, ink.Text, piece...)
		}
		piece = nil
	}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		n := int(math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y) / u))
		for k := range n {
			part := float64(k) / float64(n)
			if math.Mod(run, dash+gap) < dash {
				piece = append(piece, ink.Point{X: a.X + part*(b.X-a.X), Y: a.Y + part*(b.Y-a.Y)})
			} else {
				flush()
			}
			run++
		}
	}
	flush()
}

// ratings draws the lines at the rating, as far as they are in the picture.
func (d *momentSheet) ratings() {
	for _, v := range []float64{d.Rating, -d.Rating} {
		if d.Rating == 0 || v < d.lo || v > d.hi {
			continue
		}
		a, b := ink.Point{X: d.plot.X0, Y: d.level(v)}, ink.Point{X: d.plot.X1, Y: d.level(v)}
		d.page.Line(6*d.unit, ink.Paper, a, b)
		d.page.Line(3.5*d.unit, ink.Text, a, b)
	}
}

// key explains what is drawn.
func (d *momentSheet) key() {
	u := d.unit
	x, y := d.keyLeft(), d.plot.Y0+14*u
	words := func(lines ...string) {
		for i, l := range lines {
			d.page.Text(x+58*u, y+d.small().Ascent()/2+26*u*float64(i), ink.Left, d.small(), l)
		}
		y += 20*u + 26*u*float64(len(lines))
	}
	swatch := func(inside, beyond bool) {
		r := ink.Area{X0: x, Y0: y - 14*u, X1: x + 44*u, Y1: y + 16*u}
		d.fill(r.Rounded(), inside, beyond)
		d.page.Frame(r.X0, r.Y0, r.X1, r.Y1, 1.6*u, ink.Text)
	}
	swatch(true, false)
	if d.Over == "" {
		words("standing still")
	} else {
		words("standing still,", "over "+d.Over)
	}
	if d.Moving {
		d.dashes([]ink.Point{{X: x, Y: y}, {X: x + 44*u, Y: y}})
		words("at most while " + d.Moment.Tilt.Name + " accelerates")
	}
	if d.Rating > 0 {
		d.page.Line(3.5*u, ink.Text, ink.Point{X: x, Y: y}, ink.Point{X: x + 44*u, Y: y})
		words("rated: " + number(d.Rating) + " N m")
		swatch(false, true)
		words("more than is rated")
	}
	if d.overloads() {
		swatch(true, true)
		words("overload")
	}
	if d.lo < 0 {
		words("+ turns " + d.Moment.Tilt.Name + " to +")
	}
}

// overloads reports whether the envelope goes beyond the rating.
func (d *momentSheet) overloads() bool {
	return d.Rating > 0 && slices.ContainsFunc(d.Points, func(p MomentPoint) bool { return max(-p.Least, p.Greatest) > d.Rating })
}

// covered is how much of an area the curves are in, from 0 to 1: where no label should be.
func (d *momentSheet) covered(a ink.Area) float64 {
	const across, up = 9, 3
	hits := 0.0
	for h := range across {
		x := a.X0 + a.Width()*float64(h)/(across-1)
		i := int(float64(len(d.Points)-1) * (x - d.plot.X0) / d.plot.Width())
		p := &d.Points[max(0, min(i, len(d.Points)-1))]
		for v := range up {
			moment := d.hi - (d.hi-d.lo)*(a.Y0+a.Height()*float64(v)/(up-1)-d.plot.Y0)/d.plot.Height()
			if moment >= min(p.Least, p.Lowest) && moment <= max(p.Greatest, p.Highest) {
				hits++
			}
		}
	}
	return hits / (across * up)
}

// place sets the marks.
func (d *momentSheet) place() {
	l := ink.Labels{Inside: d.plot.Shrunk(8 * d.unit), Unit: d.unit, Cost: d.covered}
	var wanted []ink.Label
	for _, m := range d.Moment.Marks {
		if p := (ink.Point{X: d.at(m.Tilt), Y: d.level(m.Moment)}); d.plot.Shrunk(-1).Holds(p) {
			wanted = append(wanted, ink.Label{Words: m.Label, Mark: true, Anchor: p})
		}
	}
	l.Place(wanted)
	l.Draw(d.page)
}
