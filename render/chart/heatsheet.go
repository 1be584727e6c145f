package chart

import (
	"math"
	"strings"

	"gridswing/render/ink"
)

// heatSheet is a table of candidates being drawn.
type heatSheet struct {
	*sheet
	*HeatMap
	wide, tall    float64    // pixels; a cell
	columns, rows [][]string // the values, in lines
	across, up    []string   // the names of the lists, in lines
	upright       bool       // the values of columns are written upward
	heading       heading
	under         float64 // pixels; where what is written below the plot ends
	listed        choiceKey
}

const (
	heatKeyWidth = 380
	besideHeat   = margin + heatKeyWidth + 44 // from the plot to the right edge
	valueStep    = 24                         // from line to line of a value
	nameStep     = 28                         // from line to line of a list's name
)

func newHeatSheet(m *HeatMap) *heatSheet {
	unit, limit := unitOf(m.Lettering, 1600, 1200), m.Cap
	fixed := m.Width != 0 || m.Height != 0
	if fixed {
		unit = unitOf(m.Lettering, float64(m.Width), float64(m.Height))
	}
	if limit == 0 {
		limit = mostShare
	}
	d := &heatSheet{HeatMap: m}
	d.sheet = &sheet{Swing: &Swing{Cap: limit}, unit: unit, shades: newShades(limit)}
	if m.Bare {
		d.edge = bareEdge * unit
	}
	d.listed = choiceKey{sheet: d.sheet, choices: m.choices(), width: heatKeyWidth * unit, missing: len(m.choices()) < len(m.Cells), empty: m.Empty}
	left := d.wrapRows()
	width, height, top, bottom := d.measure(left, fixed)
	d.sheet = newChoiceSheet(d.heading, limit, width, height)
	d.listed.sheet = d.sheet
	d.plot = ink.Area{X0: math.Round(left), Y0: math.Round(top)}
	d.tall = min(d.tall, max((float64(height)-top-bottom)/float64(len(m.Rows.Values)), 1))
	d.cutRows()
	d.plot.X1 = math.Round(d.plot.X0 + d.wide*float64(len(m.Columns.Values)))
	d.plot.Y1 = math.Round(d.plot.Y0 + d.tall*float64(len(m.Rows.Values)))
	d.under = d.plot.Y1 + bottom
	if fixed {
		d.listed.settleWithin(d.plot.Width(), d.under-d.plot.Y0, float64(height)-d.plot.Y0)
	}
	return d
}

func (m *HeatMap) choices() []*Choice {
	var list []*Choice
	for i := range m.Cells {
		if !m.Cells[i].Missing {
			list = append(list, &m.Cells[i].Choice)
		}
	}
	return list
}

// wrapRows breaks the values of rows into lines, and returns where the plot begins.
func (d *heatSheet) wrapRows() float64 {
	u := d.unit
	widest := 0.0
	for _, v := range d.HeatMap.Rows.Values {
		lines := ink.Wrap(d.small(), v, 330*u)
		d.rows = append(d.rows, lines)
		for _, l := range lines {
			widest = max(widest, d.small().Width(l))
		}
	}
	d.up = ink.Lines(ink.Wrap(d.strong(), d.HeatMap.Rows.Name, 300*u), 4)
	return widest + (margin+16+nameStep*float64(len(d.up))+24)*u - d.edge
}

// measure chooses the size of cells, and of the picture if that is not fixed.
func (d *heatSheet) measure(left float64, fixed bool) (width, height int, top, bottom float64) {
	u, n, rows := d.unit, float64(len(d.HeatMap.Columns.Values)), float64(len(d.HeatMap.Rows.Values))
	d.wide, d.tall = max(60*u, min(900*u/n, 240*u)), max(50*u, min(720*u/rows, 120*u))
	for _, lines := range d.rows {
		d.tall = max(d.tall, (valueStep*float64(len(lines))+8)*u)
	}
	for _, line := range d.up {
		d.tall = max(d.tall, (d.strong().Width(line)+8*u)/rows)
	}
	width, height = d.Width, d.Height
	if fixed {
		d.wide = max(min(d.wide, (float64(width)-left-besideHeat*u+d.edge)/n), 1)
	} else {
		width = int(math.Ceil(max(left+d.wide*n+besideHeat*u-d.edge, 1000*u)))
	}
	d.heading = headingOf(d.HeatMap.Bare, d.Title, d.Caption, float64(width), u)
	d.wrapColumns()
	if fixed {
		d.heading.within(float64(height))
		d.cutColumns(0.4 * float64(height))
	}
	top = d.heading.height() + 22*u
	d.across = ink.Lines(ink.Wrap(d.strong(), d.HeatMap.Columns.Name, max(d.wide*n, 300*u)), 3)
	bottom = d.below() + (nameStep*float64(len(d.across))+36)*u
	if !fixed {
		height = int(math.Ceil(top + d.listed.settle(d.wide*n, d.tall*rows+bottom)))
	}
	return width, height, top, bottom
}

