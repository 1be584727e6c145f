package reach

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/kinematics"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// oracle works out by sampling what reach proves: it has its own idea of where a tool
// goes and of what it may meet, and takes nothing from the report but the rotary
// positions and the verdicts.
type oracle struct {
	t     testing.TB
	s     *machine.Setup
	r     *check.Report
	rng   *rand.Rand
	trees map[*machine.Solid]*collide.Tree
	seed  uint64
	asked int // distances taken
}

func newOracle(t testing.TB, s *machine.Setup, r *check.Report, seed uint64) *oracle {
	return &oracle{t: t, s: s, r: r, rng: rand.New(rand.NewPCG(seed, 77)), trees: map[*machine.Solid]*collide.Tree{}, seed: seed}
}

func (o *oracle) tree(s *machine.Solid) *collide.Tree {
	if o.trees[s] == nil {
		o.trees[s] = collide.NewTree(s.Mesh)
	}
	return o.trees[s]
}

// slack draws how far off each joint is, mostly at its ends, where promises break
// first. The same joint of two bodies is off by the same.
func (o *oracle) slack(chains ...motion.Chain) map[string]float64 {
	off := map[string]float64{}
	for _, c := range chains {
		for _, j := range c.Joints {
			if _, known := off[j.Name]; !known && j.Slack > 0 {
				off[j.Name] = j.Slack * []float64{-1, 1, 2*o.rng.Float64() - 1}[o.rng.IntN(3)]
			}
		}
	}
	return off
}

func posed(c motion.Chain, p motion.Params, off map[string]float64) geom.Pose {
	joints := make([]motion.Joint, len(c.Joints))
	for i, j := range c.Joints {
		j.Offset += off[j.Name]
		joints[i] = j
	}
	moved := motion.Chain{Joints: joints, Home: c.Home}
	return moved.Pose(p)
}

// left returns how much more than the demand two bodies have between them at a
// position, at most a little: chord errors and a random play taken off. Negative inside.
func (o *oracle) left(a, b *machine.Body, p motion.Params, demand float64) float64 {
	o.asked++
	off := o.slack(a.Chain, b.Chain)
	poseA, poseB := posed(a.Chain, p, off), posed(b.Chain, p, off)
	back := poseA.Inverse()
	rel := back.Mul(poseB)
	back = rel.Inverse()
	demand += a.Solid.ChordError + b.Solid.ChordError
	ta, tb := o.tree(a.Solid), o.tree(b.Solid)
	near := collide.DistanceWithin(ta, tb, rel, demand+1)
	if tb.Contains(back.Point(a.Solid.Audit.Shells[0].Point)) || ta.Contains(rel.Point(b.Solid.Audit.Shells[0].Point)) {
		return -demand
	}
	return min(near.Distance, demand+1) - demand
}

// sample is a position on the way of a tool.
type sample struct {
	p   motion.Params
	fed bool // lower than the approach: what cuts may be in the stock
}

// kin returns the kinematics of an operation's part.
func (o *oracle) kin(op *machine.Operation) *kinematics.Machine {
	axes := make([]kinematics.Axis, len(o.s.Axes))
	for k, a := range o.s.Axes {
		axes[k] = kinematics.Axis{Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home}
	}
	m, err := kinematics.New(axes, o.s.Parts[op.Part].Chain, o.s.Spindle.Chain)
	if err != nil {
		o.t.Fatal(err)
	}
	return m
}

// top is how high the part's own bodies are along an axis of the part.
func (o *oracle) top(op *machine.Operation, axis r3.Vector) float64 {
	high := math.Inf(-1)
	part := o.s.Parts[op.Part]
	toPart := part.Chain.Pose(motion.Params{}).Inverse()
	for _, b := range o.s.Bodies {
		if b.Unit != part.Unit {
			continue
		}
		pose := toPart.Mul(b.Chain.Pose(motion.Params{}))
		for _, f := range b.Solid.Mesh.Facets {
			for _, v := range f {
				high = max(high, pose.Point(v.Vector()).Dot(axis))
			}
		}
	}
	return high
}

// stand returns where the axes are with the foremost point at tip.
func (o *oracle) stand(m *kinematics.Machine, rotary motion.Params, tip r3.Vector, length float64) motion.Params {
	p, err := m.Linear(rotary, tip, length)
	if err != nil {
		o.t.Fatal(err)
	}
	return p
}

