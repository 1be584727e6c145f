package drafting

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/render/ink"
	"gridswing/render/measure"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// Elevation is a stack seen level, with its heights.
type Elevation struct {
	Solids []Solid
	// Right, Up and Toward are the view's directions, of unit length and square to each other:
	// Up is against gravity, Toward points at who looks.
	Right, Up, Toward r3.Vector
	// Datum is the height that all others are told from, mm along Up.
	Datum  float64
	Levels []Level
	// Steps are told on the other side, each by how high it is.
	Steps   []Step
	Axes    []Axis // directions to be shown: X along Right, Y along Up
	Lengths measure.Lengths
	Workers int // changes the time taken, never a pixel
}

// Solid is one that is drawn.
type Solid struct {
	Shape *raster.Shape
	Pose  geom.Pose
	Group int // solids of one group have one grey
	// Ground marks what all stands on: it is cut off at the edges of the view, which is not
	// widened for it, unless there is nothing else.
	Ground bool
}

// Level is a height.
type Level struct {
	Height float64 // mm along Up
	Words  string
	// From is where its line begins, mm along Right. Axis marks the line of an axis, which goes
	// through all of the view.
	From float64
	Axis bool
}

// Step is how high something is.
type Step struct {
	From, To float64 // mm along Up
	Words    string
}

// Of an elevation's sheet, in pixels of the layout.
const (
	stepsLeast = 240.0 // left of the view, where names of steps are short
	stepsMost  = 480.0 // and where they are long
	levelsMost = 650.0 // right of it
	viewHigh   = 760.0 // at most: two of them and a heading are a page
	headroom   = 40.0
	rungApart  = 38.0
	numberWide = 124.0
	levelGap   = 20.0 // from the view to the line of heights
	rowGap     = 52.0 // from there to a number
	wordGap    = 16.0 // and on to its name
	hinted     = 1.05 // words can be so much wider where their letters are fitted to coarse pixels
	ground     = 0.08 // of the view's height, that is seen of the ground below
	margin     = 0.03 // and on either side
)

// Sheet is how large the elevation is on paper, and its scale.
func (e *Elevation) Sheet() Sheet {
	b := e.extent()
	scale := scaleFor(b.width(), b.height(), (e.viewWide()-20)/perMM, viewHigh/perMM)
	high := max(b.height()/scale*perMM, rungApart*float64(max(len(e.Levels), len(e.Steps))+1))
	return Sheet{Width: planWide / perMM, Height: (high + 2*headroom + footHigh + 20) / perMM, Scale: scale}
}

// stepsWide is the room left of the view, in pixels of the layout: as much as the steps and their
// names take, within limits.
func (e *Elevation) stepsWide() float64 {
	words, number := 0.0, 0.0
	for _, s := range e.Steps {
		words = max(words, ink.Type{Size: letter}.Width(s.Words))
		number = max(number, ink.Type{Size: letter, Bold: true}.Width(e.Lengths.Write(s.To-s.From)))
	}
	_, columns := e.columns()
	beside := stepGap + stepWords + 24 + stepApart*float64(columns-1)
	return min(max(beside+hinted*(number+words), stepsLeast), stepsMost)
}

// levelsWide is the room right of it: that of the heights and their names, within limits.
func (e *Elevation) levelsWide() float64 {
	words := 0.0
	for _, l := range e.Levels {
		words = max(words, ink.Type{Size: letter}.Width(l.Words))
	}
	return min(levelGap+rowGap+numberWide+wordGap+hinted*words+12, levelsMost)
}

func (e *Elevation) viewWide() float64 { return planWide - e.stepsWide() - e.levelsWide() }

// extent is the box of all that is seen, mm along Right and Up.
func (e *Elevation) extent() box {
	b := emptyBox()
	view := geom.Pose{R: geom.Rotation{
		{e.Right.X, e.Right.Y, e.Right.Z}, {e.Up.X, e.Up.Y, e.Up.Z}, {e.Toward.X, e.Toward.Y, e.Toward.Z}}}
	whole := emptyBox()
	for i := range e.Solids {
		s := &e.Solids[i]
		in := s.Shape.BoundsIn(view.Mul(s.Pose))
		if in.Empty() {
			continue
		}
		whole.take(Point{in.Min.X, in.Min.Y}, Point{in.Max.X, in.Max.Y})
		if !s.Ground {
			b.take(Point{in.Min.X, in.Min.Y}, Point{in.Max.X, in.Max.Y})
		}
	}
	if b.width() <= 0 {
		b = whole
	}
	for _, l := range e.Levels {
		b.take(Point{b.low.X, l.Height})
	}
	if slices.ContainsFunc(e.Solids, func(s Solid) bool { return s.Ground }) {
		below, more := ground*b.height(), margin*b.height()
		b.take(Point{max(b.low.X-more, whole.low.X), max(b.low.Y-below, whole.low.Y)}, Point{min(b.high.X+more, whole.high.X), b.high.Y})
	}
	return b
}

