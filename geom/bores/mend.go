package bores

import (
	"math"

	"github.com/golang/geo/r3"
)

// mend joins half-edges without another side whose ends lie within the noise of
// each other: neighbours that a writer rounded differently. Only open edges are
// looked at, so a closed mesh costs nothing. Each is joined to at most one other.
func (s *surface) mend() {
	var open []int32
	for h, g := range s.Across {
		if a, b := s.ends(int32(h)); g < 0 && a != b && finite(a) && finite(b) && finite(s.apex(int32(h))) {
			open = append(open, int32(h))
		}
	}
	if len(open) == 0 || s.noise == 0 {
		return
	}
	near := newCluster(s.noise * 4)
	from, to := make([]int32, len(open)), make([]int32, len(open))
	for i, h := range open {
		a, b := s.ends(h)
		from[i], to[i] = near.of(a), near.of(b)
	}
	waiting := map[[2]int32]int32{}
	for i, h := range open {
		if from[i] == to[i] {
			continue
		}
		if g, ok := waiting[[2]int32{to[i], from[i]}]; ok {
			s.Across[h], s.Across[g] = g, h
			delete(waiting, [2]int32{to[i], from[i]})
		} else {
			waiting[[2]int32{from[i], to[i]}] = h
		}
	}
}

// cluster numbers points so that those within reach of the first of a number share
// it: a hash of cells much wider than the reach, so that mostly one has to be looked at.
type cluster struct {
	reach  float64
	cells  map[[3]int64][]int32
	points []r3.Vector
}

func newCluster(reach float64) *cluster {
	return &cluster{reach: reach, cells: map[[3]int64][]int32{}}
}

// cellWidth is that of a cell, in reaches.
const cellWidth = 16

// around returns the first and the last cell along one axis in which a point near x
// can be.
func (c *cluster) around(x float64) (low, high int64) {
	width := cellWidth * c.reach
	return cellAt((x - c.reach) / width), cellAt((x + c.reach) / width)
}

// cellAt rounds down; beyond what int64 holds all is one cell.
func cellAt(x float64) int64 {
	const most = 1 << 50
	return int64(math.Floor(max(-most, min(most, x))))
}

func (c *cluster) of(p r3.Vector) int32 {
	lowX, highX := c.around(p.X)
	lowY, highY := c.around(p.Y)
	lowZ, highZ := c.around(p.Z)
	for x := lowX; x <= highX; x++ {
		for y := lowY; y <= highY; y++ {
			for z := lowZ; z <= highZ; z++ {
				for _, i := range c.cells[[3]int64{x, y, z}] {
					if c.points[i].Sub(p).Norm() <= c.reach {
						return i
					}
				}
			}
		}
	}
	i := int32(len(c.points))
	c.points = append(c.points, p)
	width := cellWidth * c.reach
	cell := [3]int64{cellAt(p.X / width), cellAt(p.Y / width), cellAt(p.Z / width)}
	c.cells[cell] = append(c.cells[cell], i)
	return i
}
