package reach

import (
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check/proof"

	"github.com/golang/geo/r3"
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
	if known {
		return box
	}
	var over motion.Box
	over.Lo, over.Hi = l.span()
	if s := c.stands(b, &over); s != nil {
		box = s.carried(&over)
	} else {
		box = c.trees.Swept(b.Solid, &b.Chain, &over)
	}
	c.passed[key] = box
	return box
}

// stood is a box around a body, the rotary axes standing somewhere and the linear ones at zero,
// and where each of these carries it, per mm.
type stood struct {
	at  motion.Params // of the rotary axes that move it
	box geom.Box
	per motion3
}

// motion3 has a vector for each axis.
type motion3 [motion.MaxParams]r3.Vector

// stands returns the box of a body where rotary axes stand still and nothing that turns, if
// only by as much as it is off, carries a linear axis; else nil.
func (c *checker) stands(b *machine.Body, over *motion.Box) *stood {
	list, known := c.stood[b]
	if known && list == nil {
		return nil
	}
	if !known && !proof.SlidesFirst(&b.Chain) {
		c.stood[b] = nil
		return nil
	}
	var at motion.Params
	uses := b.Chain.Uses()
	for k := range c.setup.Axes {
		if uses[k] && c.setup.Axes[k].Kind == motion.Rotary {
			if over.Lo[k] != over.Hi[k] {
				return nil
			}
			at[k] = over.Lo[k]
		}
	}
	for _, s := range list {
		if s.at == at {
			return s
		}
	}
	there := motion.At(at)
	s := &stood{at: at, box: c.trees.Swept(b.Solid, &b.Chain, &there)}
	from := b.Chain.Pose(at).T
	for k := range c.setup.Axes {
		if one := at; uses[k] && c.setup.Axes[k].Kind == motion.Linear {
			one[k] = 1
			s.per[k] = b.Chain.Pose(one).T.Sub(from)
		}
	}
	c.stood[b] = append(list, s)
	return s
}

// carried is the box, widened by where the linear axes carry it.
func (s *stood) carried(over *motion.Box) geom.Box {
	box := s.box
	for k, d := range s.per {
		if d == (r3.Vector{}) {
			continue
		}
		a, b := d.Mul(over.Lo[k]), d.Mul(over.Hi[k])
		box.Min = box.Min.Add(r3.Vector{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)})
		box.Max = box.Max.Add(r3.Vector{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)})
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
	play := c.play(m, k)
	for k, off := range l.within {
		if off > 0 && k < len(c.setup.Axes) && c.setup.Axes[k].Kind == motion.Rotary {
			off *= c.across()
		}
		play += off
	}
	enough := max(share*demand, proof.SurelyClear(demand, play))
	return proof.Between(c.box(l, body), c.box(l, other)) >= enough+rounding
}

// rounding is more than float64 arithmetic can be off here, mm.
const rounding = 1e-6

// play bounds what the location uncertainty can do to any point of the k-th of the others as
// seen from a mover, in mm, wherever the axes stand: see proof.SurelyClear. No lever is
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
	for _, list := range [][]machine.Body{c.setup.Bodies, c.zones} {
		for i := range list {
			b := &list[i]
			chain(&b.Chain)
			for _, v := range b.Solid.Audit.Bounds.Corners() {
				far = max(far, b.Chain.Home.Point(v).Norm())
			}
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
