package swing

import (
	"context"
	"fmt"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/machine/check"
)

// seatLift is how far a body is lifted off what it belongs on, in mm, to see
// whether it comes free: well above what float32 vertices are off, and well
// below anything that matters. Declared mating faces may touch; if the bodies
// still meet when lifted by this and the stated bite, one has sunk into the other.
const seatLift = 0.05

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
	p.verdict = check.Clear
	p.out.At = p.over.Lo
	lift := geom.Shift(m.Lift.Mul(m.Bite + seatLift))
	poseA, poseB := s.Pose(p.a, p.over.Lo), s.Pose(p.b, p.over.Lo)
	if m.A == p.a {
		poseA = lift.Mul(poseA)
	} else {
		poseB = lift.Mul(poseB)
	}
	rel := poseA.Inverse().Mul(poseB)
	near := collide.Distance(p.moving.A, p.moving.B, rel)
	switch inside, doubt := c.inside(p, rel); {
	case near.Distance < seatLift/1000:
		p.verdict = check.Contact
		p.reason = fmt.Sprintf("%s sinks into %s beyond their mating faces: lifted by %.2f mm it is still not free",
			s.Bodies[m.A].Name, s.Bodies[m.B].Name, m.Bite+seatLift)
	case inside != "":
		p.verdict, p.reason = check.Contact, inside
	case doubt != "":
		p.verdict, p.reason = check.Unproven, doubt
	case near.Distance > m.Bite+2*seatLift:
		p.warning = fmt.Sprintf("%s does not touch %s: %.2f mm between them",
			s.Bodies[m.A].Name, s.Bodies[m.B].Name, near.Distance)
	}
	p.out.Near = near
}
