package motion

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Coupled returns the chain with all that parameter w does made into one shift, for a chain
// in which no parameter turns anything, and w from 0 to 1: what several slides do together is
// then charged together. A body that one slide lifts as far as another one follows it down
// does not move at all. Where a parameter turns a joint the chain is returned as it is.
//
// The slides that w moves by g_i along a_i can be drawn out of the chain to its root: for a
// joint R that turns by L, and a shift T(v), R T(v) = T(L v) R. With q = w - 1/2 this gives
//
//	chain(w) = T(q sum of g_i L_i a_i) chain(1/2 in place of w),
//
// exactly, L_i being all that turns outside of slide i. Without its slack that is a constant,
// K_i, so the shift is q V, V = sum of g_i K_i a_i, but for
//
//	|q sum of g_i (L_i - K_i) a_i| <= 1/2 sum of |g_i| t_i,
//
// t_i being the sum of the chords 2 sin(s/2) of the slacks s that turn outside of slide i: the
// difference of two products of rotations telescopes. That, and a V that is nothing but
// rounding, becomes the slack of three shifts square to each other at the root, which reach
// every point of a ball of that radius.
func (c Chain) Coupled(w int) Chain {
	turned, loose := geom.Identity(), 0.0
	var shift r3.Vector
	slack, slides := 0.0, 0
	joints := make([]Joint, 0, len(c.Joints)+4)
	for _, j := range c.Joints {
		if j.Kind == Rotary {
			if j.Gain != (Params{}) {
				return c
			}
			turned = turned.Mul(j.move(j.Offset))
			loose += 2 * math.Sin(min(j.Slack, math.Pi)/2)
		} else if g := j.Gain[w]; g != 0 {
			shift = shift.Add(turned.Dir(j.Axis).Mul(g))
			slack += math.Abs(g) * loose / 2
			j.Offset, j.Gain[w] = j.Offset+g/2, 0
			slides++
		}
		joints = append(joints, j)
	}
	if slides < 2 {
		return c
	}
	root := make([]Joint, 0, len(joints)+4)
	if length := shift.Norm(); length > nothing {
		root = append(root, Joint{
			Name: "coupled", Kind: Linear, Axis: shift.Mul(1 / length), Offset: -length / 2, Gain: single(w, length),
		})
	} else {
		slack += length
	}
	if slack > 0 {
		for _, axis := range [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
			root = append(root, Joint{Name: "coupled, loose", Kind: Linear, Axis: axis, Slack: slack})
		}
	}
	return Chain{Joints: append(root, joints...), Home: c.Home}
}

// nothing is as short, in mm, as a shift can be that rounding leaves.
const nothing = 1e-9

// single has one parameter set.
func single(k int, value float64) (p Params) {
	p[k] = value
	return p
}
