// Package chart draws charts over the commanded range of a trunnion: the swing chart, over
// tilt and rotary, of how close the bodies get; and the moment about the tilt axis over
// tilt; and of clearance over the time that a program runs (Run). And it draws what can be
// chosen: places on a grid (SeatMap), combinations of two lists (HeatMap), heights (HeightStrip).
//
// Start with Swing, Moment or SeatMap. Each has Draw, for a picture of pixels, and DrawOn, for any
// ink.Surface; Bare is for pages, which have titles and captions of their own. Nothing is said by colour alone: clearance is a lightness,
// and every state that is not clear has a pattern of its own.
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

// State is the verdict on one cell of the chart. The zero value is Unproven.
type State uint8

// States of a cell: the verdicts of a check.
const (
	Unproven   State = iota // the search could not tell
	Clear                   // proven at least the demanded clearance apart in the whole cell
	Tight                   // proven apart, but closer than demanded
	WithinPlay              // apart as drawn; the location uncertainty could close the gap
	Contact                 // somewhere in the cell two bodies meet
	OverTravel              // an axis is asked beyond its travel
	Overload                // something carries more than it is rated for
)

// Axis is a rotary axis of the chart.
type Axis struct {
	Name   string  // printed, such as "A"
	Lo, Hi float64 // degrees
}

// Cell is what is known of the positions in one cell, its edges included.
// Lower and Upper may be infinite, where nothing can meet.
type Cell struct {
	State State
	Lower float64 // mm; proven clearance in the whole cell
	Upper float64 // mm; clearance found somewhere in the cell; +Inf if none was looked for
}

// Mark is a position that the chart points at.
type Mark struct {
	Tilt, Rotary float64 // degrees; only the one that varies counts on a chart of one axis
	Label        string
}

// Swing is a chart. Tilt runs across, rotary upward; with one row or one column
// it is a curve over the axis that varies.
type Swing struct {
	Title         string
	Caption       []string
	Tilt, Rotary  Axis
	Columns, Rows int
	Cells         []Cell          // row by row, Columns long; row 0 at Rotary.Lo, column 0 at Tilt.Lo
	Demand        float64         // mm; demanded clearance
	Cap           float64         // mm; all above is one shade; 0: the greatest finite Lower
	Lengths       measure.Lengths // in which clearances are read
	Marks         []Mark
	Width, Height int  // pixels; 0: 1600, 1200
	Bare          bool // no title and no caption: the room is the plot's
	// Lettering is how many pixels are a unit of lettering, lines and margins, of which letters
	// are 19 or 21 high: 1 at 1600 x 1200. 0: as the size asks for. So in all charts.
	Lettering float64
}

// Draw draws the chart. It fails if the cells do not fit the rows and columns,
// if an axis has no range, a number is no number, or the context is done.
func (s *Swing) Draw(ctx context.Context) (*image.RGBA, error) {
	c := *s
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
func (s *Swing) DrawOn(ctx context.Context, page ink.Surface) error {
	c := *s
	c.Width, c.Height = sized(page)
	if err := c.ready(ctx); err != nil {
		return err
	}
	c.Lettering = fitting(c.Lettering, c.Width, c.Height, func(unit float64) bool {
		q := c
		q.Lettering = unit
		d := newSheet(&q)
		return d.cramped(d.keyTall(), d.plot.Width())
	})
	c.paint(page)
	return nil
}

// keyTall is how high the key is at least, at full size.
func (d *sheet) keyTall() float64 {
	if d.Rows > 1 && d.Columns > 1 {
		return scaleAbove + leastScale + stateStep*float64(len(d.states()))
	}
	return curveAbove + stateStep*float64(len(d.states()))
}

func (s *Swing) ready(ctx context.Context) error {
	if err := s.check(); err != nil {
		return fmt.Errorf("swing chart %q: %w", s.Title, err)
	}
	return ctx.Err()
}

func (s *Swing) paint(page ink.Surface) {
	c := *s
	if c.Cap == 0 {
		c.Cap = c.greatest()
	}
	c.roundCap()
	d := newSheet(&c)
	d.page = page
	d.header()
	switch {
	case c.Rows == 1:
		d.curve(&c.Tilt, func(m *Mark) float64 { return m.Tilt })
	case c.Columns == 1:
		d.curve(&c.Rotary, func(m *Mark) float64 { return m.Rotary })
	default:
		d.field()
	}
}

// roundCap lowers the cap to a tick.
func (s *Swing) roundCap() {
	before := s.Cap
	if s.Cap = roundCap(s.Lengths, before, s.Demand); s.Cap == before {
		return
	}
	s.Cells = slices.Clone(s.Cells)
	for i := range s.Cells {
		s.Cells[i].Lower = held(s.Cells[i].Lower, before, s.Cap)
	}
}

func (s *Swing) check() error {
	switch {
	case s.Columns < 1 || s.Rows < 1 || len(s.Cells) != s.Columns*s.Rows:
		return fmt.Errorf("%d cells for %d columns and %d rows", len(s.Cells), s.Columns, s.Rows)
	case s.Columns > 1 && !increasing(s.Tilt):
		return fmt.Errorf("%s runs from %g to %g degrees: it must run upward", s.Tilt.Name, s.Tilt.Lo, s.Tilt.Hi)
	case s.Rows > 1 && !increasing(s.Rotary):
		return fmt.Errorf("%s runs from %g to %g degrees: it must run upward", s.Rotary.Name, s.Rotary.Lo, s.Rotary.Hi)
	case s.Columns == 1 && s.Rows == 1 && !increasing(s.Tilt):
		return fmt.Errorf("neither axis has a range")
	case !(s.Demand >= 0 && s.Demand < math.MaxFloat64) || !(s.Cap >= 0 && s.Cap < math.MaxFloat64):
		return fmt.Errorf("demand %g mm, cap %g mm: both must be numbers of 0 or more", s.Demand, s.Cap)
	}
	if err := checkSize(s.Width, s.Height, s.Lettering); err != nil {
		return err
	}
	for i, c := range s.Cells {
		if math.IsNaN(c.Lower) || math.IsNaN(c.Upper) {
			return fmt.Errorf("cell %d (column %d, row %d) has no clearance: NaN", i, i%s.Columns, i/s.Columns)
		}
	}
	for _, m := range s.Marks {
		if math.IsNaN(m.Tilt) || math.IsNaN(m.Rotary) {
			return fmt.Errorf("mark %q is nowhere: NaN", m.Label)
		}
	}
	return nil
}

func increasing(a Axis) bool {
	return a.Lo < a.Hi && !math.IsInf(a.Lo, 0) && !math.IsInf(a.Hi, 0)
}

// greatest returns the greatest finite proven clearance, but at least twice the
// demand, and above 0.
func (s *Swing) greatest() float64 {
	g := max(2*s.Demand, 1e-3)
	for _, c := range s.Cells {
		if !math.IsInf(c.Lower, 0) {
			g = max(g, c.Lower)
		}
	}
	return g
}
