package motion

import (
	"math"

	"github.com/golang/geo/r3"
)

// Grids to which Rounded rounds: mm and radians, and unit vectors. Both are far above what
// float64 makes of the same motion put together otherwise, and far below what matters.
const (
	lengthGrid = 1e8  // to 1e-8
	unitGrid   = 1e12 // to 1e-12
)

// Rounded returns a chain over a box of its own that is the course but for rounding: courses that
// differ by rounding only mostly give the same one, to the last bit. How much it differs
// from the course is for Displacement to say. Each parameter that moves anything goes from -1/2 to
// 1/2, the others stay at 0; see Position.
func (c *Course) Rounded() (Chain, Box) {
	var box Box
	chain := Chain{Joints: make([]Joint, len(c.joints)), Home: c.home}
	for i := range c.joints {
		x := &c.joints[i]
		j := Joint{Kind: x.kind, Axis: roundTo(x.axis, unitGrid), Slack: roundNumber(x.slack, lengthGrid)}
		if x.kind == Rotary { // any point on the axis will do: the one nearest to the origin
			j.Point = roundTo(x.point.Sub(x.axis.Mul(x.axis.Dot(x.point))), lengthGrid)
		}
		for k, s := range x.span {
			if j.Gain[k] = roundNumber(s, lengthGrid); j.Gain[k] != 0 {
				box.Lo[k], box.Hi[k] = -0.5, 0.5
			}
		}
		chain.Joints[i] = j
	}
	for i := range chain.Home.R {
		for k, v := range chain.Home.R[i] {
			chain.Home.R[i][k] = roundNumber(v, unitGrid)
		}
	}
	chain.Home.T = roundTo(c.home.T, lengthGrid)
	return chain, box
}

// Position returns where in the box the course is that goes over it, Rounded being at u.
func (b *Box) Position(u Params) Params {
	p := b.Center()
	for k := range p {
		p[k] = max(b.Lo[k], min(b.Hi[k], p[k]+u[k]*(b.Hi[k]-b.Lo[k])))
	}
	return p
}

func roundTo(v r3.Vector, grid float64) r3.Vector {
	return r3.Vector{X: roundNumber(v.X, grid), Y: roundNumber(v.Y, grid), Z: roundNumber(v.Z, grid)}
}

// roundNumber rounds to the grid; no -0.
func roundNumber(v, grid float64) float64 { return math.Round(v*grid)/grid + 0 }
