package kinematics

import (
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// leastSpan is the smallest determinant of the three directions, unit vectors
// per unit of axis, at which they still count as spanning space: one that leans by
// half a degree out of the plane of two others.
const leastSpan = 0.01

// columns returns how far the tip goes, in the part's frame, per unit of each of
// the given axes. The motion is affine in linear axes: a joint shifts what is
// outside of it in the direction that the joints before it have given it.
func (m *Machine) columns(p motion.Params, axes []int) []r3.Vector {
	list := make([]r3.Vector, len(axes))
	turned := geom.Identity()
	for i := range m.rel.Joints {
		j := &m.rel.Joints[i]
		if j.Kind == motion.Rotary {
			if v := j.Value(&p); v != 0 {
				turned = turned.Mul(geom.Turn(r3.Vector{}, j.Axis, v))
			}
			continue
		}
		for n, k := range axes {
			if g := j.Gain[k]; g != 0 {
				list[n] = list[n].Add(turned.Dir(j.Axis).Mul(g))
			}
		}
	}
	return list
}

// stand returns the tip and the columns of the linear axes that are used, in one go.
func (m *Machine) stand(p *motion.Params, length float64) (tip r3.Vector, c [3]r3.Vector) {
	pose := geom.Identity()
	for i := range m.rel.Joints {
		j := &m.rel.Joints[i]
		v := j.Value(p)
		if j.Kind == motion.Rotary {
			if v != 0 {
				pose = pose.Mul(geom.Turn(j.Point, j.Axis, v))
			}
			continue
		}
		d := pose.Dir(j.Axis)
		for n, k := range m.linear {
			if g := j.Gain[k]; g != 0 {
				c[n] = c[n].Add(d.Mul(g))
			}
		}
		pose.T = pose.T.Add(d.Mul(v))
	}
	return pose.Point(m.rel.Home.Point(r3.Vector{Z: -length})), c
}

// findLinear picks the first three linear axes that span space.
func (m *Machine) findLinear() error {
	var free []int
	for k, a := range m.axes {
		if a.Kind == motion.Linear && !a.Hold {
			free = append(free, k)
		}
	}
	c := m.columns(m.home(), free)
	for a := range c {
		for b := a + 1; b < len(c); b++ {
			for d := b + 1; d < len(c); d++ {
				if math.Abs(c[a].Dot(c[b].Cross(c[d]))) > leastSpan {
					m.linear = []int{free[a], free[b], free[d]}
					return nil
				}
			}
		}
	}
	return errNoSpan
}

// solve returns x with x[0] c[0] + x[1] c[1] + x[2] c[2] = v, by Cramer's rule.
func solve(c []r3.Vector, v r3.Vector) (x [3]float64, ok bool) {
	det := c[0].Dot(c[1].Cross(c[2]))
	if math.Abs(det) <= leastSpan {
		return x, false
	}
	return [3]float64{
		v.Dot(c[1].Cross(c[2])) / det,
		v.Dot(c[2].Cross(c[0])) / det,
		v.Dot(c[0].Cross(c[1])) / det,
	}, true
}

// Linear returns p with the linear axes set so that the foremost point of a tool of
// the given length (gauge line to foremost point) is at tip, in the part's frame.
// Travel is not looked at. It is an error if the linear axes do not span space
// at these rotary positions.
func (m *Machine) Linear(p motion.Params, tip r3.Vector, length float64) (motion.Params, error) {
	for _, k := range m.linear {
		p[k] = 0
	}
	at, c := m.stand(&p, length)
	x, ok := solve(c[:], tip.Sub(at))
	if !ok {
		return p, errNoSpan
	}
	for n, k := range m.linear {
		p[k] = x[n]
	}
	return p, nil
}

// Sensitivity returns how the linear axes must change so that the tool keeps its
// place at the part when the workpiece is shifted by d, a vector in the bed frame, the axes
// standing at p. Entries of other axes are 0. A tool longer by 1 mm is the same
// as d of length 1 along the tool's axis. It is zero where Linear is an error.
func (m *Machine) Sensitivity(p motion.Params, d r3.Vector) (change motion.Params) {
	pose := m.part.Pose(p)
	x, ok := solve(m.columns(p, m.linear), pose.R.ApplyInverse(d))
	if !ok {
		return change
	}
	for n, k := range m.linear {
		change[k] = x[n]
	}
	return change
}
