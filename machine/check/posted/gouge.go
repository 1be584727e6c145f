package posted

import (
	"fmt"
	"math"
	"slices"

	"gridswing/collide"
	"gridswing/collide/material"
	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// final is what is to be left of a part. A cutter may go no deeper below its surface than is stated, as the
// program has it: the part is where the program puts it, so what it may be off by does not count, nor the
// accuracy of axes. A place in the cutter is deeper than that if it cannot be brought out of the solid by going
// so far along the tool and so far square to it.
type final struct {
	within, chord float64 // mm
	chain         motion.Chain
	surface       *material.Surface
	tree          *collide.Tree
	cutters       map[*rider]*edge
}

// edge is a cutting part, as a final is asked about it.
type edge struct {
	ride ride
	// No place in the cutting part is farther than the depth from outer, along the tool and square to it:
	// where that is out of the finished solid, nothing goes deeper. inner is what surely cuts less the
	// depth and the solid's chord error all round: where that meets the solid, something does.
	outer, inner material.Outline
}

func newFinal(c *checker, part int) *final {
	p := &c.setup.Parts[part]
	return &final{
		within: p.GougeWithin, chord: p.Finished.ChordError, chain: p.Chain,
		surface: material.NewSurface(p.Finished.Mesh), tree: c.trees.Of(p.Finished), cutters: map[*rider]*edge{},
	}
}

// of is the edge of a cutting part.
func (f *final) of(r *rider) *edge {
	e := f.cutters[r]
	if e == nil {
		hull := r.hull
		if r.tool.Cutter.Kind == tooling.Tap {
			hull = narrowed(hull, threadCore)
		}
		e = &edge{ride: newRide(f.chain, r.Body.Chain), outer: core(hull, f.within)}
		if r.inside != nil {
			e.inner = eroded(r.inside, f.within+f.chord)
		}
		f.cutters[r] = e
	}
	return e
}

// threadCore is how wide a thread is at its core, as a share of its diameter: 1 - 1.0825 P/d is not below this for the
// coarse pitches of ISO 261 (M1 has 0.25; from memory). A finished part does not show threads, so that what a tap
// cuts around its core is no gouge.
const threadCore = 0.73

// narrowed is an outline with a share of its radii.
func narrowed(o material.Outline, share float64) material.Outline {
	less := slices.Clone(o)
	for i := range less {
		less[i][0] *= share
	}
	return less
}

// core returns an outline from which no place in o is farther than the depth, along the axis and square to
// it: every corner is drawn in to where the edges beside it meet if both are drawn in by the depth, but no farther
// than it along either; the upper one, where the tool goes on, level. A place in o is a mean of places on
// its corners' circles, and the same mean of those that they are drawn to is no farther off than these are.
func core(o material.Outline, depth float64) material.Outline {
	drawn := make(tooling.Piece, len(o))
	for i, c := range o {
		before, by := [2]float64{0, 1}, [2]float64{-depth, 0}
		if i > 0 {
			before = inward(o[i-1], c)
		}
		switch {
		case i+1 == len(o):
		case i == 0 && c[0] == 0:
			by = [2]float64{0, depth}
		default:
			after := inward(c, o[i+1])
			sum := [2]float64{before[0] + after[0], before[1] + after[1]}
			if l2 := sum[0]*sum[0] + sum[1]*sum[1]; l2 > 0 {
				far := min(2*depth/l2, depth/max(math.Abs(sum[0]), math.Abs(sum[1])))
				by = [2]float64{sum[0] * far, sum[1] * far}
			}
		}
		drawn[i] = [2]float64{max(0, c[0]+by[0]), c[1] + by[1]}
	}
	less := tooling.Hull([]tooling.Piece{drawn})
	if len(less) < 2 || less[len(less)-1][1] <= less[0][1] {
		return o
	}
	return material.Outline(less)
}

// inward is the unit normal to the axis' side of the edge from one corner up to the next.
func inward(a, b [2]float64) [2]float64 {
	dr, dz := b[0]-a[0], b[1]-a[1]
	l := math.Hypot(dr, dz)
	if l == 0 {
		return [2]float64{}
	}
	return [2]float64{-dz / l, dr / l}
}

// eroded returns all places in an outline that are so deep in it, but for its upper end, where the tool goes
// on; of an outline that is nowhere so deep its axis, a hair wide. Erosion of a convex body by a ball
// moves every one of its tangent planes inward.
func eroded(o material.Outline, depth float64) material.Outline {
	low, high, wide := o[0][1], o[len(o)-1][1], 0.0
	for _, c := range o {
		wide = max(wide, c[0])
	}
	line := [][2]float64{{0, low + depth}, {wide, low + depth}, {wide, high}, {0, high}}
	for i := 1; i < len(o); i++ {
		dr, dz := o[i][0]-o[i-1][0], o[i][1]-o[i-1][1]
		if l := math.Hypot(dr, dz); dz > 0 {
			line = behind(line, dz/l, -dr/l, (dz*o[i-1][0]-dr*o[i-1][1])/l-depth)
		}
	}
	less := tooling.Hull([]tooling.Piece{line})
	if len(less) < 2 || less[len(less)-1][1] <= less[0][1] {
		return material.Outline{{hair, high - hair}, {hair, high}}
	}
	return material.Outline(less)
}

// hair is as thin as something is that there still is, mm.
const hair = 1e-3

// behind cuts off what of a convex polygon is in front of c r + m z = d.
func behind(line [][2]float64, c, m, d float64) (left [][2]float64) {
	for i, p := range line {
		q := line[(i+1)%len(line)]
		u, v := c*p[0]+m*p[1]-d, c*q[0]+m*q[1]-d
		if u <= 0 {
			left = append(left, p)
		}
		if (u < 0) != (v < 0) && u != v {
			t := u / (u - v)
			left = append(left, [2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
		}
	}
	return left
}

// gouges asks of a leg in feed whether the cutting part stays out of what is to be left.
func (w *cutWalk) gouges(i, at int) {
	r := w.sharp()
	if r == nil || r.tool.Cutter.Kind == tooling.TouchProbe {
		return
	}
	for _, f := range w.stock.blanks[i].finals {
		st := passOf(&w.chunk.legs[at])
		if found := f.ask(r, &st, mostGougeParts); found != nil {
			w.gouge(f, i, at, found)
		}
	}
}

// gouged is where something goes deeper than it may, or was not shown not to.
type gouged struct {
	at    motion.Params
	point r3.Vector // in the part's frame
	depth float64   // below the finished surface, at least; 0: not shown
}

// mostGougeParts is in how many parts a leg on which axes turn is asked about.
const mostGougeParts = 64

// ask reports where the cutting part goes too deep on a stretch; nil where it is proven not to.
func (f *final) ask(r *rider, st *pass, parts int) *gouged {
	e := f.of(r)
	s := e.ride.over(st, r.center, r.radius)
	on := s.Sweep
	on.Off = s.bent
	body := &material.Body{Outline: e.outer}
	out := func() (r3.Vector, bool) {
		p, apart := f.surface.Apart(body, &on, f.chord)
		if apart && f.tree.Contains(on.Origin.Add(on.Axis.Mul(e.outer[0][1]))) {
			return on.Origin, false
		}
		return p, apart
	}
	point, ok := r3.Vector{}, false
	if s.bent <= mostBent {
		if point, ok = out(); ok {
			return nil
		}
	}
	longest := 0.0
	for _, way := range s.Ways {
		longest = max(longest, way.Norm())
	}
	if (s.bent > f.within/10 || longest > r.radius) && parts > 1 {
		first, second := st.halves(st.widest())
		if found := f.ask(r, &first, parts/2); found != nil && found.depth > 0 {
			return found
		} else if other := f.ask(r, &second, parts/2); other != nil {
			return other
		} else {
			return found
		}
	}
	found := &gouged{at: st.at, point: point}
	if e.inner != nil {
		f.measure(r, e, st, found)
	}
	return found
}

// depthSteps is how often the range is halved in which a depth is looked for.
const depthSteps = 8

// measure looks for how deep a cut goes at least, and where on the stretch: at places along it what surely cuts
// is made smaller until it is out of the solid.
func (f *final) measure(r *rider, e *edge, st *pass, found *gouged) {
	deep := func(o material.Outline, u float64) (r3.Vector, bool) {
		s := e.ride.over(&pass{at: partway(st, u)}, r.center, r.radius)
		s.Off = 0
		p, apart := f.surface.Apart(&material.Body{Outline: o}, &s.Sweep, 0)
		if apart && f.tree.Contains(s.Origin.Add(s.Axis.Mul(o[0][1]))) {
			return s.Origin, true
		}
		return p, !apart
	}
	for _, u := range [...]float64{0.5, 0, 1, 0.25, 0.75} {
		if _, is := deep(e.inner, u); !is {
			continue
		}
		low, high := f.within, f.within+r.radius
		for range depthSteps {
			mid := (low + high) / 2
			if p, is := deep(eroded(r.inside, mid+f.chord), u); is {
				low, found.point = mid, p
			} else {
				high = mid
			}
		}
		if low > found.depth {
			found.depth, found.at = low, partway(st, u)
		}
	}
}

// gouge notes a cut that goes too deep.
func (w *cutWalk) gouge(f *final, i, at int, found *gouged) {
	k, r := w.stock, w.sharp()
	v, reason := check.Unproven, fmt.Sprintf("not shown to stay within %s mm below the finished surface", millimetres(f.within))
	if found.depth > 0 {
		v, reason = check.Contact, fmt.Sprintf("more than %s mm below the finished surface", millimetres(f.within))
	}
	toPart := motion.Between(k.c.setup.Bodies[k.blanks[i].body].Chain, f.chain)
	pose := toPart.Pose(found.at)
	near := material.Near{Point: pose.Point(found.point)}
	w.hits = append(w.hits, hit{
		question: check.Gouging, a: r.Index, b: k.blanks[i].body, what: "gouge", verdict: v, left: -found.depth, step: w.chunk.legs[at].step,
		tell: func() check.Finding {
			g := k.finding(r, i, found.at, &near)
			g.Reason = reason
			if v == check.Contact {
				g.Depth = &found.depth
			}
			return g
		},
	})
}

// partway is where the axes stand on a stretch, every way gone the share u of it.
func partway(st *pass, u float64) motion.Params {
	p := st.at
	for _, way := range st.ways {
		for k := range p {
			p[k] += (u - 0.5) * way[k]
		}
	}
	return p
}
