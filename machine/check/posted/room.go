package posted

import (
	"math"

	"gridswing/collide/material"
	"gridswing/machine"
)

// MostMemory is how much memory the stock may take, bytes, before somebody is told to take larger cells.
const MostMemory = 2e9

// Memory is about how much memory the stock of all parts takes in cells of a size, mm, 0 for those that
// fit their sizes; bytes.
func Memory(s *machine.Setup, cell float64) (sum float64) {
	o := Options{Cell: cell}
	for i := range s.Bodies {
		if partOf(s, i) < 0 {
			continue
		}
		solid := s.Bodies[i].Solid
		size := solid.Audit.Bounds.Size()
		sum += material.Memory(solid.Mesh, solid.ChordError, playOfBody(s, i), o.cellOf(max(size.X, size.Y, size.Z)))
	}
	return sum
}

// LeastCell is the smallest size of cells, mm, in two digits, with which the stock takes no more memory than most.
func LeastCell(s *machine.Setup, most float64) float64 {
	low, high := math.Log(1e-3), math.Log(1e3)
	for range 40 {
		if mid := (low + high) / 2; Memory(s, math.Exp(mid)) > most {
			low = mid
		} else {
			high = mid
		}
	}
	digit := math.Pow(10, math.Floor(high/math.Ln10)-1)
	return math.Ceil(math.Exp(high)/digit) * digit
}
