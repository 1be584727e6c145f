package blocks

import "math"

// The raster covers the top of the block, 60 x 100 with its upper face at 62, and passes its
// edges. All in mm and in the part's coordinates.
const (
	overX, overY = 31.0, 52.0 // half of what it covers
	stepOver     = 0.25       // from row to row, along X
	step         = 0.3        // from block to block, along Y
	first, last  = 61.5, 58.7 // the tip's height at the edge, in the first pass and in the last
	crown        = 0.8        // how much higher it is in the middle
	columns      = 347        // of 104 / 0.3, and the first
	rows         = 249        // of 62 / 0.25, and the first
	perPass      = rows * columns
)

// place is where the tip is sent to.
type place struct{ x, y, z float64 }

// raster is a path of so many places, to and fro, in as many passes as it takes.
type raster struct{ places int64 }

// at returns place i, from 0. From one to the next it goes a step, a step over, or down to the
// next pass.
func (r raster) at(i int64) place {
	pass, i := i/perPass, i%perPass
	if pass%2 == 1 { // the same way back
		i = perPass - 1 - i
	}
	row, column := i/columns, i%columns
	if row%2 == 1 {
		column = columns - 1 - column
	}
	passes := (r.places + perPass - 1) / perPass
	down := 1.0
	if passes > 1 {
		down = float64(pass) / float64(passes-1)
	}
	x, y := -overX+float64(row)*stepOver, -overY+float64(column)*step
	top := crown * math.Cos(x/overX*math.Pi/2) * math.Cos(y/overY*math.Pi/2)
	return place{x, y, first + (last-first)*down + top}
}
