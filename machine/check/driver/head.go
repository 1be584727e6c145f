package driver

import (
	"context"
	"fmt"
	"math"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"

	"github.com/golang/geo/r2"
)

// headSides is how many flat sides stand in for a round head: corners 0.1 % of the
// radius outside.
const headSides = 72

// headRoom is the clearance that is asked of a head and what stands beside or over it,
// mm: it is only to be told from a contact, since a sunk head is meant to be near.
const headRoom = 0.01

// headFinding is what is wrong with the head of a screw and a body.
type headFinding struct {
	verdict check.Verdict
	other   int // nowhere where it is about no body
	reason  string
	answer  *proof.Answer // nil where no numbers tell anything
}

// nowhere stands instead of a body.
const nowhere = -1

// headSize is what heads of one size have in common, mm.
type headSize struct{ wide, height float64 }

// madeHead is the solid of a head, or why there is none.
type madeHead struct {
	solid *machine.Solid
	err   error
}

// make makes the solid, enclosed from outside: it has no chord error.
func (h headSize) make() madeHead {
	mesh, err := shape.Enclose(shape.Contour{r2.Point{X: h.wide / 2}, r2.Point{X: h.wide / 2, Y: h.height}}, headSides)
	if err != nil {
		return madeHead{err: err}
	}
	return madeHead{solid: &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}}
}

// heads puts the head of each screw in its place and looks what it meets.
func (c *checker) heads(ctx context.Context) error {
	var list []*screw
	var bodies []machine.Body
	for _, w := range c.screws {
		if w.unknown() != "" || w.bearer() == "" {
			continue
		}
		size := headSize{w.wide, w.height}
		made := proof.Fact(c.options.Trees, size, size.make)
		if made.err != nil {
			w.headed = append(w.headed, headFinding{verdict: check.Unproven, other: nowhere, reason: "its head cannot be put in its place: " + made.err.Error()})
			continue
		}
		w.solid = made.solid
		list, bodies = append(list, w), append(bodies, machine.Body{Solid: w.solid})
	}
	if len(list) == 0 {
		return nil
	}
	c.options.Trees.Plant(c.options.Jobs, c.setup.Bodies)
	c.options.Trees.Plant(c.options.Jobs, bodies)
	return c.options.Each(ctx, "screw heads", len(list), func(ctx context.Context, i int) error {
		return c.head(ctx, list[i])
	})
}

// bearer is the unit that the head of a screw rests on; "" if none is known.
func (w *screw) bearer() string {
	switch {
	case !w.FromBelow:
		return w.of
	case w.Under != nil:
		return w.Under.Unit
	}
	return ""
}

// headAt returns the head as a body, so many mm above where it is stated to rest. The
// axes stand where the setup is loaded.
func (w *screw) headAt(s *machine.Setup, above float64) *machine.Body {
	out := w.Toward.Mul(-1)
	chain := w.base.Along(s.Loading.At, motion.Params{})
	chain.Home = geom.Pose{R: upright(out.Ortho(), out), T: w.At.Add(out.Mul(w.Clamped + above))}
	return &machine.Body{Name: "the head of " + w.words(), Unit: w.of, Solid: w.solid, Chain: chain}
}

// headQuestion asks for a head and a body of the setup.
func (c *checker) headQuestion(head *machine.Body, other int) *proof.Question {
	b := &c.setup.Bodies[other]
	return &proof.Question{
		A: head, B: b, Demand: headRoom, Over: motion.At(motion.Params{}),
		Moving: c.options.Trees.Pair(head, b, motion.Between(head.Chain, b.Chain.Along(c.setup.Loading.At, motion.Params{}))),
	}
}

// head looks at the head of one screw: on a face of what bears it, and clear of all else
// that is not on the spindle side.
func (c *checker) head(ctx context.Context, w *screw) error {
	if err := c.rests(ctx, w); err != nil {
		return err
	}
	for i := range c.setup.Bodies {
		b := &c.setup.Bodies[i]
		if b.OnTool || b.Unit == w.bearer() {
			continue
		}
		if err := c.headMeets(ctx, w, i); err != nil {
			return err
		}
	}
	return nil
}

// headMeets looks whether a head meets a body that it does not rest on.
func (c *checker) headMeets(ctx context.Context, w *screw, other int) error {
	a, err := c.options.Trees.Ask(ctx, c.headQuestion(w.headAt(c.setup, 0), other), c.options.Tests)
	if err != nil || a.Verdict == check.Clear {
		return err
	}
	found := headFinding{verdict: a.Verdict, other: other, reason: a.Reason, answer: &a}
	if a.Verdict == check.Contact {
		// One that ends in the plane of the face may only seem to stand out of it.
		lower, err := c.options.Trees.AskFree(ctx, c.headQuestion(w.headAt(c.setup, -proof.SeatLift), other), c.options.Tests)
		if err != nil {
			return err
		}
		if found.reason == "" {
			found.reason = fmt.Sprintf("with clamped = %g its head ends %g mm above the seat", tidy(w.Clamped), tidy(w.Clamped+w.height))
		}
		if lower.Verdict == check.Clear {
			found.verdict = check.Unproven
			found.reason = fmt.Sprintf("its head touches within %g mm: whether it stands in the way cannot be told", proof.SeatLift)
		}
	}
	w.headed = append(w.headed, found)
	return nil
}

