package chart

import (
	"context"
	"fmt"
	"image"
	"math"

	"gridswing/render/ink"
)

// SeatMap is a grid of holes seen from above, and on it the places where a component
// could stand. X runs to the right and Y upward, in mm on the grid's face.
type SeatMap struct {
	Title   string
	Caption []string
	Holes   []Hole
	// Columns and Rows are written below and to the left of the grid, at their X and Y.
	// Without them every hole is named, as those of a polar pattern are.
	Columns, Rows []Label
	Seats         []Seat
	Cap           float64 // share from which on all is one shade; 0: 5
	Width, Height int     // pixels; 0: 1600, and as high as the grid and the list need
	Bare          bool
	Lettering     float64 // as in Swing
}

// Hole is a hole of a grid.
type Hole struct {
	Name string // such as "B7"
	X, Y float64
}

// Label is a name at a place on an axis.
type Label struct {
	Name string
	At   float64
}

// Seat is a place and an orientation of a component. Where several stand at one place,
// each has the part of its mark that points where it is turned to.
type Seat struct {
	Choice
	X, Y   float64 // of the middle between its locators
	Turned float64 // degrees, counter-clockwise as seen from above, against the present one
}

// Draw draws the map. It fails if there is neither hole nor seat, a number is no number,
// or the context is done.
func (m *SeatMap) Draw(ctx context.Context) (*image.RGBA, error) { return pixelsOf(m.sheet(ctx)) }

// Size returns how large the picture is that Draw draws, in pixels, and fails where it does.
func (m *SeatMap) Size(ctx context.Context) (width, height int, err error) {
	return sizeOf(m.sheet(ctx))
}

// DrawOn draws the map on all of a surface, and fails where Draw does. It is Draw's picture if
// the surface has its size.
func (m *SeatMap) DrawOn(ctx context.Context, page ink.Surface) error {
	d, err := m.sheet(ctx)
	if err != nil {
		return err
	}
	if width, height := sized(page); width != d.Swing.Width || height != d.Swing.Height {
		c := *m
		c.Width, c.Height = width, height
		c.Lettering = fitting(c.Lettering, width, height, func(unit float64) bool {
			c.Lettering = unit
			d := newSeatSheet(&c)
			return d.cramped((d.listed.height()+d.listed.more)/unit, float64(width)-(besideRows+besideKey)*unit)
		})
		if d, err = c.sheet(ctx); err != nil {
			return err
		}
	}
	d.draw(page)
	return nil
}

// sheet lays out the map.
func (m *SeatMap) sheet(ctx context.Context) (*seatSheet, error) {
	if err := m.check(); err != nil {
		return nil, fmt.Errorf("map of seats %q: %w", m.Title, err)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return newSeatSheet(m), nil
}

func (d *seatSheet) draw(page ink.Surface) {
	d.page = page
	d.heading.draw(d.sheet)
	d.face()
	d.names()
	d.marks()
	d.rings()
	d.explain()
}

func (m *SeatMap) check() error {
	switch {
	case len(m.Holes)+len(m.Seats) == 0:
		return fmt.Errorf("neither hole nor seat")
	case !(m.Cap >= 0 && m.Cap < math.MaxFloat64):
		return fmt.Errorf("cap %g: it must be a number of 0 or more", m.Cap)
	}
	for _, h := range m.Holes {
		if !finite(h.X, h.Y) {
			return fmt.Errorf("hole %q is nowhere: %g, %g", h.Name, h.X, h.Y)
		}
	}
	for _, l := range append(append([]Label(nil), m.Columns...), m.Rows...) {
		if !finite(l.At) {
			return fmt.Errorf("label %q is nowhere: %g", l.Name, l.At)
		}
	}
	for i := range m.Seats {
		s := &m.Seats[i]
		if !finite(s.X, s.Y, s.Turned) {
			return fmt.Errorf("seat %q is nowhere: %g, %g, turned %g", s.Name, s.X, s.Y, s.Turned)
		}
		if err := s.check(); err != nil {
			return err
		}
	}
	return checkSize(m.Width, m.Height, m.Lettering)
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