func (e *Elevation) check() error {
	values := []float64{e.Datum}
	for _, l := range e.Levels {
		values = append(values, l.Height, l.From)
	}
	for _, s := range e.Steps {
		values = append(values, s.From, s.To)
	}
	if !finite(values...) {
		return fmt.Errorf("elevation: a height that is no number")
	}
	b := e.extent()
	if !finite(b.low.X, b.low.Y, b.high.X, b.high.Y) || b.width() <= 0 || b.height() <= 0 {
		return fmt.Errorf("elevation: nothing to be seen")
	}
	return nil
}

// elevationSheet is an elevation being drawn.
type elevationSheet struct {
	*Elevation
	board
	sheet  Sheet
	box    box
	plot   ink.Area // where the view is
	pixels float64  // of the layout, in a mm
	rows   [2]float64
}

// DrawOn draws the elevation over a whole surface, which should have the shape of its sheet. It
// fails if there is nothing to see, a number is none, or the context is done.
func (e *Elevation) DrawOn(ctx context.Context, s ink.Surface) error {
	if err := e.check(); err != nil {
		return err
	}
	d := &elevationSheet{Elevation: e, sheet: e.Sheet(), box: e.extent()}
	width, height := s.Size()
	wide, high := d.sheet.pixels()
	d.board = board{Surface: s, unit: min(width/wide, height/high)}
	d.pixels = perMM / d.sheet.Scale
	d.rows = [2]float64{headroom, high - footHigh - 20 - headroom}
	x0 := d.stepsWide() + (d.viewWide()-d.box.width()*d.pixels)/2
	y0 := (d.rows[0] + d.rows[1] - d.box.height()*d.pixels) / 2
	d.plot = ink.Area{X0: x0, Y0: y0, X1: x0 + d.box.width()*d.pixels, Y1: y0 + d.box.height()*d.pixels}
	if err := d.view(ctx); err != nil {
		return err
	}
	d.levels()
	d.steps()
	top := high - footHigh
	d.line(faint, ink.Point{X: 10, Y: top}, ink.Point{X: planWide - 10, Y: top})
	var arrows []arrowTo
	for _, a := range d.Axes {
		arrows = append(arrows, arrowTo{name: a.Name, along: a.Along})
	}
	d.compass(ink.Point{X: compassWide / 2, Y: top + 94}, arrows)
	d.ruler(planWide-scaleWide+20, top-14, scaleWide-120, d.sheet, d.Lengths)
	return nil
}

// greys are those of what stands there, group by group: light, and told apart by the lines
// around them too.
var greys = []uint8{226, 248, 238, 216, 244, 232}

// view draws the solids.
func (d *elevationSheet) view(ctx context.Context) error {
	density := d.Density() * d.unit
	width, height := int(math.Ceil(d.plot.Width()*density))+1, int(math.Ceil(d.plot.Height()*density))+1
	scene := raster.Scene{Lines: ink.Text, Overlap: ink.Black, Workers: d.Workers}
	for _, s := range d.Solids {
		grey := greys[((s.Group%len(greys))+len(greys))%len(greys)]
		body := raster.Body{Shape: s.Shape, Pose: s.Pose, Outline: min(2.2*density, raster.MaxOutline)}
		body.Color.R, body.Color.G, body.Color.B, body.Color.A = grey, grey, grey, 255
		scene.Bodies = append(scene.Bodies, body)
	}
	middle := d.box.middle()
	scene.Camera = raster.Camera{
		Right: d.Right, Up: d.Up, Toward: d.Toward, Scale: d.pixels * density,
		Center: d.Right.Mul(middle.X).Add(d.Up.Mul(middle.Y)),
		X:      d.plot.Width() * density / 2, Y: d.plot.Height() * density / 2,
	}
	img := ink.NewCanvas(width, height, ink.Paper)
	if _, err := scene.Draw(ctx, img.RGBA); err != nil {
		return err
	}
	p := d.at(ink.Point{X: d.plot.X0, Y: d.plot.Y0})
	d.Image(ink.Area{X0: p.X, Y0: p.Y, X1: p.X + float64(width)/d.Density(), Y1: p.Y + float64(height)/d.Density()}, img.RGBA)
	return nil
}

// y returns where a height is.
func (d *elevationSheet) y(height float64) float64 {
	return d.plot.Y1 - (height-d.box.low.Y)*d.pixels
}

