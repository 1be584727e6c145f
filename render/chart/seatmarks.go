package chart

import (
	"image/color"
	"math"
	"slices"
	"strconv"

	"gridswing/render/ink"
)

// place is a point of the grid's face and the seats whose middle it is.
type place struct {
	x, y  float64
	seats []*Seat // by their orientation
}

// same is the distance in mm, and the angle in degrees, below which nothing is told apart.
const same = 1e-4

func placesOf(seats []Seat) []*place {
	var list []*place
	index := map[[2]int64]*place{}
	for i := range seats {
		s := &seats[i]
		key := [2]int64{int64(math.Round(s.X / same)), int64(math.Round(s.Y / same))}
		p := index[key]
		if p == nil {
			p = &place{x: s.X, y: s.Y}
			index[key] = p
			list = append(list, p)
		}
		p.seats = append(p.seats, s)
	}
	for _, p := range list {
		slices.SortStableFunc(p.seats, func(a, b *Seat) int { return int(math.Copysign(1, a.turn()-b.turn())) })
	}
	return list
}

// turn returns the orientation within [0, 360), to a ten-thousandth of a degree.
func (s *Seat) turn() float64 {
	t := math.Mod(math.Round(s.Turned/same)*same, 360)
	if t < 0 {
		t += 360
	}
	return math.Mod(t, 360)
}

// turns lists the orientations that occur.
func (m *SeatMap) turns() []float64 {
	var list []float64
	for i := range m.Seats {
		list = append(list, m.Seats[i].turn())
	}
	slices.Sort(list)
	return slices.CompactFunc(list, func(a, b float64) bool { return abs(a-b) < same })
}

// ahead is the point so many pixels from p in an orientation; y runs down on the page.
func ahead(p ink.Point, turn, by float64) ink.Point {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	return ink.Point{X: p.X + by*cos, Y: p.Y - by*sin}
}

// halfway returns the orientation between a seat of a place and the next one.
func (p *place) halfway(i int) float64 {
	a, b := p.seats[i].turn(), p.seats[(i+1)%len(p.seats)].turn()
	if i+1 == len(p.seats) {
		b += 360
	}
	return (a + b) / 2
}

// sector returns the outline of a seat's part of a disc: all directions nearest to where it is
// turned.
func (p *place) sector(i int, at ink.Point, radius float64) []ink.Point {
	const step = 4 // degrees: 0.02 pixels off the circle if the radius is 30
	to := p.halfway(i)
	from, outline := to-360, []ink.Point(nil)
	if n := len(p.seats); n > 1 {
		outline = append(outline, at)
		for from = p.halfway((i + n - 1) % n); from > to; {
			from -= 360
		}
	}
	for n, k := math.Ceil((to-from)/step)+1, 0.0; k <= n; k++ {
		outline = append(outline, ahead(at, from+(to-from)*k/n, radius))
	}
	return outline
}

// marks draws a disc for each place, divided among the orientations there.
func (d *seatSheet) marks() {
	for _, p := range d.places {
		d.mark(d.at(p.x, p.y), d.radius, p)
	}
}

func (d *seatSheet) mark(at ink.Point, radius float64, p *place) {
	u := d.unit
	d.page.Disc(at, radius+1.2*u, ink.Text)
	for i, s := range p.seats {
		l, part := d.ground(&s.Choice), p.sector(i, at, radius)
		d.page.Polygon(part, l.ground)
		d.page.PatternIn([][]ink.Point{part}, l.pattern.Halved(), l.stroke)
	}
	if len(p.seats) > 1 {
		for i := range p.seats {
			d.page.Line(4*u, ink.Paper, at, ahead(at, p.halfway(i), radius))
		}
		for i := range p.seats {
			d.page.Line(1.6*u, ink.Text, at, ahead(at, p.halfway(i), radius))
		}
	}
	if d.several {
		for _, s := range p.seats {
			d.page.Line(3*u, ink.Text, ahead(at, s.turn(), radius), ahead(at, s.turn(), radius+d.nose))
		}
	}
}

// rings points at the present seat and those with a rank: by a number on the part of the
// mark that is theirs if there is room for one, else beside it.
func (d *seatSheet) rings() {
	l := ink.Labels{Inside: d.plot.Shrunk(6 * d.unit), Unit: d.unit, Cost: d.covered}
	var wanted []ink.Label
	var numbers []func()
	for _, p := range d.places {
		for _, s := range p.seats {
			if s.Rank == 0 && !s.Present {
				continue
			}
			at, part := d.at(p.x, p.y), d.radius
			d.ring(at, 1.25*d.radius, &s.Choice)
			if len(p.seats) > 1 {
				at, part = ahead(at, s.turn(), 0.6*d.radius), 0.5*d.radius
			}
			if s.Rank > 0 && part >= 10*d.unit {
				if !s.Present {
					l.Keep = append(l.Keep, [2]ink.Point{{X: at.X - 12*d.unit, Y: at.Y}, {X: at.X + 12*d.unit, Y: at.Y}})
				}
				numbers = append(numbers, func() { d.number(at, s.Rank) })
				if s.Present {
					wanted = append(wanted, ink.Label{Words: "now", Anchor: at})
				}
				continue
			}
			wanted = append(wanted, ink.Label{Words: s.mark(), Anchor: at})
		}
	}
	slices.SortStableFunc(wanted, func(a, b ink.Label) int { return len(a.Words) - len(b.Words) })
	l.Place(wanted)
	l.Draw(d.page)
	for _, w := range wanted {
		d.page.Disc(w.Anchor, 4.5*d.unit, ink.Paper)
		d.page.Disc(w.Anchor, 3*d.unit, ink.Text)
	}
	for _, draw := range numbers {
		draw()
	}
}

// mark returns what a candidate is called on the picture.
func (c *Choice) mark() string {
	switch {
	case c.Rank > 0 && c.Present:
		return strconv.Itoa(c.Rank) + ", now"
	case c.Rank > 0:
		return strconv.Itoa(c.Rank)
	}
	return "now"
}

// ring draws a whole ring round one with a rank, a broken one round the present one.
func (d *seatSheet) ring(at ink.Point, radius float64, c *Choice) {
	const dash, step = 16, 30 // degrees
	u := d.unit
	for _, l := range []struct {
		width float64
		color color.RGBA
	}{{6 * u, ink.Paper}, {3 * u, ink.Text}} {
		for from := 0.0; from < 360; from += step {
			long := float64(dash)
			if c.Rank > 0 {
				long = step + 1 // into the next one: no seam
			}
			ink.Arc(d.page, at, radius, l.width, from, from+long, l.color)
		}
	}
}

// covered is how much of an area marks are in, from 0 to 1; those that are good count twice.
func (d *seatSheet) covered(a ink.Area) float64 {
	wide := a.Shrunk(-d.radius)
	sum := 0.0
	for _, p := range d.places {
		if !wide.Holds(d.at(p.x, p.y)) {
			continue
		}
		sum++
		if slices.ContainsFunc(p.seats, func(s *Seat) bool { return s.State == Clear && !s.GivenUp }) {
			sum++
		}
	}
	for _, h := range d.Holes {
		if a.Shrunk(-d.hole).Holds(d.at(h.X, h.Y)) {
			sum++
		}
	}
	for _, t := range d.named {
		if t.Overlaps(a) {
			sum += 2
		}
	}
	return min(1, sum*math.Pi*d.radius*d.radius/2/(a.Width()*a.Height()))
}
