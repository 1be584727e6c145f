package ink

import "math"

const halfRoot = math.Sqrt2 / 2 // projects x + y onto the diagonal

// Pattern is a texture that can be told from the others without colour.
type Pattern uint8

// The patterns. All are fixed to the canvas, so that neighbouring areas of one
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
)

// Coverage returns how much of the pixel the pattern's ink covers, 0 to 1.
func (p Pattern) Coverage(x, y int) float64 {
	px, py := float64(x)+0.5, float64(y)+0.5
	switch p {
	case Hatch:
		return stripes((px+py)*halfRoot, 10, 4)
	case HatchDown:
		return stripes((px-py)*halfRoot, 10, 4)
	case CrossHatch:
		return max(stripes((px+py)*halfRoot, 9, 2.2), stripes((px-py)*halfRoot, 9, 2.2))
	case Dots:
		return max(dots(px, py, 10, 2.3), dots(px+5, py+5, 10, 2.3))
	case Fine:
		return stripes((px-py)*halfRoot, 14, 2)
	case Bars:
		return stripes(px, 8, 2)
	case Rungs:
		return stripes(py, 8, 2)
	case SectionUp:
		return stripes((px+py)*halfRoot, 6, 1)
	case SectionDown:
		return stripes((px-py)*halfRoot, 6, 1)
	}
	return 0
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
