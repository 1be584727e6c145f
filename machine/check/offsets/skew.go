package offsets

import (
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// turn returns what to add to the rotary axes that carry a part so that it stands
// as it should at a position, though it was found turned, and what is left: a
// rotation vector in the machine's directions there, in rad.
//
// Turned by a about the line w of its axis the part stands right again if the axis
// turns it by -a about w. An axis that carries the workpiece turns it by minus its
// program (ISO 841), so that is + a in the program, - a where it is reversed. Two
// axes take out what lies in the plane of their lines, by least squares; what is square
// to both is left: about the tool's axis where the tilt is 90 degrees, and then the
// tool at least lies right. That holds at this position only, so of a control that turns offsets itself,
// with one value for all positions, only the axis that carries the part itself
// is used: a turn about its line stays one whatever the others do.
//
// Axes that turn the tool could lay it right, but not the directions in which it
// goes: they are not used.
func (b *builder) turn(p *part, at motion.Params) (add motion.Params, left r3.Vector) {
	if p.Probed == nil || p.Probed.Skew == (r3.Vector{}) {
		return add, left
	}
	used := p.tables
	switch {
	case b.rules.Method == machine.TurnedByControl && len(used) > 1:
		used = used[len(used)-1:]
	case len(used) > 2:
		used = used[len(used)-2:]
	}
	want := p.Chain.Pose(at)
	for range 5 { // Newton's method; the angles are small
		now := at
		for k := range add {
			now[k] += add[k]
		}
		is := p.chain.Pose(now)
		left = rotation(is.R, want.R)
		for k, v := range leastSquares(p.lines(used, now), left) {
			t := used[k]
			add[t.axis] -= v / p.Chain.Joints[t.joint].Gain[t.axis]
		}
	}
	return add, left
}

// Turn returns what the offsets of a part that was found turned add to its rotary axes at a
// position of the program, as it is keyed in, and the angle, in rad, by which the
// part is still turned there. Where nothing is known of the control nothing is added.
// Both are 0 of a part that probing did not find turned; index is an index into Setup.Parts.
func Turn(s *machine.Setup, index int, at motion.Params) (add motion.Params, left float64) {
	p := s.Parts[index].Probed
	if p == nil || p.Skew == (r3.Vector{}) {
		return add, 0
	}
	if s.Offsets == nil || s.Spindle == nil {
		return add, p.Skew.Norm()
	}
	b := &builder{setup: s.Drawn(), rules: s.Offsets, unit: 1, out: &check.Offsets{}}
	b.readParts()
	i := slices.IndexFunc(b.parts, func(p *part) bool { return p.index == index })
	if i < 0 {
		return add, p.Skew.Norm()
	}
	from := at
	if b.rules.Method == machine.TurnedByControl {
		from = zero(s) // one value for all positions
	}
	add, _ = b.turn(b.parts[i], from)
	turned := at
	for k := range add {
		add[k] = radians(round(degrees(add[k]), angleDecimals))
		turned[k] += add[k]
	}
	is, want := b.parts[i].chain.Pose(turned), b.parts[i].Chain.Pose(at)
	return add, rotation(is.R, want.R).Norm()
}

// lines returns the directions of the axes in the bed frame.
func (p *part) lines(used []table, at motion.Params) (list []r3.Vector) {
	for _, t := range used {
		before := motion.Chain{Joints: p.Chain.Joints[:t.joint], Home: geom.Identity()}
		pose := before.Pose(at)
		list = append(list, pose.Dir(p.Chain.Joints[t.joint].Axis))
	}
	return list
}

// rotation returns the rotation vector that takes want to is.
func rotation(is, want geom.Rotation) r3.Vector {
	back := geom.Pose{R: want}.Inverse()
	r := is.Mul(&back.R)
	v := r3.Vector{X: r[2][1] - r[1][2], Y: r[0][2] - r[2][0], Z: r[1][0] - r[0][1]}.Mul(0.5)
	sin := v.Norm()
	if sin == 0 {
		return r3.Vector{}
	}
	return v.Mul(math.Atan2(sin, (r[0][0]+r[1][1]+r[2][2]-1)/2) / sin)
}

// leastSquares returns the multiples of one or two unit vectors whose sum is nearest
// to v; of two that are parallel the first is used.
func leastSquares(w []r3.Vector, v r3.Vector) []float64 {
	switch len(w) {
	case 0:
		return nil
	case 1:
		return []float64{w[0].Dot(v)}
	}
	c := w[0].Dot(w[1])
	det := 1 - c*c
	if det < 1e-6 {
		return []float64{w[0].Dot(v), 0}
	}
	a, b := w[0].Dot(v), w[1].Dot(v)
	return []float64{(a - c*b) / det, (b - c*a) / det}
}
