package reach

import (
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check/proof"
)

// Most bodies are far apart wherever a leg leads, and so are boxes around all that they pass
// through. Boxes are worked out once for a leg, and two of them cost next to nothing to
// compare.

// passed holds such boxes, by leg and body.
type passed map[passing]geom.Box

type passing struct {
	leg  *leg
	body *machine.Body
}

// box is around all that a body passes through on a leg. The leg must stay where it is.
func (c *checker) box(l *leg, b *machine.Body) geom.Box {
	key := passing{l, b}
	box, known := c.passed[key]
	if !known {
		var over motion.Box
		over.Lo, over.Hi = l.span()
		box = c.trees.Swept(b.Solid, &b.Chain, &over)
		c.passed[key] = box
	}
	return box
}

// apart reports whether two bodies are seen at a glance to have enough room on a leg, and
// nothing can be in doubt about either being inside the other.
func (c *checker) apart(l *leg, m *mover, body *machine.Body, k int, demand, share float64) bool {
	other := &c.setup.Bodies[c.others[k]]
	if !proof.Sound(body.Solid) || !proof.Sound(other.Solid) {
		return false
	}
	enough := max(share*demand, proof.SurelyClear(demand, c.play(m, k)))
	return proof.Between(c.box(l, body), c.box(l, other)) >= enough+rounding
}

// rounding is more than float64 arithmetic can be off here, mm.
const rounding = 1e-6

// play bounds what the location uncertainty can do to any point of the k-th of the others as
// seen from a mover, in mm, wherever the axes stand: see proof.Question.Surely. No lever is
// longer than what the machine reaches across.
func (c *checker) play(m *mover, k int) (mm float64) {
	if m.play == nil {
		m.play = make([]float64, len(c.others))
		for k := range c.others {
			for i := range m.seen[k].Joints {
				j := &m.seen[k].Joints[i]
				if j.Kind == motion.Linear {
					m.play[k] += j.Slack
				} else {
					m.play[k] += j.Slack * c.across()
				}
			}
		}
	}
	return m.play[k]
}

// across is more than the distance of any two points that matter, mm: joints, and points of
// bodies, wherever the axes stand.
func (c *checker) across() float64 {
	if c.widest > 0 {
		return c.widest
	}
	far := 0.0
	chain := func(list *motion.Chain) {
		for i := range list.Joints {
			far = max(far, list.Joints[i].Point.Norm())
		}
	}
	for i := range c.setup.Bodies {
		b := &c.setup.Bodies[i]
		chain(&b.Chain)
		for _, v := range b.Solid.Audit.Bounds.Corners() {
			far = max(far, b.Chain.Home.Point(v).Norm())
		}
	}
	for _, t := range c.tools {
		far = max(far, c.setup.Spindle.Chain.Home.T.Norm()+t.tool.LPR()+t.tool.Widest())
	}
	for k := range c.setup.Axes {
		if a := &c.setup.Axes[k]; a.Kind == motion.Linear {
			far += max(a.Travel[1]-a.Travel[0], a.Travel[1], -a.Travel[0])
		}
	}
	c.widest = 2 * far
	return c.widest
}
