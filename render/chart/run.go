package chart

import (
	"context"
	"fmt"
	"image"
	"math"
	"slices"

	"gridswing/render/ink"
	"gridswing/render/measure"
)

// Run shows the least clearance over the time that a program runs: time to the right,
// clearance upward, above it the tools.
type Run struct {
	Title   string
	Caption []string
	Cells   []RunCell // they follow each other in time, without gaps
	// Ends is set where the program was not read to its end: what is to the right of the last cell
	// is drawn as unproven, however long it may take, and says so in these words.
	Ends string
	// Bound is set where some of the time is not known: all times are then at least so much.
	Bound  bool
	Demand float64 // mm; demanded of most bodies
	Cap    float64 // mm; all above is one shade; more than 0
	// Lengths is in which clearances are read.
	Lengths measure.Lengths
	Marks   []RunMark
	Width   int // pixels; 0: 1600
	Bare    bool
	// Lettering is as in Swing.
	Lettering float64
	// The picture is as high as it needs.
}

// RunCell is what is known of a stretch of time.
type RunCell struct {
	From, To float64 // s
	Line     int     // of the program, the first
	Tool     int     // in the spindle; 0: none
	State    State
	// Lower and Upper are those of Cell.
	Lower, Upper float64
}

// RunMark is a moment that the chart points at.
type RunMark struct {
	At    float64 // s
	Label string
}

// Draw draws the chart. It fails if the cells do not follow each other, a number is no number,
// or the context is done. However short a stretch is, it is not lost if it is not clear.
func (r *Run) Draw(ctx context.Context) (*image.RGBA, error) { return pixelsOf(r.sheet(ctx, 0)) }

// Size returns how large the picture is that Draw draws, in pixels, and fails where it does.
func (r *Run) Size(ctx context.Context) (width, height int, err error) {
	return sizeOf(r.sheet(ctx, 0))
}

// DrawOn draws the chart on all of a surface, and fails where Draw does. If the surface is too
// small for that, all is drawn smaller.
func (r *Run) DrawOn(ctx context.Context, page ink.Surface) error {
	c := *r
	width, height := sized(page)
	c.Width = width
	for {
		d, err := c.sheet(ctx, height)
		if err != nil {
			return err
		}
		if d.Swing.Height <= height && !d.cramped(curveAbove+stateStep*float64(len(d.states())), d.plot.Width()) {
			d.draw(page)
			return nil
		}
		if c.Lettering = 0.95 * d.unit; c.Lettering < leastLettering {
			return fmt.Errorf("chart of a program %q: a surface of %d x %d pixels has no room for it", c.Title, width, height)
		}
	}
}

// sheet lays out the chart; height 0 is for it to choose.
func (r *Run) sheet(ctx context.Context, height int) (*runSheet, error) {
	if err := r.check(); err != nil {
		return nil, fmt.Errorf("chart of a program %q: %w", r.Title, err)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return newRunSheet(r.rounded(), height), nil
}

func (d *runSheet) draw(page ink.Surface) {
	d.page = page
	d.heading.draw(d.sheet)
	d.columns()
	d.heights()
	d.changes()
	d.levels(func(c *Cell) float64 { return c.Upper }, 1.6, foundLine)
	d.levels(func(c *Cell) float64 { return c.Lower }, 3.5, provenLine)
	d.demandLine()
	d.rest()
	d.frame()
	d.tools()
	d.times()
	d.curveKey()
	d.place()
}

// rounded returns the chart with its cap lowered to a tick.
func (r *Run) rounded() *Run {
	c := *r
	if c.Cap = roundCap(r.Lengths, r.Cap, r.Demand); c.Cap == r.Cap {
		return r
	}
	c.Cells = slices.Clone(r.Cells)
	for i := range c.Cells {
		c.Cells[i].Lower = held(c.Cells[i].Lower, r.Cap, c.Cap)
	}
	return &c
}

func (r *Run) check() error {
	switch {
	case len(r.Cells) == 0:
		return fmt.Errorf("no cells")
	case !(r.Demand >= 0 && r.Demand < math.MaxFloat64) || !(r.Cap > 0 && r.Cap < math.MaxFloat64):
		return fmt.Errorf("demand %g mm, cap %g mm: they must be numbers, the cap more than 0", r.Demand, r.Cap)
	case r.Width != 0 && (r.Width < 600 || r.Width > 20000):
		return fmt.Errorf("a width of %d pixels: it must be 600 to 20000", r.Width)
	}
	for i, c := range r.Cells {
		switch {
		case !finite(c.From, c.To) || c.From > c.To:
			return fmt.Errorf("cell %d runs from %g to %g s: it must run forward", i, c.From, c.To)
		case i > 0 && c.From != r.Cells[i-1].To:
			return fmt.Errorf("cell %d begins at %g s, where the one before ends at %g", i, c.From, r.Cells[i-1].To)
		case math.IsNaN(c.Lower) || math.IsNaN(c.Upper):
			return fmt.Errorf("cell %d has no clearance: NaN", i)
		}
	}
	if lo, hi := r.ends(); lo >= hi {
		return fmt.Errorf("from %g to %g s there is no time", lo, hi)
	}
	for _, m := range r.Marks {
		if !finite(m.At) {
			return fmt.Errorf("mark %q is at no time: %g", m.Label, m.At)
		}
	}
	return checkLettering(r.Lettering)
}

func (r *Run) ends() (from, to float64) { return r.Cells[0].From, r.Cells[len(r.Cells)-1].To }