// way samples the way of a feature: where it begins and ends, and what lies between.
func (o *oracle) way(op *machine.Operation, f *machine.Feature, rotary motion.Params, n int) (enter, leave motion.Params, list []sample) {
	m, length := o.kin(op), o.s.Tools[op.Tool].LPR()
	raised := func(tip, axis r3.Vector, h float64) r3.Vector {
		return tip.Add(axis.Mul(o.top(op, axis) + h - tip.Dot(axis)))
	}
	at := func(tip r3.Vector) motion.Params { return o.stand(m, rotary, tip, length) }
	axis := f.Axes[0]
	if a := f.Area; a != nil {
		high := raised(a.Corner, axis, op.Retract).Sub(a.Corner).Dot(axis)
		low := raised(a.Corner, axis, op.Approach).Sub(a.Corner).Dot(axis)
		for range 3 * n {
			h := o.between(-a.Depth, high)
			tip := a.Corner.Add(a.U.Mul(o.between(0, 1))).Add(a.V.Mul(o.between(0, 1))).Add(axis.Mul(h))
			list = append(list, sample{at(tip), h < low+1e-6})
		}
		mid := at(a.Corner.Add(a.U.Add(a.V).Mul(0.5)).Add(axis.Mul(high)))
		return mid, mid, list
	}
	tips, last := f.Tips, f.Axes[len(f.Axes)-1]
	if len(f.Axes) > 1 {
		path, err := m.Contour(f.Tips, f.Axes, f.TipControl, length, rotary)
		if err != nil {
			o.t.Fatal(err)
		}
		for i := range len(tips) - 1 {
			for range n {
				s := o.between(0, 1)
				p := path.Positions[i]
				for k := range p {
					p[k] += s * (path.Positions[i+1][k] - p[k])
				}
				if f.TipControl {
					p = o.stand(m, p, tips[i].Add(tips[i+1].Sub(tips[i]).Mul(s)), length)
				}
				list = append(list, sample{p, true})
			}
		}
		rotary = path.Positions[0]
	}
	enter = at(raised(tips[0], axis, op.Retract))
	list = append(list, o.line(enter, at(raised(tips[0], axis, op.Approach)), n, false)...)
	list = append(list, o.line(at(raised(tips[0], axis, op.Approach)), at(tips[0]), n, f.Search == r3.Vector{})...)
	if len(f.Axes) == 1 {
		for i := range len(tips) - 1 {
			list = append(list, o.line(at(tips[i]), at(tips[i+1]), n, true)...)
		}
	} else {
		path, _ := m.Contour(f.Tips, f.Axes, f.TipControl, length, rotary)
		rotary = path.Positions[len(tips)-1]
	}
	end := tips[len(tips)-1]
	if f.Search != (r3.Vector{}) {
		list = append(list, o.line(at(end), at(end.Add(f.Search)), n, true)...)
		return enter, enter, list
	}
	leave = at(raised(end, last, op.Retract))
	list = append(list, o.line(at(end), at(raised(end, last, op.Approach)), n, true)...)
	list = append(list, o.line(at(raised(end, last, op.Approach)), leave, n, false)...)
	return enter, leave, list
}

// between draws a number, now and then one of the ends.
func (o *oracle) between(lo, hi float64) float64 {
	switch o.rng.IntN(4) {
	case 0:
		return lo
	case 1:
		return hi
	}
	return lo + (hi-lo)*o.rng.Float64()
}

// line samples the straight way between two positions.
func (o *oracle) line(a, b motion.Params, n int, fed bool) (list []sample) {
	for range n {
		s := o.between(0, 1)
		p := a
		for k := range p {
			p[k] += s * (b[k] - a[k])
		}
		list = append(list, sample{p, fed})
	}
	return list
}

// room samples the box of axis positions between two.
func (o *oracle) room(a, b motion.Params, n int) (list []sample) {
	for range n {
		p := a
		for k := range p {
			p[k] = o.between(a[k], b[k])
		}
		list = append(list, sample{p, false})
	}
	return list
}

// side is all that goes with the spindle: the zones of a tool and the machine's own.
func (o *oracle) side(tool int) (list []machine.ToolBody) {
	list = o.s.ToolBodies(tool)
	for i := range o.s.Bodies {
		if b := &o.s.Bodies[i]; b.OnTool && b.Role != "tool" {
			list = append(list, machine.ToolBody{Body: *b, Zone: 255})
		}
	}
	return list
}

// feature asserts what is said to be clear at a feature: all of it, or the pairs that
// no finding is about.
func (o *oracle) feature(op *machine.Operation, f *machine.Feature, said *check.Feature, n int) {
	_, _, list := o.way(op, f, params(o.s, said.Presented[0].At), n)
	unit := o.s.Parts[op.Part].Unit
	side := o.side(op.Tool)
	for i := range side {
		a := &side[i]
		for k := range o.s.Bodies {
			b := &o.s.Bodies[k]
			if b.OnTool || a.Unit == b.Unit || met(o.r, op.Name, a.Name, b.Name) != nil {
				continue
			}
			kind, exempt := machine.DemandHolder, false
			if b.Unit == unit && (a.Zone == tooling.Cutting || a.Zone == tooling.Neck && len(f.Axes) == 1) {
				kind, exempt = machine.DemandApproach, true
			} else if a.Zone == tooling.Cutting {
				kind = machine.DemandCutting
			}
			demand, _ := o.s.Demand.For(kind, a.Name, b.Name)
			for _, x := range list {
				if exempt && x.fed {
					continue
				}
				if left := o.left(&a.Body, b, x.p, demand); left < -1e-4 {
					o.t.Fatalf("seed %d: %s, %s: %s and %s are %.4f mm nearer than the %g demanded at %v, and nothing is said of it\n%s",
						o.seed, op.Name, f.Name, a.Name, b.Name, -left, demand, x.p, summary(o.r))
				}
			}
		}
	}
}
