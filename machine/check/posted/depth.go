package posted

import (
	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Depths are looked for up to mostDepth, to a tenth of that at which they begin or a sixteenth of themselves, mm.
const (
	mostDepth  = 64.0
	leastDepth = 0.05
	freed      = 1e-3 // between surfaces that are taken to be apart
)

// deepest is at which of some positions two bodies are deepest in each other, the first of which is one where
// they meet. It is where they are deeper than mostDepth, if they are, and how deep is not known then.
func (c *checker) deepest(p *pair, list ...motion.Params) (at motion.Params, mm float64, known bool) {
	for i, x := range list {
		d, ok := c.depth(p, x)
		if !ok {
			return x, mostDepth, false
		}
		if i == 0 || d > mm {
			at, mm = x, d
		}
	}
	return at, mm, true
}

// depth is by how much, in mm, two bodies that meet would have to be shifted against each other to come free,
// as drawn: along one of the coordinates of either of them, whichever is least. It is not known where
// that is more than mostDepth.
func (c *checker) depth(p *pair, at motion.Params) (mm float64, known bool) {
	rel := p.moving.Motion.Pose(at)
	if c.free(p, rel, r3.Vector{}, 0) {
		return 0, true
	}
	var ways []r3.Vector // as seen from the first body
	for _, axis := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		ways = append(ways, axis, axis.Mul(-1), rel.Dir(axis), rel.Dir(axis).Mul(-1))
	}
	for high := leastDepth; high <= mostDepth; high *= 2 {
		least := high
		found := false
		for _, way := range ways {
			if !c.free(p, rel, way, least) {
				continue
			}
			low := high / 2
			if high == leastDepth {
				low = 0
			}
			least, found = c.comesFree(p, rel, way, low, least), true
		}
		if found {
			return least, true
		}
	}
	return 0, false
}

// comesFree is how far along the way two bodies come free, between low, or less, and high.
func (c *checker) comesFree(p *pair, rel geom.Pose, way r3.Vector, low, high float64) float64 {
	for high-low > max(leastDepth/10, high/16) {
		if mid := (low + high) / 2; c.free(p, rel, way, mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// free reports whether two bodies are apart, and neither is inside the other, if the second is shifted.
func (c *checker) free(p *pair, rel geom.Pose, way r3.Vector, by float64) bool {
	pose := geom.Shift(way.Mul(by)).Mul(rel)
	if !collide.Apart(p.moving.A, p.moving.B, pose, freed) {
		return false
	}
	inside, _, _ := c.trees.Inside(p.body, p.other, pose)
	return inside == ""
}
