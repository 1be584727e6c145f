package bores

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"
)

// cylinder is a cylinder without ends.
type cylinder struct {
	center r3.Vector // on the axis
	axis   r3.Vector // unit
	radius float64   // mm
}

// from returns how far p is along the axis, and the way from the axis to it.
func (c *cylinder) from(p r3.Vector) (along float64, radial r3.Vector) {
	q := p.Sub(c.center)
	along = q.Dot(c.axis)
	return along, q.Sub(c.axis.Mul(along))
}

// errors returns the root mean square and the largest distance of points from the
// cylinder, mm.
func (c *cylinder) errors(points []r3.Vector) (rms, worst float64) {
	for _, p := range points {
		_, radial := c.from(p)
		off := math.Abs(radial.Norm() - c.radius)
		rms += off * off
		worst = max(worst, off)
	}
	return math.Sqrt(rms / float64(max(1, len(points)))), worst
}

// axisOf returns the direction most square to all normals: the eigenvector of their
// covariance about zero (sum of w n nT) to its smallest eigenvalue. It also returns
// the two smaller eigenvalues relative to the trace: the first is 0 for a cylinder,
// the second says how far the normals are spread. False where nothing comes of it.
func axisOf(normals []r3.Vector, weights []float64) (axis r3.Vector, smallest, middle float64, ok bool) {
	var c [3][3]float64
	for i, n := range normals {
		v := [3]float64{n.X, n.Y, n.Z}
		for j := range 3 {
			for k := range 3 {
				c[j][k] += weights[i] * v[j] * v[k]
			}
		}
	}
	trace := c[0][0] + c[1][1] + c[2][2]
	if !(trace > 0) || math.IsInf(trace, 0) {
		return axis, 0, 0, false
	}
	sym := mat.NewSymDense(3, nil)
	for j := range 3 {
		for k := j; k < 3; k++ {
			sym.SetSym(j, k, c[j][k]/trace)
		}
	}
	var e mat.EigenSym
	if !e.Factorize(sym, true) {
		return axis, 0, 0, false
	}
	var v mat.Dense
	e.VectorsTo(&v)
	values := e.Values(nil) // ascending
	return r3.Vector{X: v.At(0, 0), Y: v.At(1, 0), Z: v.At(2, 0)}.Normalize(), values[0], values[1], true
}

// square returns two unit vectors that make a right-handed frame with a.
func square(a r3.Vector) (u, v r3.Vector) {
	u = a.Ortho()
	return u, a.Cross(u)
}

// fitCircle finds the cylinder along the axis that goes through the points, by the
// algebraic fit of a circle to their shadow along the axis: minimise the sum of
// (x2 + y2 + D x + E y + F)2 (Kasa, "A circle fitting procedure and its error
// analysis", IEEE Trans. Instrum. Meas. 25, 1976).
func fitCircle(points []r3.Vector, axis r3.Vector) (cylinder, bool) {
	middle := r3.Vector{}
	for _, p := range points {
		middle = middle.Add(p)
	}
	middle = middle.Mul(1 / float64(max(1, len(points))))
	u, v := square(axis)
	var a [3][3]float64
	var b [3]float64
	for _, p := range points {
		q := p.Sub(middle)
		row := [3]float64{q.Dot(u), q.Dot(v), 1}
		z := -(row[0]*row[0] + row[1]*row[1])
		for j := range 3 {
			for k := range 3 {
				a[j][k] += row[j] * row[k]
			}
			b[j] += row[j] * z
		}
	}
	x, ok := solve(flat2(a), b[:])
	if !ok {
		return cylinder{}, false
	}
	r2 := (x[0]*x[0]+x[1]*x[1])/4 - x[2]
	if !(r2 > 0) || math.IsInf(r2, 0) {
		return cylinder{}, false
	}
	center := middle.Add(u.Mul(-x[0] / 2)).Add(v.Mul(-x[1] / 2))
	return cylinder{center, axis, math.Sqrt(r2)}, true
}

func flat2(a [3][3]float64) []float64 {
	return []float64{a[0][0], a[0][1], a[0][2], a[1][0], a[1][1], a[1][2], a[2][0], a[2][1], a[2][2]}
}

// solve solves a x = b, a row by row; false if a is singular to working precision.
func solve(a, b []float64) ([]float64, bool) {
	n := len(b)
	var x mat.VecDense
	if err := x.SolveVec(mat.NewDense(n, n, a), mat.NewVecDense(n, b)); err != nil {
		return nil, false
	}
	for i := range n {
		if math.IsNaN(x.AtVec(i)) || math.IsInf(x.AtVec(i), 0) {
			return nil, false
		}
	}
	return x.RawVector().Data, true
}

// refine moves axis, centre and radius so that the sum of the squared distances of
// the points from the cylinder becomes least: Gauss-Newton over two shifts and two
// turns of the axis, and the radius. It keeps what it was given where that does
// not help.
func (c cylinder) refine(points []r3.Vector) cylinder {
	length := 0.0 // half the cylinder's: the scale of the turns
	for _, p := range points {
		along, _ := c.from(p)
		length = max(length, math.Abs(along))
	}
	best := c
	bestRMS, _ := c.errors(points)
	for range 8 {
		step, ok := best.step(points, length)
		if !ok {
			break
		}
		rms, _ := step.errors(points)
		if !(rms < bestRMS) {
			break
		}
		done := rms > 0.999*bestRMS
		best, bestRMS = step, rms
		if done {
			break
		}
	}
	if !parallel(best.axis, c.axis) { // the points say too little of the axis
		return c
	}
	return best
}

// step is one step of refine. A turn of the axis by e about the centre moves it by e
// times the height, so turns are counted in mm at the given length.
func (c *cylinder) step(points []r3.Vector, length float64) (cylinder, bool) {
	const n = 5
	u, v := square(c.axis)
	var a [n * n]float64
	var b [n]float64
	for _, p := range points {
		along, radial := c.from(p)
		d := radial.Norm()
		if d == 0 || length == 0 {
			return cylinder{}, false
		}
		x, y, t := -radial.Dot(u)/d, -radial.Dot(v)/d, along/length
		row := [n]float64{x, y, x * t, y * t, -1}
		for j := range n {
			for k := range n {
				a[j*n+k] += row[j] * row[k]
			}
			b[j] -= row[j] * (d - c.radius)
		}
	}
	s, ok := solve(a[:], b[:])
	if !ok {
		return cylinder{}, false
	}
	return cylinder{
		center: c.center.Add(u.Mul(s[0])).Add(v.Mul(s[1])),
		axis:   c.axis.Add(u.Mul(s[2] / length)).Add(v.Mul(s[3] / length)).Normalize(),
		radius: c.radius + s[4],
	}, true
}
