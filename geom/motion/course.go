package motion

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Course is a chain over a box of parameters, written down so that it can be laid beside
// another one: where the body stands at the middle of the box, and the joints that get it
// away from there, each about (along) its axis as it stands at the middle. That is the
// same motion (see Excursion), whatever constant turns and shifts the chain was made of.
// Read-only once made.
type Course struct {
	joints []courseJoint // outermost first
	home   geom.Pose     // at the middle
	// reach bounds the coordinates met on the way, in mm; turn the angles, in radians, 1 at least.
	reach, turn float64
	steps       int
}

type courseJoint struct {
	kind        Kind
	axis, point r3.Vector
	span        Params // how much each parameter adds from its low end to its high one
	moves       bool   // some of span is not 0
	slack       float64
	most        float64 // farthest off the middle either way, slack included
}

// Course returns the course of the chain over the box.
func (c *Chain) Course(b *Box) *Course {
	mid := b.Center()
	pose := geom.Identity()
	course := &Course{joints: make([]courseJoint, 0, len(c.Joints)), turn: 1}
	for i := range c.Joints {
		j := &c.Joints[i]
		x := courseJoint{kind: j.Kind, slack: j.Slack, most: j.Slack}
		for k, g := range j.Gain {
			if g != 0 && b.Hi[k] > b.Lo[k] {
				x.span[k] = g * (b.Hi[k] - b.Lo[k])
				x.most += math.Abs(x.span[k]) / 2
				x.moves = true
			}
		}
		value := j.Value(&mid)
		if j.Kind == Rotary {
			course.reach = max(course.reach, pose.Point(j.Point).Norm()+pose.T.Norm()+j.Point.Norm())
			course.turn = max(course.turn, math.Abs(j.Offset)+math.Abs(value)+x.most)
		} else {
			course.reach += math.Abs(j.Offset) + math.Abs(value) + x.most
		}
		if x.most > 0 {
			x.axis, x.point = pose.Dir(j.Axis), pose.Point(j.Point)
			course.joints = append(course.joints, x)
		}
		if value != 0 {
			pose = pose.Mul(j.move(value))
		}
	}
	course.home = pose.Mul(c.Home)
	course.reach += course.home.T.Norm() + c.Home.T.Norm()
	course.steps = len(c.Joints) + 1
	return course
}

// rounding bounds what float64 adds to where a point of the ball is found to be, in mm: each
// joint turns it by a matrix, which is a few operations on each coordinate.
func (c *Course) rounding(center r3.Vector, radius float64) float64 {
	return 64 * float64(c.steps) * 0x1p-53 * c.turn * (c.reach + center.Norm() + radius)
}

// Looseness bounds, in mm, how far the location uncertainty can carry any point of the ball
// (center, radius; the body's frame) from where it stands nominally, wherever in the box.
//
// At some place in the box let z be a point, carried from the inside out. A joint that is
// off by s takes every point along a chord of 2 rho sin(|s|/2) or by |s|; the joints outside it
// turn that, and do not make it longer. So the sum over the joints is the bound, rho
// being taken of a ball that holds the point whatever the joints inside have done.
func (c *Course) Looseness(center r3.Vector, radius float64) float64 {
	z := placed{center: c.home.Point(center), radius: radius}
	sum := c.rounding(center, radius)
	for i := len(c.joints) - 1; i >= 0; i-- {
		j := &c.joints[i]
		if j.kind == Linear {
			sum += j.slack
		} else {
			sum += chord(j.slack) * j.arm(&z)
		}
		z.carry(j)
	}
	return sum
}

// chord is how far a turn by up to angle takes a point at radius 1.
func chord(angle float64) float64 { return 2 * math.Sin(min(angle, math.Pi)/2) }

// placed is a ball that holds every place that a set of points can be at, or a set of
// differences between such places.
type placed struct {
	center r3.Vector
	radius float64
}

// arm bounds how far any point of the ball is from the joint's axis.
func (j *courseJoint) arm(z *placed) float64 {
	return j.axis.Cross(z.center.Sub(j.point)).Norm() + z.radius
}

// carry makes the ball hold where the joint takes its points.
func (z *placed) carry(j *courseJoint) {
	if j.kind == Linear {
		z.radius += j.most
		return
	}
	z.turn(j, j.point)
}

// turn makes the ball hold every o + R (x - o) for a point x of it, R any turn of the joint.
// With x = c + e, |e| <= r, and p the part of c - o that is square to the axis,
//
//	o + R (x - o) = c + (R - I) p + R e,
//
// which is within r + chord |p| of c. R p is as long as p, too, so that the point is within r + |p|
// of c - p. The smaller ball is taken.
func (z *placed) turn(j *courseJoint, o r3.Vector) {
	arm := z.center.Sub(o)
	square := arm.Sub(j.axis.Mul(j.axis.Dot(arm)))
	far := square.Norm()
	if share := chord(j.most); share <= 1 {
		z.radius += share * far
	} else {
		z.center = z.center.Sub(square)
		z.radius += far
	}
}
