package chart

import (
	"image/color"
	"math"
	"slices"

	"gridswing/render/ink"
)

// seatSheet is a map of seats being drawn.
type seatSheet struct {
	*sheet
	*SeatMap
	places       []*place
	pixels       float64    // per mm
	left, low    float64    // mm; what is at the lower left corner of the plot
	hole, radius float64    // pixels; of a hole and of a place's mark
	nose         float64    // pixels; of what sticks out of a mark
	several      bool       // there are several orientations
	named        []ink.Area // where names of holes are
	heading      heading
	listed       choiceKey
}

const (
	seatKeyWidth = 400
	besideKey    = margin + seatKeyWidth + 44 // from the plot to the right edge
	besideRows   = 110                        // from the left edge to the plot
	belowPlot    = 72                         // for the names of columns
)

func newSeatSheet(m *SeatMap) *seatSheet {
	width, height, unit := m.Width, m.Height, 1.0
	fixed := width != 0 || height != 0
	if fixed {
		unit = unitOf(m.Lettering, float64(width), float64(height))
	} else {
		width, unit = 1600, unitOf(m.Lettering, 1600, 1200)
	}
	limit := m.Cap
	if limit == 0 {
		limit = mostShare
	}
	d := &seatSheet{SeatMap: m, places: placesOf(m.Seats)}
	d.heading = headingOf(m.Bare, m.Title, m.Caption, float64(width), unit)
	h := &d.heading
	if fixed {
		h.within(float64(height))
	}
	left, right, low, high, room := m.extent()
	edge := 0.0
	if m.Bare {
		edge = bareEdge * unit
	}
	wide := float64(width) - (besideRows+besideKey)*unit + 2*edge
	top := h.height() + 22*unit
	d.listed = choiceKey{sheet: &sheet{Swing: &Swing{Cap: limit}, unit: unit, shades: newShades(limit)}, choices: m.choices(), width: seatKeyWidth * unit}
	d.several = len(d.turns()) > 1
	if d.several {
		d.listed.more = compassHeight * unit
	}
	if !fixed {
		plot := min(wide*(high-low+2*room)/(right-left+2*room), 1000)
		height = int(math.Ceil(top + d.listed.settle(plot*(right-left+2*room)/(high-low+2*room), plot+belowPlot)))
	}
	tall := float64(height) - top - belowPlot*unit
	d.pixels = min(wide/(right-left+2*room), tall/(high-low+2*room))
	d.left, d.low = left-room, low-room
	d.sheet = newChoiceSheet(*h, limit, width, height)
	d.listed.sheet = d.sheet
	d.plot = ink.Area{X0: math.Round(besideRows*unit - edge), Y0: math.Round(top)}
	d.plot.X1 = math.Round(d.plot.X0 + d.pixels*(right-left+2*room))
	d.plot.Y1 = math.Round(d.plot.Y0 + d.pixels*(high-low+2*room))
	d.sizes()
	if fixed {
		d.listed.settleWithin(d.plot.Width(), d.plot.Height()+belowPlot*unit, float64(height)-d.plot.Y0)
	}
	return d
}

// extent returns the box of all holes and seats, and the room round it, in mm.
func (m *SeatMap) extent() (left, right, low, high, room float64) {
	left, low, right, high = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	take := func(x, y float64) {
		left, right, low, high = min(left, x), max(right, x), min(low, y), max(high, y)
	}
	var holes []ink.Point
	for _, h := range m.Holes {
		take(h.X, h.Y)
		holes = append(holes, ink.Point{X: h.X, Y: h.Y})
	}
	for _, s := range m.Seats {
		take(s.X, s.Y)
	}
	room = 0.6 * nearest(holes)
	if !finite(room) {
		room = max(0.05*max(right-left, high-low), 1)
	}
	return left, right, low, high, room
}

// nearest returns the least distance of two points that are not the same, +Inf if there are none.
func nearest(points []ink.Point) float64 {
	least := math.Inf(1)
	for i, p := range points {
		for _, q := range points[:i] {
			if d := math.Hypot(p.X-q.X, p.Y-q.Y); d > 1e-6 {
				least = min(least, d)
			}
		}
	}
	return least
}

func (m *SeatMap) choices() []*Choice {
	list := make([]*Choice, len(m.Seats))
	for i := range m.Seats {
		list[i] = &m.Seats[i].Choice
	}
	return list
}

