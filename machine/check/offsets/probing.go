package offsets

import (
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// Where probing begins, mm: so far outside of the stock, so far inside of its
// edges, so far below its top. Common practice, no source.
const (
	standOff = 10.0
	inset    = 10.0
	below    = 5.0
)

// probe adds where to begin to probe for a part's zero, rotary axes at zero: along X and Y
// towards the side of the stock that is nearer to the zero (from the + side if it is in
// the middle), along Z from above.
func (b *builder) probe(p *part) {
	at, err := p.nominal.Linear(zero(b.setup), r3.Vector{}, 0)
	if err != nil {
		return // said with its offset
	}
	stock := b.stock(p, at)
	if len(stock.triangles) == 0 {
		b.note("part %s: no solid of %s to probe", p.Name, p.Unit)
		return
	}
	axes := b.linearAxes(p)
	var lo, hi [motion.MaxParams]float64
	for _, k := range axes {
		lo[k], hi[k] = stock.extent(b.direction(k))
	}
	for _, k := range axes {
		// Beside the zero, but on the stock and, for the sides, below its top.
		touch := r3.Vector{}
		for _, n := range axes {
			in := min(inset, (hi[n]-lo[n])/2)
			v := min(max(0, lo[n]+in), hi[n]-in)
			if n == b.upright() {
				v = hi[n] - min(below, (hi[n]-lo[n])/2)
			}
			touch = touch.Add(b.direction(n).Mul(v))
		}
		side, way := hi[k], -1.0
		if k != b.upright() && -lo[k] < hi[k]-1e-6 {
			side, way = lo[k], 1
		}
		d := b.direction(k)
		touch = touch.Add(d.Mul(side - touch.Dot(d)))
		b.search(p, at, stock, k, touch, d.Mul(way), way)
	}
}

// direction is where the program says + of a linear axis is, bed frame.
func (b *builder) direction(k int) r3.Vector {
	a := &b.setup.Axes[k]
	if a.Reversed {
		return a.Direction.Mul(-1)
	}
	return a.Direction
}

// ball returns the radius of the ball that searches, mm, and the number of its tool: that of the
// touch probe that operations use, or the first there is; 0, 0 without any.
func (b *builder) ball() (radius float64, number int) {
	s := b.setup
	probe := func(t *tooling.Tool) bool { return t.Cutter != nil && t.Cutter.Kind == tooling.TouchProbe }
	for i := range s.Operations {
		if t := s.Tools[s.Operations[i].Tool]; probe(t) {
			return t.Cutter.DC / 2, t.Number
		}
	}
	if i := slices.IndexFunc(s.Tools, probe); i >= 0 {
		return s.Tools[i].Cutter.DC / 2, s.Tools[i].Number
	}
	return 0, 0
}

// search adds a line for one way: touch is on the stock's bounding box, from the
// part's zero, way the direction in which the probe goes. The centre of its ball goes along the
// line through touch; it meets a plane at a distance of the radius from it, which is the
// radius over n.way, n the plane's normal, earlier on the way. What is told is where the foremost
// point is, the radius below the centre.
func (b *builder) search(p *part, at motion.Params, stock *solid, k int, touch, way r3.Vector, sign float64) {
	name := b.setup.Axes[k].Letter + map[bool]string{true: "+", false: "-"}[sign > 0]
	radius, number := b.ball()
	start := touch.Sub(way.Mul(standOff + radius))
	depth, normal, ok := stock.hit(start, way)
	if !ok {
		b.note("part %s, %s: no surface of the stock lies there, choose where to probe", p.Name, name)
		return
	}
	within, ok := b.looseness(p, at, start.Add(way.Mul(depth)), way, normal, stock.chord, radius)
	if !ok {
		b.note("part %s, %s: the surface there is too slanted to be probed, choose where", p.Name, name)
		return
	}
	depth -= radius / math.Abs(normal.Dot(way))
	if more := 2*within - standOff; more > 0 {
		start, depth = start.Sub(way.Mul(more)), depth+more
	}
	gauge := b.setup.Spindle.Chain.Pose(at)
	change := p.nominal.Sensitivity(at, start.Sub(gauge.Dir(r3.Vector{Z: radius})))
	q := check.Probing{Part: p.Name, Rotary: b.rotaryAt(p, at), Along: name, Probe: number, Find: b.length(depth)}
	for _, n := range b.linearAxes(p) {
		q.Start = append(q.Start, b.at(n, at[n]+change[n]))
	}
	// Start and Find are rounded by half a digit each: within makes up for it.
	digit := math.Pow(10, -float64(b.rules.Decimals))
	q.Within = round((math.Ceil(within/b.unit/digit-1e-6)+1)*digit, b.rules.Decimals)
	b.out.Probing = append(b.out.Probing, q)
}

// looseness bounds how far before or behind its place a surface is met on a straight
// way, with all location uncertainty between part and spindle and the chord error. A plane
// that is shifted by u is met n.u / n.way later, n its normal. Here n.u is bounded at the point
// where it is met as drawn; n itself turns by lean at most, which adds lean |u| to
// the one and takes lean from the other. A ball is met its radius over n.way earlier, and
// its centre can lean, too. ok is false if the way may run along the surface.
func (b *builder) looseness(p *part, at motion.Params, met, way, n r3.Vector, chord, radius float64) (within float64, ok bool) {
	rel := motion.Between(b.setup.Spindle.Chain, p.Chain)
	box := motion.At(at)
	e := rel.Over(&box, nil)
	gauge, part := b.setup.Spindle.Chain.Pose(at), p.Chain.Pose(at)
	gauge = gauge.Inverse()
	u, point := gauge.Dir(n), gauge.Point(part.T.Add(met))
	lean := 0.0
	for _, j := range rel.Joints {
		if j.Kind == motion.Rotary {
			lean += j.Slack
		}
	}
	drawn := math.Abs(n.Dot(way))
	steep := drawn - lean
	if steep < leastSteep {
		return 0, false
	}
	off := max(e.Toward(u, point, 0), e.Toward(u.Mul(-1), point, 0)) + lean*(e.Plain(point, 0)+radius) + chord
	return off/steep + radius*(1/steep-1/drawn), true
}

// leastSteep is the sine of the smallest angle between way and surface at which it is
// probed: 15 degrees. Common practice, no source.
const leastSteep = 0.26

// solid is the stock of a part, in directions of the bed frame from the part's zero.
type solid struct {
	triangles [][3]r3.Vector
	chord     float64
}

// stock returns the solids that the part is cut from.
func (b *builder) stock(p *part, at motion.Params) *solid {
	out := &solid{}
	middle := p.Chain.Pose(at)
	for i := range b.setup.Bodies {
		body := &b.setup.Bodies[i]
		if body.Unit != p.Unit || body.Solid == nil || body.Solid.Mesh == nil {
			continue
		}
		out.add(body.Solid, body.Chain.Pose(at), middle.T)
	}
	return out
}

func (s *solid) add(from *machine.Solid, pose geom.Pose, middle r3.Vector) {
	s.chord = max(s.chord, from.ChordError)
	for _, f := range from.Mesh.Facets {
		var t [3]r3.Vector
		for i, v := range f {
			t[i] = pose.Point(v.Vector()).Sub(middle)
		}
		s.triangles = append(s.triangles, t)
	}
}

func (s *solid) extent(d r3.Vector) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, t := range s.triangles {
		for _, v := range t {
			lo, hi = min(lo, v.Dot(d)), max(hi, v.Dot(d))
		}
	}
	return lo, hi
}

// hit returns how far along a unit direction the first triangle is met, and its unit normal. It is met
// if the signed volumes of the direction with its sides, seen from the start, have one sign.
func (s *solid) hit(start, way r3.Vector) (first float64, normal r3.Vector, ok bool) {
	first = math.Inf(1)
	for _, t := range s.triangles {
		a, b, c := t[0].Sub(start), t[1].Sub(start), t[2].Sub(start)
		u, v, w := way.Dot(c.Cross(b)), way.Dot(a.Cross(c)), way.Dot(b.Cross(a))
		if (u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0) {
			continue
		}
		n := b.Sub(a).Cross(c.Sub(a))
		if along := n.Dot(way); along != 0 {
			if d := n.Dot(a) / along; d >= 0 && d < first {
				first, normal, ok = d, n.Normalize(), true
			}
		}
	}
	return first, normal, ok
}
