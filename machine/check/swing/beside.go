package swing

import (
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine/check/proof"

	"github.com/golang/geo/r3"
)

// Where rotary axes turn a body in front of another one that they do not turn, the box around
// all that the first one passes through mostly stays clear of the second. It is worked
// out once for a body, with the linear axes at home, and serves against all others.

// turnPart is by how much, in rad, a body turns either way within a part of its range that
// gets a box of its own.
const turnPart = 7.5 * math.Pi / 180

// turning is a body that rotary axes move.
type turning struct {
	box geom.Box // bed frame, linear axes at home
	ok  bool     // nothing that turns carries a linear axis
	// carried are boxes that linear axes have widened, last used last.
	carried []*proof.Boxed
}

// beside reports whether a pair is seen at one look to have enough room.
func (c *checker) beside(p *pair, enough float64) bool {
	a, b := c.turns(p.a, p), c.turns(p.b, p)
	switch {
	case !a && !b:
		return c.trees.Beside(&p.Question, enough)
	case a && b:
		return false
	case a:
		q := p.Question
		q.A, q.B = p.B, p.A
		q.Moving = c.trees.Pair(p.B, p.A, motion.Between(p.B.Chain, p.A.Chain))
		return c.besideTurning(&q, p.b, p.a, enough)
	}
	return c.besideTurning(&p.Question, p.a, p.b, enough)
}

// turns reports whether a rotary axis moves a body within the range of a pair.
func (c *checker) turns(body int, p *pair) bool {
	uses := c.setup.Bodies[body].Chain.Uses()
	for k := range c.setup.Axes {
		if uses[k] && c.setup.Axes[k].Kind == motion.Rotary && p.Over.Hi[k] > p.Over.Lo[k] {
			return true
		}
	}
	return false
}

// besideTurning looks at a body that stands still, the axes being within their ranges, and the box
// around one that turns, widened by how far linear axes carry it as seen from the first one.
func (c *checker) besideTurning(q *proof.Question, still, turns int, enough float64) bool {
	t := c.turning(turns)
	if !t.ok {
		return false
	}
	at, box := c.within(), t.box
	a, b := &c.setup.Bodies[still], &c.setup.Bodies[turns]
	if !proof.SlidesFirst(&a.Chain) {
		return false
	}
	pose := c.setup.Pose(still, at)
	usesA, usesB := a.Chain.Uses(), b.Chain.Uses()
	for k := range c.setup.Axes {
		if c.setup.Axes[k].Kind != motion.Linear || !usesA[k] && !usesB[k] {
			continue
		}
		there := at
		there[k]++
		// Of what both follow nothing is left.
		per := c.setup.Pose(turns, there).T.Sub(c.setup.Pose(turns, at).T).Sub(c.setup.Pose(still, there).T.Sub(pose.T))
		if per.Norm() < 1e-9 {
			continue
		}
		box = along(box, per.Mul(q.Over.Lo[k]-at[k]), per.Mul(q.Over.Hi[k]-at[k]))
	}
	if proof.Sound(a.Solid) && proof.Sound(b.Solid) && proof.Between(c.standsIn(still), box) >= enough+1e-6 {
		return true
	}
	over := motion.At(at)
	loose := a.Chain.Course(&over).Looseness(a.Solid.Audit.Bounds.Center(), a.Solid.Audit.Bounds.Size().Norm()/2)
	return c.trees.BesideBox(q, enough+loose, t.boxed(box), &pose)
}

// within is where the linear axes are at home and the rotary ones where they are commanded to
// be, as near home as that is: what two bodies follow, both follow there.
func (c *checker) within() motion.Params {
	at := home(c.setup)
	for k := range c.setup.Axes {
		if a := &c.setup.Axes[k]; a.Kind == motion.Rotary {
			at[k] = min(max(at[k], a.Commanded[0]), a.Commanded[1])
		}
	}
	return at
}

// standsIn is a box around a body with the linear axes at home.
func (c *checker) standsIn(body int) geom.Box {
	if c.stands == nil {
		c.stands = map[int]geom.Box{}
	}
	box, known := c.stands[body]
	if !known {
		b, over := &c.setup.Bodies[body], motion.At(c.within())
		box = c.trees.Swept(b.Solid, &b.Chain, &over)
		c.stands[body] = box
	}
	return box
}

// boxed is a box with a tree; many others are asked about the same one.
func (t *turning) boxed(box geom.Box) *proof.Boxed {
	for _, b := range t.carried {
		if b.Box == box {
			return b
		}
	}
	b := &proof.Boxed{Box: box}
	t.carried = append(t.carried, b)
	return b
}

// along is a box moved from one shift to another.
func along(box geom.Box, from, to r3.Vector) geom.Box {
	return geom.Box{
		Min: box.Min.Add(r3.Vector{X: min(from.X, to.X), Y: min(from.Y, to.Y), Z: min(from.Z, to.Z)}),
		Max: box.Max.Add(r3.Vector{X: max(from.X, to.X), Y: max(from.Y, to.Y), Z: max(from.Z, to.Z)}),
	}
}

// turning works out the box of a body over the commanded ranges of all rotary axes.
func (c *checker) turning(body int) *turning {
	if c.turned == nil {
		c.turned = map[int]*turning{}
	}
	if t := c.turned[body]; t != nil {
		return t
	}
	b := &c.setup.Bodies[body]
	t := &turning{ok: proof.SlidesFirst(&b.Chain)}
	c.turned[body] = t
	over := motion.At(c.within())
	for k := range c.setup.Axes {
		if a := &c.setup.Axes[k]; a.Kind == motion.Rotary {
			over.Lo[k], over.Hi[k] = a.Commanded[0], a.Commanded[1]
		}
	}
	if t.ok {
		t.box = c.trees.SweptFar(b.Solid, &b.Chain, &over, turnPart)
	}
	return t
}
