package chart

import (
	"image/color"

	"gridswing/render/ink"
)

// mosaic collects the areas of cells, and draws them as their states look.
type mosaic struct {
	*sheet
	tiles    []ink.Tile
	patterns []patterned // in the order in which they occur
}

// patterned is all areas that one pattern is on.
type patterned struct {
	pattern ink.Pattern
	stroke  color.RGBA
	areas   []ink.Area
}

func newMosaic(d *sheet) *mosaic { return &mosaic{sheet: d} }

// add adds a cell; those of one row follow each other.
func (m *mosaic) add(a ink.Area, c *Cell) {
	l := *c.State.look()
	if l.shaded {
		l.ground = m.shades.of(c.Lower)
	}
	m.lay(a, l)
}

func (m *mosaic) lay(a ink.Area, l look) {
	if !(a.X0 < a.X1 && a.Y0 < a.Y1) {
		return // narrower than a pixel: another cell has it
	}
	if n := len(m.tiles); n > 0 && m.tiles[n-1].Color == l.ground && adjoin(&m.tiles[n-1].Area, a) {
		m.tiles[n-1].X1 = a.X1
	} else {
		m.tiles = append(m.tiles, ink.Tile{Area: a, Color: l.ground})
	}
	if l.pattern == ink.Blank {
		return
	}
	for i := range m.patterns {
		if p := &m.patterns[i]; p.pattern == l.pattern && p.stroke == l.stroke {
			if n := len(p.areas); adjoin(&p.areas[n-1], a) {
				p.areas[n-1].X1 = a.X1
			} else {
				p.areas = append(p.areas, a)
			}
			return
		}
	}
	m.patterns = append(m.patterns, patterned{l.pattern, l.stroke, []ink.Area{a}})
}

// adjoin reports whether b goes on to the right where a ends.
func adjoin(a *ink.Area, b ink.Area) bool { return a.X1 == b.X0 && a.Y0 == b.Y0 && a.Y1 == b.Y1 }

func (m *mosaic) draw() {
	m.page.Mosaic(m.tiles)
	for _, p := range m.patterns {
		outlines := make([][]ink.Point, len(p.areas))
		for i, a := range p.areas {
			outlines[i] = a.Outline()
		}
		m.page.PatternIn(outlines, p.pattern, p.stroke)
	}
}

// edgeOf returns where the ith of n parts of so many pixels begins: a pixel belongs to the part
// its middle is in.
func edgeOf(i, n, pixels int) int { return (2*i*pixels + n - 1) / (2 * n) }
