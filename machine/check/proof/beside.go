package proof

import (
	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// Beside reports whether two bodies are proven to keep at least enough mm over the question's
// range, which must be more than its demand, because one of them keeps clear of a box
// around all that the other one passes through, as seen from it: a look at bodies that
// stand still. A no means nothing.
func (t *Trees) Beside(q *Question, enough float64) bool {
	first, second := t.besideBoxOfB, t.besideBoxOfA
	few, many := len(q.A.Solid.Mesh.Facets), len(q.B.Solid.Mesh.Facets)
	if few > many {
		first, second, few, many = second, first, many, few
	}
	return few <= mostLooked && first(q, enough) || many <= mostLooked && second(q, enough)
}

// mostLooked is how many facets a body may have that is looked at: of more, there may be
// thousands about as near as what is asked for.
const mostLooked = 6_000

// besideBoxOfA takes a box for A, and as B stands in the middle of its range lets A move instead.
func (t *Trees) besideBoxOfA(q *Question, enough float64) bool {
	e := q.Moving.Motion.Over(&q.Over, nil)
	center, radius := ball(q.B.Solid)
	at := e.Pose.Point(center)
	e.Hold(at, radius)
	return t.beside(q, enough, widened(q.A.Solid.Audit.Bounds, e, at, radius), &e.Pose)
}

// besideBoxOfB takes a box for B.
func (t *Trees) besideBoxOfB(q *Question, enough float64) bool {
	still := geom.Identity()
	return t.BesideBox(q, enough, &Boxed{Box: t.Swept(q.B.Solid, &q.Moving.Motion, &q.Over)}, &still)
}

// widened is a box, widened by how far any point of a ball can come towards it.
func widened(box geom.Box, e *motion.Excursion, at r3.Vector, radius float64) geom.Box {
	far := func(x, y, z float64) float64 {
		return e.Toward(r3.Vector{X: x, Y: y, Z: z}, at, radius) + boxRounding
	}
	return geom.Box{
		Min: box.Min.Sub(r3.Vector{X: far(-1, 0, 0), Y: far(0, -1, 0), Z: far(0, 0, -1)}),
		Max: box.Max.Add(r3.Vector{X: far(1, 0, 0), Y: far(0, 1, 0), Z: far(0, 0, 1)}),
	}
}

// boxRounding is more than float64 and the float32 of a box's corners can be off, mm.
const boxRounding = 1e-2

// BesideBox reports the same of a box that holds all of B, its chord error and what
// can be off with it, wherever B gets, in a frame in which A stands still at a pose.
func (t *Trees) BesideBox(q *Question, enough float64, box *Boxed, pose *geom.Pose) bool {
	if box.Empty() {
		return false
	}
	for i := range q.A.Solid.Audit.Shells {
		if box.Contains(pose.Point(q.A.Solid.Audit.Shells[i].Point)) {
			return false
		}
	}
	if !collide.Apart(box.Tree(), q.Moving.A, *pose, enough+q.A.Solid.ChordError+boxRounding) {
		return false
	}
	return t.settled(q, Answer{Verdict: check.Clear}).Verdict == check.Clear
}

// beside looks at B, standing at a pose as seen from A, and a box of A's frame: wherever B
// gets, to A it is no nearer than it is to the box now.
func (t *Trees) beside(q *Question, enough float64, box geom.Box, pose *geom.Pose) bool {
	if box.Empty() {
		return false
	}
	for i := range q.B.Solid.Audit.Shells {
		if box.Contains(pose.Point(q.B.Solid.Audit.Shells[i].Point)) {
			return false // what is within the box is not beside it
		}
	}
	tree := boxTree(box)
	if !collide.Apart(tree, q.Moving.B, *pose, enough+q.Moving.Margin+boxRounding) {
		return false
	}
	return t.settled(q, Answer{Verdict: check.Clear}).Verdict == check.Clear
}

// Boxed is a box and its tree, which is built when it is needed. Not for several goroutines.
type Boxed struct {
	geom.Box
	tree *collide.Tree
}

// Tree is the tree of the box's surface.
func (b *Boxed) Tree() *collide.Tree {
	if b.tree == nil {
		b.tree = boxTree(b.Box)
	}
	return b.tree
}

func boxTree(box geom.Box) *collide.Tree { return collide.NewTree(shape.Box(box.Min, box.Max).Mesh()) }
