package chart

import (
	"context"
	"fmt"
	"image"
	"math"

	"gridswing/render/ink"
)

// HeatMap is a table of candidates over two lists, row 0 on top, column 0 at the left:
// how much each combination leaves of what is demanded.
type HeatMap struct {
	Title         string
	Caption       []string
	Columns, Rows Scale
	Cells         []Combination // row by row
	Cap           float64       // share from which on all is one shade; 0: 5
	Empty         string        // what an empty cell means; "": no such combination
	Width, Height int           // pixels; 0: as the numbers and the values need it
	Bare          bool
	Lettering     float64 // as in Swing
}

// Scale is one of the lists: what varies, and its values as they are printed.
type Scale struct {
	Name   string // such as "stick-out of T3, mm"
	Values []string
}

// Combination is a cell of the table.
type Combination struct {
	Choice
	Missing bool // there is no such candidate: nothing was looked at, the cell stays empty
	Bare    bool // nothing was measured: no share is written
}

// Draw draws the table. It fails if the cells do not fit the lists, a number is no
// number, or the context is done.
func (m *HeatMap) Draw(ctx context.Context) (*image.RGBA, error) { return pixelsOf(m.sheet(ctx)) }

// Size returns how large the picture is that Draw draws, in pixels, and fails where it does.
func (m *HeatMap) Size(ctx context.Context) (width, height int, err error) {
	return sizeOf(m.sheet(ctx))
}

// DrawOn draws the table on all of a surface, and fails where Draw does. It is Draw's picture
// if the surface has its size.
func (m *HeatMap) DrawOn(ctx context.Context, page ink.Surface) error {
	d, err := m.sheet(ctx)
	if err != nil {
		return err
	}
	if width, height := sized(page); width != d.Swing.Width || height != d.Swing.Height {
		c := *m
		c.Width, c.Height = width, height
		c.Lettering = fitting(c.Lettering, width, height, func(unit float64) bool {
			c.Lettering = unit
			d := newHeatSheet(&c)
			return d.cramped(d.listed.height()/unit, float64(width)-d.plot.X0-besideHeat*unit)
		})
		if d, err = c.sheet(ctx); err != nil {
			return err
		}
	}
	d.draw(page)
	return nil
}

// sheet lays out the table.
func (m *HeatMap) sheet(ctx context.Context) (*heatSheet, error) {
	if err := m.check(); err != nil {
		return nil, fmt.Errorf("table of candidates %q: %w", m.Title, err)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return newHeatSheet(m), nil
}

func (d *heatSheet) draw(page ink.Surface) {
	d.page = page
	d.heading.draw(d.sheet)
	d.cells()
	d.borders()
	d.frame()
	d.columnValues()
	d.rowValues()
	d.rings()
	d.explain()
}

func (m *HeatMap) check() error {
	columns, rows := len(m.Columns.Values), len(m.Rows.Values)
	switch {
	case columns < 1 || rows < 1 || len(m.Cells) != columns*rows:
		return fmt.Errorf("%d cells for %d columns and %d rows", len(m.Cells), columns, rows)
	case !(m.Cap >= 0 && m.Cap < math.MaxFloat64):
		return fmt.Errorf("cap %g: it must be a number of 0 or more", m.Cap)
	}
	for i := range m.Cells {
		if err := m.Cells[i].check(); err != nil {
			return err
		}
	}
	return checkSize(m.Width, m.Height, m.Lettering)
}
