package program

import (
	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// eulerZXZ returns where X, Y and Z lie after turns about Z, then the new X, then the new Z, rad:
// the columns of Rz(a) Rx(b) Rz(c).
func eulerZXZ(turn [3]float64) [3]r3.Vector {
	z, x := r3.Vector{Z: 1}, r3.Vector{X: 1}
	p := geom.Turn(r3.Vector{}, z, turn[0]).Mul(geom.Turn(r3.Vector{}, x, turn[1])).Mul(geom.Turn(r3.Vector{}, z, turn[2]))
	return [3]r3.Vector{p.Dir(x), p.Dir(r3.Vector{Y: 1}), p.Dir(z)}
}