// rests looks whether a head bears on a face: lifted a little it is free of what bears it,
// and lowered from there it is not.
func (c *checker) rests(ctx context.Context, w *screw) error {
	trees := c.options.Trees
	lifted, lowered, drawn := w.headAt(c.setup, proof.SeatLift), w.headAt(c.setup, -proof.SeatLift), w.headAt(c.setup, 0)
	nearest, gap, touches, free := nowhere, math.Inf(1), false, true
	for i := range c.setup.Bodies {
		if c.setup.Bodies[i].Unit != w.bearer() || c.setup.Bodies[i].OnTool {
			continue
		}
		a, err := trees.AskFree(ctx, c.headQuestion(lifted, i), c.options.Tests)
		if err != nil {
			return err
		}
		if a.Verdict != check.Clear {
			free = false
			w.headed = append(w.headed, w.sunk(i, a))
		}
		touches = touches || c.distance(lowered, i) == 0
		if d := c.distance(drawn, i); d < gap {
			nearest, gap = i, d
		}
	}
	if free && !touches {
		f := headFinding{verdict: check.Unproven, other: nearest, reason: fmt.Sprintf("with clamped = %g its head rests on no face", tidy(w.Clamped))}
		if nearest != nowhere {
			f.reason += fmt.Sprintf(": %.2f mm between it and %s", gap, c.nameOf(nearest))
		}
		w.headed = append(w.headed, f)
	}
	return nil
}

// nameOf names a body; "" for none.
func (c *checker) nameOf(body int) string {
	if body == nowhere {
		return ""
	}
	return c.setup.Bodies[body].Name
}

// distance is that of a head and a body, as drawn.
func (c *checker) distance(head *machine.Body, other int) float64 {
	m := c.headQuestion(head, other).Moving.Motion
	return collide.Distance(c.options.Trees.Of(head.Solid), c.options.Trees.Of(c.setup.Bodies[other].Solid), m.Pose(motion.Params{})).Distance
}

// sunk says that a head is within what bears it. A counterbore that is stated need not be
// in the solid.
func (w *screw) sunk(other int, a proof.Answer) headFinding {
	f := headFinding{verdict: a.Verdict, other: other, reason: a.Reason, answer: &a}
	if a.Verdict != check.Contact {
		return f
	}
	f.reason = fmt.Sprintf("with clamped = %g its head does not rest on a face but is within the solid", tidy(w.Clamped))
	if w.Counterbore != nil {
		f.verdict, f.reason = check.Unproven, f.reason+", which has no room for it where a counterbore is stated"
	}
	return f
}

// headFindings lists what is wrong with heads, those of one thread of a component
// together where the words are the same.
func (c *checker) headFindings() (list []check.Finding) {
	type key struct {
		of, thread, reason string
		verdict            check.Verdict
		other              int
	}
	type group struct {
		key
		names []string
		first *headFinding
		screw *screw
	}
	var groups []*group
	known := map[key]*group{}
	for _, w := range c.screws {
		for i := range w.headed {
			h := &w.headed[i]
			k := key{w.of, w.Thread, h.reason, h.verdict, h.other}
			if known[k] == nil {
				known[k] = &group{key: k, first: h, screw: w}
				groups = append(groups, known[k])
			}
			known[k].names = append(known[k].names, w.Name)
		}
	}
	for _, g := range groups {
		f := check.Finding{
			Verdict: g.verdict, Question: check.Heads, Index: [2]int{-1, g.other}, Reason: g.reason, At: c.loadedAt(), Over: []check.Range{},
			Bodies: [2]string{"head of " + namedTogether(g.names, g.thread, g.of), c.nameOf(g.other)},
			Params: c.setup.Loading.At,
		}
		if a := g.first.answer; a != nil {
			if near := a.Out.Near; near.FacetA >= 0 && near.FacetB >= 0 && !math.IsInf(near.Distance, 1) && near.A != near.B {
				toBed := g.screw.headAt(c.setup, 0).Chain.Pose(motion.Params{})
				p, q := toBed.Point(near.A), toBed.Point(near.B)
				f.Points = &[2][3]float64{{p.X, p.Y, p.Z}, {q.X, q.Y, q.Z}}
			}
		}
		list = append(list, f)
	}
	return list
}
