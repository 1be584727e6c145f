package machine

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// sit stands a seat on two holes of a grid, in the frame of the grid's solid:
// the middle of the pins on the middle of the holes (of a relieved second pin: the
// first pin on its hole), the line through the pins along the line through the
// holes, the seat's normal along the grid's.
// Quarter and half turns come out exact.
func sit(st *seat, holes [2]r3.Vector, normal r3.Vector) geom.Pose {
	from := triad(st.pins[1].Sub(st.pins[0]), st.normal)
	to := triad(holes[1].Sub(holes[0]), normal)
	back := geom.Pose{R: from}.Inverse()
	r := squared(to.Mul(&back.R))
	if st.land != nil { // the round pin rules
		return geom.Pose{R: r, T: holes[0].Sub(r.Apply(st.pins[0]))}
	}
	middle := st.pins[0].Add(st.pins[1]).Mul(0.5)
	target := holes[0].Add(holes[1]).Mul(0.5)
	return geom.Pose{R: r, T: target.Sub(r.Apply(middle))}
}

// triad returns the rotation that takes X along a line and Z along a normal
// that is square to it.
func triad(line, normal r3.Vector) geom.Rotation {
	// A component may be square to within its drawing's digits only.
	x := line.Sub(normal.Mul(line.Dot(normal))).Normalize()
	return columns(x, normal.Cross(x), normal)
}

// squared returns r with entries that are 0 or 1 but for rounding made so, if
// that is all of them: a quarter turn, a half turn or none.
func squared(r geom.Rotation) geom.Rotation {
	exact := r
	for i := range r {
		for k, v := range r[i] {
			whole := math.Round(v)
			if math.Abs(v-whole) > 1e-12 {
				return r
			}
			exact[i][k] = whole + 0 // no -0
		}
	}
	return exact
}

// tilts returns the angles that a parallelism zone allows about the directions
// across and along the pins: the zone over the footprint's extent, and the
// middle of the footprint in the seating plane, component's frame.
func (a *assembly) tilts() (tilt [2]float64, middle r3.Vector) {
	st := a.seat
	along := triad(st.pins[1].Sub(st.pins[0]), st.normal)
	inSeat := geom.Pose{R: along}.Inverse()
	box := geom.EmptyBox()
	for _, i := range fixedParts(a.parts) {
		if a.parts[i].solid == nil {
			continue
		}
		for _, c := range a.parts[i].solid.Audit.Bounds.Corners() {
			box = box.Include(inSeat.Dir(c))
		}
	}
	if box.Empty() {
		return tilt, st.pins[0]
	}
	c, size := box.Center(), box.Size()
	c.Z = inSeat.Dir(st.pins[0]).Z
	middle = along.Apply(c)
	if st.parallelism > 0 {
		tilt = [2]float64{lean(st.parallelism, size.X), lean(st.parallelism, size.Y)}
	}
	return tilt, middle
}

// lean is the angle at which a face of the given extent fills a zone.
func lean(zone, extent float64) float64 { return math.Atan2(zone, extent) }
