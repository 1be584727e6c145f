package chart

import (
	"context"
	"fmt"
	"image"

	"gridswing/render/ink"
)

// HeightStrip shows over a range of heights which ones are proven good, which fail, and why.
type HeightStrip struct {
	Title   string
	Caption []string
	Name    string // of what the height is, such as "height of the spacer"
	Unit    string // "mm" or "in"
	// Decimals are those of printed heights, 0 to 6. The ends of what is clear are rounded inward.
	Decimals int
	// Stretches follow each other upward without gaps from the least height to the greatest.
	Stretches []Stretch
	Stock     []Height // heights that can be had: what a catalogue has
	Present   *Height  // as the setup stands now; nil: none
	Best      *Height  // the recommended one; nil: none
	Width     int      // pixels; 0: 1600
	Bare      bool
	Lettering float64 // as in Swing
	// The picture is as high as its list needs.
}

// Stretch is a range of heights of one verdict.
type Stretch struct {
	From, To float64
	State    State
	Reason   string // in a sentence or less; "" if there is nothing to say
}

// Height is a height with a name.
type Height struct {
	At   float64
	Name string // printed beside the height
}

// Draw draws the strip. It fails if the stretches do not follow each other, a height is
// no number, or the context is done. Heights outside of the stretches are left out.
func (s *HeightStrip) Draw(ctx context.Context) (*image.RGBA, error) { return pixelsOf(s.sheet(ctx)) }

// Size returns how large the picture is that Draw draws, in pixels, and fails where it does.
func (s *HeightStrip) Size(ctx context.Context) (width, height int, err error) {
	return sizeOf(s.sheet(ctx))
}

// DrawOn draws the strip on a surface, of whose height it takes what it needs, and fails where
// Draw does. If the surface is not high enough, all is drawn smaller.
func (s *HeightStrip) DrawOn(ctx context.Context, page ink.Surface) error {
	c := *s
	width, height := sized(page)
	c.Width = width
	for {
		d, err := c.sheet(ctx)
		if err != nil {
			return err
		}
		if d.Swing.Height <= height {
			d.draw(page)
			return nil
		}
		if c.Lettering = 0.95 * d.unit; c.Lettering < leastLettering {
			return fmt.Errorf("strip of heights %q: a surface of %d x %d pixels has no room for it", c.Title, width, height)
		}
	}
}

// sheet lays out the strip.
func (s *HeightStrip) sheet(ctx context.Context) (*stripSheet, error) {
	if err := s.check(); err != nil {
		return nil, fmt.Errorf("strip of heights %q: %w", s.Title, err)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return newStripSheet(s), nil
}

func (d *stripSheet) draw(page ink.Surface) {
	d.page = page
	d.heading.draw(d.sheet)
	d.bar()
	d.scale()
	d.named()
	d.numbers()
	d.list()
}

func (s *HeightStrip) check() error {
	switch {
	case len(s.Stretches) == 0:
		return fmt.Errorf("no stretch of heights")
	case s.Decimals < 0 || s.Decimals > 6:
		return fmt.Errorf("%d decimals: it must be 0 to 6", s.Decimals)
	case s.Width != 0 && (s.Width < 600 || s.Width > 20000):
		return fmt.Errorf("a width of %d pixels: it must be 600 to 20000", s.Width)
	}
	for i, r := range s.Stretches {
		if !finite(r.From, r.To) || r.From > r.To {
			return fmt.Errorf("stretch %d runs from %g to %g: it must run upward", i, r.From, r.To)
		}
		if i > 0 && r.From != s.Stretches[i-1].To {
			return fmt.Errorf("stretch %d begins at %g, where the one before ends at %g", i, r.From, s.Stretches[i-1].To)
		}
	}
	if s.Stretches[0].From >= s.Stretches[len(s.Stretches)-1].To {
		return fmt.Errorf("from %g to %g there is no range", s.Stretches[0].From, s.Stretches[len(s.Stretches)-1].To)
	}
	for _, h := range s.heights() {
		if !finite(h.At) {
			return fmt.Errorf("height %q is nowhere: %g", h.Name, h.At)
		}
	}
	return checkLettering(s.Lettering)
}

// heights lists all that have a name.
func (s *HeightStrip) heights() []Height {
	list := append([]Height(nil), s.Stock...)
	for _, h := range []*Height{s.Present, s.Best} {
		if h != nil {
			list = append(list, *h)
		}
	}
	return list
}
