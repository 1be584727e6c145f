package posted

import (
	"context"
	"fmt"

	"gridswing/collide/material"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/spindle"
	"gridswing/machine/tooling"
)

// final is what is to be left of a part. A cutter may go no deeper below its surface than is stated, as the
// program has it: the part is where the program puts it, so what it may be off by does not count, nor the
// accuracy of axes.
type final struct {
	part   int // of Setup.Parts
	within float64
	model  *material.Model // all that is deeper than that, and a little more; nil where there is none
	body   machine.Body
	rides  map[*rider]ride
	eroded map[*rider]*machine.Body
	guards map[*rider]*guard
}

func newFinal(c *checker, part int, cell float64) *final {
	p := &c.setup.Parts[part]
	f := &final{
		part: part, within: p.GougeWithin, rides: map[*rider]ride{}, eroded: map[*rider]*machine.Body{}, guards: map[*rider]*guard{},
		body: machine.Body{Name: p.Name + ", finished", Unit: p.Unit, Solid: p.Finished, Chain: p.Chain},
	}
	// Without a model the solid itself is asked, which takes longer.
	f.model, _ = material.Shrunk(p.Finished.Mesh, p.Finished.ChordError, f.within, cell)
	return f
}

// gouges asks of a leg in feed whether the cutting part stays out of what is to be left.
func (w *cutWalk) gouges(ctx context.Context, i, at int) {
	r := w.sharp()
	if r == nil || r.tool.Cutter.Kind == tooling.TouchProbe {
		return
	}
	for _, f := range w.stock.blanks[i].finals {
		if _, known := f.rides[r]; !known {
			f.rides[r] = newRide(f.body.Chain, r.Body.Chain)
		}
		st := passOf(&w.chunk.legs[at])
		near, ok := f.clear(r, &st, mostGougeParts)
		if ok {
			continue
		}
		a, err := w.stock.exactly(ctx, f, r, &st)
		if err != nil || a.Verdict == check.Clear {
			continue
		}
		w.gouge(f, i, at, &st, near, a)
	}
}

// mostGougeParts is in how many parts a leg on which axes turn is asked about.
const mostGougeParts = 64

// clear reports whether the model proves that the cutting part is nowhere deeper than it may be.
func (f *final) clear(r *rider, st *pass, parts int) (material.Near, bool) {
	if f.model == nil {
		return material.Near{}, false
	}
	ride := f.rides[r]
	s := ride.over(st, r.center, r.radius)
	on := s.Sweep
	on.Off = s.bent
	near, ok := f.model.Keeps(&material.Body{Outline: r.hull}, &on, 0, 0)
	if ok || parts < 2 || s.bent <= f.within/10 {
		return near, ok
	}
	first, second := st.halves(st.widest())
	if near, ok = f.clear(r, &first, parts/2); !ok {
		return near, ok
	}
	return f.clear(r, &second, parts/2)
}

// exactly asks the solid itself: a cutting part that is smaller by the depth all round must stay out of it.
func (k *stock) exactly(ctx context.Context, f *final, r *rider, st *pass) (proof.Answer, error) {
	body := f.eroded[r]
	if body == nil {
		body = eroded(k.c.trees, r.tool, r.Body, f.within)
		f.eroded[r] = body
	}
	from := st.at
	for _, way := range st.ways {
		for a := range from {
			from[a] -= way[a] / 2
		}
	}
	chain := motion.Between(body.Chain, f.body.Chain)
	pair := k.c.trees.Pair(body, &f.body, chain.Along(from, motion.Params{}, st.ways...))
	pair = pair.Nominal()
	q := proof.Question{A: body, B: &f.body, Demand: barely, Over: motion.Unit(len(st.ways)), Moving: pair,
		Which: proof.Which("gouge", body.Name, f.body.Name)}
	return k.c.trees.Ask(ctx, &q, min(gougeTests, k.c.options.Tests))
}

// gougeTests is what such a question may cost: a millisecond or so.
const gougeTests = 20_000

// eroded is a cutting part less a depth all round. The erosion of a rounded corner by less than its radius is a
// rounded corner with as much less radius.
func eroded(trees *proof.Trees, t *tooling.Tool, whole *machine.Body, depth float64) *machine.Body {
	c := *t.Cutter
	ball := c.Kind == tooling.BallEndMill && c.RE == 0
	if ball {
		c.RE = c.DC / 2
	}
	if c.RE <= depth || c.DC <= 2*depth || c.APMX <= depth || c.DCX > c.DC || c.Kind != tooling.BallEndMill && c.Kind != tooling.EndMill {
		return spindle.Erode(trees, t, whole, depth)
	}
	c.DC -= 2 * depth
	c.RE -= depth
	c.APMX -= depth
	less := *t
	less.Cutter = &c
	mesh := less.At(less.StickOut - depth).Solid(tooling.Cutting)
	if mesh == nil {
		return spindle.Erode(trees, t, whole, depth)
	}
	return planted(trees, whole, mesh)
}

// gouge notes a cut that goes too deep.
func (w *cutWalk) gouge(f *final, i, at int, st *pass, near material.Near, a proof.Answer) {
	k, r := w.stock, w.sharp()
	v, reason := check.Unproven, "whether it goes deeper than it may was not shown"
	if a.Verdict == check.Contact {
		v, reason = check.Contact, fmt.Sprintf("more than %s mm below the finished surface", millimetres(f.within))
	}
	depth := f.within + near.Depth
	position := st.at
	if a.Verdict == check.Contact {
		position = partway(st, a.Out.At)
	}
	toPart := motion.Between(k.c.setup.Bodies[k.blanks[i].body].Chain, f.body.Chain)
	pose := toPart.Pose(position)
	near.Point = pose.Point(near.Point)
	w.hits = append(w.hits, hit{
		question: check.Gouging, a: r.Index, b: k.blanks[i].body, what: "gouge", verdict: v, left: -depth, step: w.chunk.legs[at].step,
		tell: func() check.Finding {
			g := k.finding(r, i, position, &near)
			g.Reason = reason
			if v == check.Contact {
				g.Depth = &depth
			}
			return g
		},
	})
}

// partway is where the axes stand on a stretch, each way gone the share u of it.
func partway(st *pass, u motion.Params) motion.Params {
	p := st.at
	for w, way := range st.ways {
		for k := range p {
			p[k] += (u[w] - 0.5) * way[k]
		}
	}
	return p
}

// planted is a body of another shape.
func planted(trees *proof.Trees, whole *machine.Body, mesh *geom.Mesh) *machine.Body {
	b := *whole
	b.Solid = &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}
	trees.Plant(1, []machine.Body{b})
	return &b
}
