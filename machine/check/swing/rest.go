package swing

import (
	"context"
	"fmt"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// mostLift is as far as is looked for the lift that would set a body free, in mm.
const mostLift = 64.0

// rest looks at a pair that never moves.
func (c *checker) rest(ctx context.Context, p *pair) error {
	if p.mating != nil {
		c.mated(p)
		return nil
	}
	return c.sweep(ctx, p)
}

// mated lifts a body off its seat, or out of its grip, and looks whether it is
// free then.
func (c *checker) mated(p *pair) {
	m, s := p.mating, c.setup
	a, b := s.Bodies[m.A].Name, s.Bodies[m.B].Name
	p.Verdict = check.Clear
	p.Out.At = p.Over.Lo
	if m.Bite > 0 {
		p.Stated = append(p.Stated, fmt.Sprintf("%s may bite into %s by %.2f mm", b, a, m.Bite))
	}
	rel := c.lifted(p, m.Bite+proof.SeatLift)
	near := collide.Distance(p.Moving.A, p.Moving.B, rel)
	p.Out.Near = near
	inside, doubt, stated := c.trees.Inside(p.A, p.B, rel)
	p.Stated = append(p.Stated, stated...)
	switch {
	case near.Distance < proof.Freed:
		p.Verdict = check.Contact
		p.Reason = fmt.Sprintf("%s sinks into %s beyond what belongs together: %s", a, b, c.depth(p))
	case inside != "":
		p.Verdict, p.Reason = check.Contact, inside
	case doubt != "":
		p.Verdict, p.Reason = check.Unproven, doubt
	}
}

// lifted returns the second body's pose as seen from the first, the one that
// stands on the other being lifted by so many mm. The lift is given with every axis
// at zero, which is as good as anywhere for bodies that never move against each other. They stand as
// they are drawn: where probing finds a part lower than that, what is under it is lower, too.
func (c *checker) lifted(p *pair, by float64) geom.Pose {
	zero := motion.Params{}
	poseA, poseB := c.drawn.Pose(p.a, zero), c.drawn.Pose(p.b, zero)
	lift := geom.Shift(p.mating.Lift.Mul(by))
	if p.mating.A == p.a {
		poseA = lift.Mul(poseA)
	} else {
		poseB = lift.Mul(poseB)
	}
	return poseA.Inverse().Mul(poseB)
}

// depth says by how much a body that has sunk in would have to be lifted.
func (c *checker) depth(p *pair) string {
	free := func(by float64) bool {
		return collide.Apart(p.Moving.A, p.Moving.B, c.lifted(p, by), proof.Freed)
	}
	stuck, loose := p.mating.Bite+proof.SeatLift, 2*(p.mating.Bite+proof.SeatLift)
	for !free(loose) {
		stuck, loose = loose, 2*loose
		if loose > mostLift {
			return fmt.Sprintf("lifted by %.0f mm it is still not free", stuck)
		}
	}
	for loose-stuck > 0.005 {
		if mid := (stuck + loose) / 2; free(mid) {
			loose = mid
		} else {
			stuck = mid
		}
	}
	return fmt.Sprintf("it is free only when lifted by %.2f mm", loose)
}
