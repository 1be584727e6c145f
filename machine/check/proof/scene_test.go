package proof

import (
	"math"
	"math/rand/v2"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// scene is a small shop: a tool over a part on a rotary axis in a tilt axis on two slides, and
// what can be shifted in it.
type scene struct {
	trees  *Trees
	a, b   machine.Body // a: what is carried by the axes; b: the tool
	over   motion.Box
	from   motion.Params // of the ways, if there are any
	ways   []motion.Params
	within motion.Params
	table  motion.Chain
	tool   motion.Chain
	demand float64
}

func randomSolid(r *rand.Rand) *machine.Solid {
	size := func() float64 { return 2 + 15*r.Float64() }
	var s shape.Surface
	var err error
	switch r.IntN(4) {
	case 0:
		s = shape.Box(r3.Vector{X: -size(), Y: -size(), Z: -size()}, r3.Vector{X: size(), Y: size(), Z: size()})
	case 1:
		s = shape.Cylinder(size(), -size(), size(), shape.Round{Chord: 1})
	case 2: // an angle
		x, y := size(), size()
		s, err = shape.Extrude(shape.Region{shape.Contour{{}, {X: 2 * x}, {X: 2 * x, Y: y / 2}, {X: x / 2, Y: y / 2}, {X: x / 2, Y: 2 * y}, {Y: 2 * y}}}, 0, size())
	default: // a cup, into which something may go without touching
		out, in := 12+size(), 9.0
		s, err = shape.Revolve(shape.Contour{{X: 0, Y: -3}, {X: out, Y: -3}, {X: out, Y: 20}, {X: in, Y: 20}, r2.Point{X: in}, {}}, shape.Round{Chord: 1})
	}
	if err != nil {
		panic(err)
	}
	m := s.Mesh()
	solid := &machine.Solid{Mesh: m, Audit: geom.AuditOf(m), Outside: r.IntN(2) == 0}
	if r.IntN(3) == 0 {
		solid.ChordError = 0.05 * r.Float64()
	}
	if r.IntN(8) == 0 { // not closed
		solid.Mesh = &geom.Mesh{Facets: m.Facets[1:]}
		solid.Audit = geom.AuditOf(solid.Mesh)
	}
	return solid
}

func randomScene(r *rand.Rand, trees *Trees) *scene {
	s := &scene{trees: trees, demand: []float64{0.05, 0.5, 2, 5}[r.IntN(4)]}
	s.a = machine.Body{Name: "part", Unit: "part", Solid: randomSolid(r)}
	s.b = machine.Body{Name: "tool", Unit: "tool", Solid: randomSolid(r)}
	joint := func(name string, kind motion.Kind, axis, at r3.Vector, k int) motion.Joint {
		j := motion.Joint{Name: name, Kind: kind, Axis: axis, Point: at}
		j.Gain[k] = -1
		return j
	}
	play := func(name string, kind motion.Kind, axis, at r3.Vector, slack float64) motion.Joint {
		return motion.Joint{Name: name, Kind: kind, Axis: axis, Point: at, Slack: slack}
	}
	tilt := r3.Vector{X: 1}
	if r.IntN(3) == 0 {
		tilt = r3.Vector{X: 1, Y: 0.3, Z: 0.2}.Normalize()
	}
	s.table.Joints = []motion.Joint{joint("X", motion.Linear, r3.Vector{X: 1}, r3.Vector{}, 0)}
	if r.IntN(2) == 0 {
		s.table.Joints = append(s.table.Joints, joint("Y", motion.Linear, r3.Vector{Y: 1}, r3.Vector{}, 1))
	}
	if r.IntN(3) > 0 {
		s.table.Joints = append(s.table.Joints, joint("A", motion.Rotary, tilt, r3.Vector{Z: 10}, 2))
	}
	if r.IntN(2) == 0 {
		s.table.Joints = append(s.table.Joints,
			play("pin 1", motion.Rotary, r3.Vector{Z: 1}, r3.Vector{X: 20}, 0.001*r.Float64()),
			play("pins", motion.Linear, r3.Vector{X: 1}, r3.Vector{}, 0.03*r.Float64()))
	}
	if r.IntN(2) == 0 {
		s.table.Joints = append(s.table.Joints, joint("C", motion.Rotary, r3.Vector{Z: 1}, r3.Vector{X: 3}, 3))
	}
	s.table.Home = geom.Identity()
	s.tool.Joints = []motion.Joint{{Name: "Z", Kind: motion.Linear, Axis: r3.Vector{Z: 1}, Gain: motion.Params{4: 1}, Slack: 0.01}}
	s.tool.Home = geom.Turn(r3.Vector{}, r3.Vector{X: 1}, float64(r.IntN(4))*math.Pi/2)
	s.tool.Home.T = r3.Vector{X: 20 * r.NormFloat64(), Y: 20 * r.NormFloat64(), Z: 20 + 30*r.Float64()}
	for k, width := range []float64{15, 15, 0.8, 1.5, 8} {
		s.over.Lo[k] = -width * r.Float64()
		s.over.Hi[k] = s.over.Lo[k]
		if r.IntN(2) == 0 {
			s.over.Hi[k] += width * r.Float64()
		}
	}
	if r.IntN(2) == 0 {
		s.led(r)
	}
	for range 3 { // brought near to where verdicts change
		if least := nearest(r, s.question()); least > 0 {
			s.tool.Home.T = s.tool.Home.T.Sub(r3.Vector{Z: least - s.demand*[]float64{0.1, 0.9, 1.05, 2}[r.IntN(4)]})
		}
	}
	return s
}

// led leads the axes along a way or two instead of over a box.
func (s *scene) led(r *rand.Rand) {
	s.from = s.over.Lo
	for range 1 + r.IntN(2) {
		var w motion.Params
		for k := range 5 {
			if r.IntN(3) > 0 {
				w[k] = s.over.Hi[k] - s.over.Lo[k]
			}
		}
		s.ways = append(s.ways, w)
	}
	s.within[0] = 0.02 * r.Float64()
}

// question is about the scene as it is now.
func (s *scene) question() *Question {
	q := &Question{A: &s.a, B: &s.b, Over: s.over, Demand: s.demand, Which: 7}
	m := motion.Between(s.table, s.tool)
	if s.ways != nil {
		m, q.Over = m.Along(s.from, s.within, s.ways...), motion.Unit(len(s.ways))
	}
	q.Moving = s.trees.Pair(&s.a, &s.b, m)
	return q
}

// vary makes another scene of it, mostly one that is much like it.
func (s *scene) vary(r *rand.Rand) *scene {
	n := *s
	n.table.Joints = append([]motion.Joint(nil), s.table.Joints...)
	by := r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Mul([]float64{1e-10, 0.01, 1, 10}[r.IntN(4)])
	switch r.IntN(6) {
	case 0: // a higher tool
		n.tool.Home.T = n.tool.Home.T.Add(by)
	case 1: // all that is on the slides stands elsewhere
		for i := range n.table.Joints {
			n.table.Joints[i].Point = n.table.Joints[i].Point.Add(by)
		}
		n.table.Home.T = n.table.Home.T.Add(by)
		if s.ways != nil && r.IntN(2) == 0 { // and the axes make up for it
			n.from[0] += by.X
		}
	case 2: // the part does
		n.table.Home.T = n.table.Home.T.Add(by)
	case 3: // a quarter turn round
		turn := geom.Turn(r3.Vector{X: 3}, r3.Vector{Z: 1}, float64(r.IntN(4))*math.Pi/2)
		n.table.Home = turn.Mul(n.table.Home)
	case 4: // a bit
		turn := geom.Turn(r3.Vector{X: 3}, r3.Vector{Z: 1}, 0.03*r.NormFloat64())
		n.table.Home = turn.Mul(n.table.Home)
	default: // nothing, or the demand
		n.demand = s.demand * []float64{1, 1, 0.9, 1.2}[r.IntN(4)]
	}
	return &n
}

// nearest searches for the smallest clearance by brute force: on a grid, downhill from the
// best of it, and with all that is loose at random.
func nearest(r *rand.Rand, q *Question) float64 {
	best, at := math.Inf(1), q.Over.Center()
	look := func(p motion.Params) {
		loose := q.Moving.Nominal()
		for i := range loose.Motion.Joints {
			if s := q.Moving.Motion.Joints[i].Slack; s > 0 {
				loose.Motion.Joints[i].Offset += s * float64(r.IntN(3)-1)
			}
		}
		near := collide.Distance(loose.A, loose.B, loose.Motion.Pose(p))
		if d := near.Distance - q.Moving.Margin; d < best {
			best, at = d, p
		}
	}
	for range 150 {
		var p motion.Params
		for k := range p {
			p[k] = q.Over.Lo[k] + (q.Over.Hi[k]-q.Over.Lo[k])*[]float64{0, 1, r.Float64(), r.Float64()}[r.IntN(4)]
		}
		look(p)
	}
	for step := 0.2; step > 1e-4; step *= 0.8 {
		for range 6 {
			p := at
			for k := range p {
				width := q.Over.Hi[k] - q.Over.Lo[k]
				p[k] = max(q.Over.Lo[k], min(q.Over.Hi[k], p[k]+step*width*(2*r.Float64()-1)))
			}
			look(p)
		}
	}
	return best
}