// sizes chooses how large holes and marks are, so that marks keep apart.
func (d *seatSheet) sizes() {
	u := d.unit
	var middles, holes []ink.Point
	for _, p := range d.places {
		middles = append(middles, d.at(p.x, p.y))
	}
	for _, h := range d.Holes {
		holes = append(holes, d.at(h.X, h.Y))
	}
	d.hole = max(3*u, min(0.16*nearest(holes), 10*u))
	d.radius = max(5*u, min(0.4*nearest(middles), 26*u))
	for _, p := range middles { // leave holes beside a mark free, if it does not get too small
		for _, h := range holes {
			free := math.Hypot(p.X-h.X, p.Y-h.Y) - d.hole - 2*u
			if free >= 14*u {
				d.radius = min(d.radius, free)
			}
		}
	}
	d.nose = max(3*u, min(0.3*(nearest(middles)-2*d.radius), 8*u))
}

// at returns where a point of the grid's face is on the page.
func (d *seatSheet) at(x, y float64) ink.Point {
	return ink.Point{X: d.plot.X0 + d.pixels*(x-d.left), Y: d.plot.Y1 - d.pixels*(y-d.low)}
}

var (
	faceGround = color.RGBA{240, 240, 238, 255}
	holeLine   = color.RGBA{128, 132, 138, 255}
)

// face draws the grid without what stands on it.
func (d *seatSheet) face() {
	d.page.Fill(d.plot.X0, d.plot.Y0, d.plot.X1, d.plot.Y1, faceGround)
	d.frame()
	for _, h := range d.Holes {
		d.page.Disc(d.at(h.X, h.Y), d.hole, holeLine)
		d.page.Disc(d.at(h.X, h.Y), d.hole-2*d.unit, ink.Paper)
	}
}

// names writes the names of columns and rows, or of every hole that has room for it.
func (d *seatSheet) names() {
	u := d.unit
	if len(d.Columns)+len(d.Rows) == 0 {
		d.holeNames()
		return
	}
	end := math.Inf(-1)
	for _, l := range d.Columns {
		x, half := d.at(l.At, 0).X, d.text().Width(l.Name)/2
		if x-half < end {
			continue // it would run into the one before
		}
		d.page.Text(x, d.plot.Y1+32*u, ink.Center, d.text(), l.Name)
		end = x + half + 6*u
	}
	end = math.Inf(1)
	for _, l := range d.Rows {
		y := d.at(0, l.At).Y
		if y+d.text().Ascent()/2 > end {
			continue
		}
		d.page.Text(d.plot.X0-14*u, y+d.text().Ascent()/2, ink.Right, d.text(), l.Name)
		end = y - d.text().Ascent()/2 - 6*u
	}
}

// holeNames writes names beside holes, where no mark, hole or other name is in the way.
func (d *seatSheet) holeNames() {
	u := d.unit
	letters := ink.Type{Size: 17 * u, Color: ink.Text}
	for _, h := range d.Holes {
		p := d.at(h.X, h.Y)
		w, rise := letters.Width(h.Name), letters.Ascent()
		away := d.hole + 5*u
		for _, foot := range []ink.Point{ // of the name's base line, at its left end
			{X: p.X - w/2, Y: p.Y + away + rise}, {X: p.X - w/2, Y: p.Y - away}, {X: p.X + away, Y: p.Y + rise/2}, {X: p.X - away - w, Y: p.Y + rise/2},
			{X: p.X + 0.7*away, Y: p.Y + 0.7*away + rise}, {X: p.X - 0.7*away - w, Y: p.Y + 0.7*away + rise}, {X: p.X + 0.7*away, Y: p.Y - 0.7*away}, {X: p.X - 0.7*away - w, Y: p.Y - 0.7*away},
		} {
			box := ink.Area{X0: foot.X, Y0: foot.Y - rise, X1: foot.X + w, Y1: foot.Y}
			if box.Within(d.plot.Shrunk(3*u)) && d.free(box) {
				d.page.Text(foot.X, foot.Y, ink.Left, letters, h.Name)
				d.named = append(d.named, box)
				break
			}
		}
	}
}

// free reports whether neither mark, hole nor name is in an area.
func (d *seatSheet) free(a ink.Area) bool {
	u := d.unit
	within := func(p ink.Point, radius float64) bool {
		x, y := max(a.X0, min(p.X, a.X1)), max(a.Y0, min(p.Y, a.Y1))
		return math.Hypot(x-p.X, y-p.Y) < radius
	}
	for _, p := range d.places {
		if within(d.at(p.x, p.y), 1.25*d.radius+3*u) {
			return false
		}
	}
	for _, h := range d.Holes {
		if within(d.at(h.X, h.Y), d.hole+2*u) {
			return false
		}
	}
	roomy := a.Shrunk(-2 * u)
	return !slices.ContainsFunc(d.named, roomy.Overlaps)
}
