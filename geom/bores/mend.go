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
		if a, b := s.ends(int32(h)); g < 0 && a != b && finite(a) && finite(b) {
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
// it: a hash of cells as wide as the reach, looked up with their neighbours.
type cluster struct {
	reach  float64
	cells  map[[3]int64][]int32
	points []r3.Vector
}

func newCluster(reach float64) *cluster {
	return &cluster{reach: reach, cells: map[[3]int64][]int32{}}
}

func (c *cluster) of(p r3.Vector) int32 {
	cell := [3]int64{int64(math.Floor(p.X / c.reach)), int64(math.Floor(p.Y / c.reach)), int64(math.Floor(p.Z / c.reach))}
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for dz := int64(-1); dz <= 1; dz++ {
				for _, i := range c.cells[[3]int64{cell[0] + dx, cell[1] + dy, cell[2] + dz}] {
					if c.points[i].Sub(p).Norm() <= c.reach {
						return i
					}
				}
			}
		}
	}
	i := int32(len(c.points))
	c.points = append(c.points, p)
	c.cells[cell] = append(c.cells[cell], i)
	return i
}