// wrapColumns breaks the values of columns into lines, level if that takes no more than
// three, else upward.
func (d *heatSheet) wrapColumns() {
	u := d.unit
	level := 0
	for _, v := range d.HeatMap.Columns.Values {
		lines := ink.Wrap(d.small(), v, d.wide-10*u)
		d.columns = append(d.columns, lines)
		level = max(level, len(lines))
		for _, word := range strings.Fields(v) {
			d.upright = d.upright || d.small().Width(word) > d.wide-10*u
		}
	}
	d.upright = d.upright || level > 3
	if !d.upright {
		return
	}
	most := max(1, int(d.wide/(valueStep*u)))
	for i, v := range d.HeatMap.Columns.Values {
		d.columns[i] = leastWide(d.small(), v, most, 300*u)
	}
}

// cutColumns shortens what is written below the plot to the room there is.
func (d *heatSheet) cutColumns(room float64) {
	for _, lines := range d.columns {
		for k := range lines {
			if d.upright {
				lines[k] = ink.Shorten(d.small(), lines[k], room)
			}
		}
	}
}

// cutRows leaves out lines of the values of rows that have no room.
func (d *heatSheet) cutRows() {
	most := max(1, int(d.tall/(valueStep*d.unit)))
	for r := range d.rows {
		d.rows[r] = ink.Lines(d.rows[r], most)
	}
}

// leastWide breaks a text into no more lines than may be, of the given width if that does,
// else as wide as they must be.
func leastWide(t ink.Type, s string, most int, width float64) []string {
	for {
		if lines := ink.Wrap(t, s, width); len(lines) <= most {
			return lines
		}
		width *= 1.15
	}
}

// cell returns where a cell is, on whole pixels.
func (d *heatSheet) cell(i int) ink.Area {
	n := len(d.HeatMap.Columns.Values)
	c, r := float64(i%n), float64(i/n)
	x := func(c float64) float64 { return math.Round(d.plot.X0 + d.wide*c) }
	y := func(r float64) float64 { return math.Round(d.plot.Y0 + d.tall*r) }
	return ink.Area{X0: x(c), Y0: y(r), X1: x(c + 1), Y1: y(r + 1)}
}

// columnValues writes the values of the columns and what they are below the plot.
func (d *heatSheet) columnValues() {
	u := d.unit
	for i, lines := range d.columns {
		a := d.cell(i)
		x := (a.X0 + a.X1) / 2
		for k, l := range lines {
			if !d.upright {
				d.page.Text(x, d.plot.Y1+(14+valueStep*float64(k))*u+d.small().Ascent(), ink.Center, d.small(), l)
				continue
			}
			at := x + (float64(k)-float64(len(lines)-1)/2)*valueStep*u + d.small().Ascent()/2
			d.page.TextUp(at, d.plot.Y1+14*u+d.small().Width(l)/2, d.small(), l)
		}
	}
	for k, l := range d.across {
		d.page.Text((d.plot.X0+d.plot.X1)/2, d.plot.Y1+d.below()+(28+nameStep*float64(k))*u, ink.Center, d.strong(), l)
	}
}

// below is how much room the values of the columns take.
func (d *heatSheet) below() float64 {
	u, most := d.unit, 0.0
	for _, lines := range d.columns {
		if !d.upright {
			most = max(most, (16+valueStep*float64(len(lines)))*u)
			continue
		}
		for _, l := range lines {
			most = max(most, d.small().Width(l)+28*u)
		}
	}
	return most
}

// rowValues writes the values of the rows and what they are to the left of the plot.
func (d *heatSheet) rowValues() {
	u := d.unit
	for r, lines := range d.rows {
		a := d.cell(r * len(d.columns))
		y := (a.Y0+a.Y1)/2 - valueStep*u*float64(len(lines)-1)/2 + d.small().Ascent()/2
		for k, l := range lines {
			d.page.Text(d.plot.X0-14*u, y+valueStep*u*float64(k), ink.Right, d.small(), l)
		}
	}
	for k, l := range d.up {
		d.page.TextUp((margin+18+nameStep*float64(k))*u-d.edge, (d.plot.Y0+d.plot.Y1)/2, d.strong(), l)
	}
}
