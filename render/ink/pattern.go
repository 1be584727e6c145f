package ink

import "math"

const halfRoot = math.Sqrt2 / 2 // projects x + y onto the diagonal

// Pattern is a texture that can be told from the others without colour.
type Pattern uint8

// The patterns. All are fixed to the surface, so that neighbouring areas of one
// pattern run into each other without a seam.
const (
	Blank       Pattern = iota
	Hatch               // heavy lines rising to the right
	HatchDown           // the same, falling to the right
	CrossHatch          // lines both ways
	Dots                // round dots in a quincunx
	Fine                // thin lines falling to the right, far apart
	Bars                // upright bars
	Rungs               // level bars
	SectionUp           // thin, close lines rising: the cut face of a body
	SectionDown         // the same, falling: the cut face of its neighbour
	patterns
	halved Pattern = 0x80 // a pattern at half its size
)

// Stripes are parallel lines of the given width, one in each period: where X*x + Y*y, divided
// by the length of (X, Y), is a multiple of it. All in pixels.
type Stripes struct {
	X, Y          float64 // 0, 1 or -1
	Period, Width float64
}

// Quincunx is dots at multiples of the period both ways, and in the middle of each four.
type Quincunx struct{ Period, Radius float64 }

// texture is what a pattern is made of.
type texture struct {
	stripes []Stripes
	dots    *Quincunx
}

var textures = [patterns]texture{
	Hatch:       {stripes: []Stripes{{1, 1, 10, 4}}},
	HatchDown:   {stripes: []Stripes{{1, -1, 10, 4}}},
	CrossHatch:  {stripes: []Stripes{{1, 1, 9, 2.2}, {1, -1, 9, 2.2}}},
	Dots:        {dots: &Quincunx{10, 2.3}},
	Fine:        {stripes: []Stripes{{1, -1, 14, 2}}},
	Bars:        {stripes: []Stripes{{1, 0, 8, 2}}},
	Rungs:       {stripes: []Stripes{{0, 1, 8, 2}}},
	SectionUp:   {stripes: []Stripes{{1, 1, 6, 1}}},
	SectionDown: {stripes: []Stripes{{1, -1, 6, 1}}},
}

func (p Pattern) texture() *texture {
	if p &^= halved; p < patterns {
		return &textures[p]
	}
	return &textures[Blank]
}

// Halved returns the pattern at half its size, for small areas.
func (p Pattern) Halved() Pattern { return p | halved }

// Lines returns what the pattern is made of, for those who draw it as lines: stripes, or dots
// if they are not nil.
func (p Pattern) Lines() (stripes []Stripes, dots *Quincunx) {
	t := p.texture()
	if p&halved == 0 {
		return t.stripes, t.dots
	}
	for _, s := range t.stripes {
		stripes = append(stripes, Stripes{s.X, s.Y, s.Period / 2, s.Width / 2})
	}
	if t.dots != nil {
		dots = &Quincunx{t.dots.Period / 2, t.dots.Radius / 2}
	}
	return stripes, dots
}

// Coverage returns how much of the pixel the pattern's ink covers, 0 to 1.
func (p Pattern) Coverage(x, y int) float64 { return p.CoverageAt(x, y, 1) }

// CoverageAt returns the coverage of a pixel of an Image that has so many pixels to one of the
// surface that it is for.
func (p Pattern) CoverageAt(x, y int, density float64) float64 {
	if p&halved != 0 {
		p &^= halved
		return (p.CoverageAt(2*x, 2*y, density) + p.CoverageAt(2*x+1, 2*y, density) +
			p.CoverageAt(2*x, 2*y+1, density) + p.CoverageAt(2*x+1, 2*y+1, density)) / 4
	}
	t, most := p.texture(), 0.0
	px, py := float64(x)+0.5, float64(y)+0.5
	for _, s := range t.stripes {
		u := px*s.X + py*s.Y
		if s.X != 0 && s.Y != 0 {
			u *= halfRoot
		}
		most = max(most, stripes(u, s.Period*density, s.Width*density))
	}
	if d := t.dots; d != nil {
		period, radius := d.Period*density, d.Radius*density
		most = max(dots(px, py, period, radius), dots(px+period/2, py+period/2, period, radius))
	}
	return most
}

// stripes is the coverage of lines of the given width across u, one in each period.
func stripes(u, period, width float64) float64 {
	d := math.Abs(u - period*math.Floor(u/period+0.5))
	return max(0, min(width/2+0.5-d, 1, width))
}

func dots(x, y, period, radius float64) float64 {
	dx := x - period*math.Floor(x/period+0.5)
	dy := y - period*math.Floor(y/period+0.5)
	return max(0, min(radius+0.5-math.Hypot(dx, dy), 1))
}