// levels draws the heights from the datum upward: one line with a dot for each (running
// dimensions from an origin, ISO 129-1), and words beside it that keep apart however near the
// heights are.
func (d *elevationSheet) levels() {
	if len(d.Levels) == 0 {
		return
	}
	x := d.stepsWide() + d.viewWide() + levelGap
	wanted := make([]float64, len(d.Levels))
	low, high := d.y(d.Datum), d.y(d.Datum)
	for i, l := range d.Levels {
		wanted[i] = d.y(l.Height)
		low, high = max(low, wanted[i]), min(high, wanted[i])
	}
	d.line(thin, ink.Point{X: x, Y: low}, ink.Point{X: x, Y: high})
	stands := rungs(wanted, rungApart, d.rows[0], d.rows[1])
	for i, l := range d.Levels {
		from := d.plot.X0 + (l.From-d.box.low.X)*d.pixels
		a, b := ink.Point{X: from, Y: wanted[i]}, ink.Point{X: x + 12, Y: wanted[i]}
		if l.Axis {
			d.board.dashes(thin, []ink.Point{{X: d.plot.X0 - 10, Y: wanted[i]}, b}, 40, 7, 5, 7)
		} else {
			d.line(faint, a, b)
		}
		row := ink.Point{X: x + rowGap, Y: stands[i]}
		d.line(faint, b, row, ink.Point{X: row.X + 8, Y: row.Y})
		d.Disc(d.board.at(ink.Point{X: x, Y: wanted[i]}), 4.5*d.unit, ink.Text)
		number := d.Lengths.Write(l.Height - d.Datum)
		if number == "-0" {
			number = "0"
		}
		y := row.Y + 0.38*letter
		d.write(row.X+numberWide, y, ink.Right, letter, true, minus(number))
		words := row.X + numberWide + wordGap
		d.write(words, y, ink.Left, letter, false, ink.Shorten(d.type_(letter, false), l.Words, (planWide-10-words)*d.unit))
	}
	at := d.board.at(ink.Point{X: x, Y: d.y(d.Datum)})
	d.Disc(at, 9*d.unit, ink.Text) // the origin
	d.Disc(at, 6*d.unit, ink.Paper)
}

// minus writes a real minus sign.
func minus(number string) string {
	if len(number) > 0 && number[0] == '-' {
		return "−" + number[1:]
	}
	return number
}

// Of steps, in pixels of the layout.
const (
	stepGap   = 24 // from the view to the first line
	stepApart = 26 // from line to line
	stepWords = 54 // from the last line to the number
	mostSteps = 5  // lines side by side
)

// columns says in which line each step stands, and how many lines there are: those that overlap
// stand side by side.
func (e *Elevation) columns() (at []int, n int) {
	var ends []float64 // of the lines so far: how high each is taken
	at = make([]int, len(e.Steps))
	for i, s := range e.Steps {
		k := 0
		for k < len(ends) && ends[k] > s.From+1e-6 {
			k++
		}
		if k == len(ends) {
			ends = append(ends, 0)
		}
		ends[k], at[i] = max(s.From, s.To), k%mostSteps
	}
	return at, max(1, min(len(ends), mostSteps))
}

// steps draws how high things are, on the left.
func (d *elevationSheet) steps() {
	columns, n := d.columns()
	wanted := make([]float64, len(d.Steps))
	for i, s := range d.Steps {
		wanted[i] = (d.y(s.From) + d.y(s.To)) / 2
	}
	stands := rungs(wanted, rungApart, d.rows[0], d.rows[1])
	right := d.plot.X0 - stepGap
	left := right - stepApart*float64(n-1)
	for i, s := range d.Steps {
		x := right - stepApart*float64(columns[i])
		y0, y1 := d.y(s.From), d.y(s.To)
		for _, y := range []float64{y0, y1} {
			d.line(faint, ink.Point{X: x - 7, Y: y}, ink.Point{X: x + 7, Y: y})
		}
		if math.Abs(y1-y0) > 50 {
			d.arrow(ink.Point{X: x, Y: wanted[i]}, ink.Point{X: x, Y: y0})
			d.arrow(ink.Point{X: x, Y: wanted[i]}, ink.Point{X: x, Y: y1})
		} else {
			d.line(faint, ink.Point{X: x, Y: y0}, ink.Point{X: x, Y: y1})
		}
		row := ink.Point{X: left - 40, Y: stands[i]}
		d.line(faint, ink.Point{X: x, Y: wanted[i]}, ink.Point{X: left - 12, Y: wanted[i]}, row, ink.Point{X: row.X - 6, Y: row.Y})
		number := d.Lengths.Write(s.To - s.From)
		y, end := row.Y+0.38*letter, left-stepWords
		d.write(end, y, ink.Right, letter, true, number)
		end -= d.width(letter, true, number) + 12
		d.write(end, y, ink.Right, letter, false, ink.Shorten(d.type_(letter, false), s.Words, (end-10)*d.unit))
	}
}
