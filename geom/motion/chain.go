package motion

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// MaxParams is the largest number of parameters a motion can depend on: three
// linear and three rotary axes and two more, such as U and W.
const MaxParams = 8

// Params are the values of the parameters: radians where they turn a joint,
// mm where they shift one. What each entry stands for is the caller's choice.
type Params [MaxParams]float64

// Kind tells a rotary joint from a linear one.
type Kind uint8

// The two kinds of joint.
const (
	Rotary Kind = iota
	Linear
)

// Joint is one degree of freedom. Axis (unit length) and Point (on the axis;
// unused by a linear joint) are given in the root frame with every joint of
// the chain at value zero.
type Joint struct {
	// Name identifies the joint: in chains from the same root, joints of the
	// same name are the same joint, and Between cancels those that are shared.
	Name  string
	Kind  Kind
	Axis  r3.Vector
	Point r3.Vector
	// The value at p is Offset + the sum of Gain[k] p[k], in radians or mm.
	Offset float64
	Gain   Params
	// Slack is how far the value can be off either way: location uncertainty.
	// It is never split, only charged.
	Slack float64
}

// Value returns the nominal value of the joint at p.
func (j *Joint) Value(p *Params) float64 {
	v := j.Offset
	for k, g := range j.Gain {
		v += g * p[k]
	}
	return v
}

// move returns the rigid motion of the joint at the given value.
func (j *Joint) move(value float64) geom.Pose {
	if j.Kind == Linear {
		return geom.Shift(j.Axis.Mul(value))
	}
	return geom.Turn(j.Point, j.Axis, value)
}

// Chain is a product of exponentials: the body's pose in the root frame is
// move(joint 0) * move(joint 1) * ... * Home (Brockett; Murray, Li, Sastry,
// "A Mathematical Introduction to Robotic Manipulation", 1994, sec. 3.2).
// Joints run from the root outward. Read-only once built.
type Chain struct {
	Joints []Joint
	Home   geom.Pose
}

// Pose returns the nominal pose of the body in the root frame at p.
func (c *Chain) Pose(p Params) geom.Pose {
	pose := geom.Identity()
	for i := range c.Joints {
		j := &c.Joints[i]
		if v := j.Value(&p); v != 0 {
			pose = pose.Mul(j.move(v))
		}
	}
	return pose.Mul(c.Home)
}

// Uses returns for each parameter whether it moves any joint of the chain.
func (c *Chain) Uses() [MaxParams]bool {
	var used [MaxParams]bool
	for i := range c.Joints {
		for k, g := range c.Joints[i].Gain {
			used[k] = used[k] || g != 0
		}
	}
	return used
}

// Rigid reports whether no parameter moves the chain.
func (c *Chain) Rigid() bool { return c.Uses() == [MaxParams]bool{} }

// Between returns the motion of body b as seen from body a, both given from
// the same root. Joints that the two share, from the root on, cancel, and with
// them their slack: play common to both bodies moves neither against the other.
func Between(a, b Chain) Chain {
	shared := 0
	for shared < len(a.Joints) && shared < len(b.Joints) &&
		a.Joints[shared].Name == b.Joints[shared].Name {
		shared++
	}
	toA := a.Home.Inverse()
	rel := Chain{Home: toA.Mul(b.Home)}
	for i := len(a.Joints) - 1; i >= shared; i-- {
		j := a.Joints[i].seenFrom(&toA)
		j.Offset = -j.Offset
		for k := range j.Gain {
			j.Gain[k] = -j.Gain[k]
		}
		rel.Joints = append(rel.Joints, j)
	}
	for i := shared; i < len(b.Joints); i++ {
		rel.Joints = append(rel.Joints, b.Joints[i].seenFrom(&toA))
	}
	return rel
}

// seenFrom returns the joint with its axis expressed in another frame.
func (j Joint) seenFrom(to *geom.Pose) Joint {
	j.Axis = to.Dir(j.Axis)
	j.Point = to.Point(j.Point)
	return j
}

// Box is a range of parameters, both ends included. A parameter that does not
// vary has Lo equal to Hi.
type Box struct {
	Lo, Hi Params
}

// At returns the box that holds only p.
func At(p Params) Box { return Box{Lo: p, Hi: p} }

// Center returns the middle of the box.
func (b *Box) Center() Params {
	var c Params
	for k := range c {
		c[k] = b.Lo[k] + (b.Hi[k]-b.Lo[k])/2
	}
	return c
}

// half returns a value no smaller than the distance from Center to either end
// along parameter k, rounding included.
func (b *Box) half(k int, center float64) float64 {
	h := max(b.Hi[k]-center, center-b.Lo[k])
	if h <= 0 {
		return 0
	}
	return math.Nextafter(h, math.Inf(1))
}

// Split cuts the box in the middle of parameter k. The halves share their
// common face, so nothing falls between them.
func (b Box) Split(k int) (lower, upper Box) {
	mid := b.Center()[k]
	lower, upper = b, b
	lower.Hi[k], upper.Lo[k] = mid, mid
	return lower, upper
}
