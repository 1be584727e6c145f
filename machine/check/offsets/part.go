package offsets

import (
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// part is a workpiece with its kinematics, as drawn and as it was found.
type part struct {
	*machine.Part
	index   int
	nominal *kinematics.Machine
	found   *kinematics.Machine // the same as nominal if nothing was probed
	chain   motion.Chain        // as it was found
	rotary  []int               // the rotary axes between the part and the spindle
	tables  []table             // those that carry the part, from the bed on
}

// table is a rotary axis that carries the part, and its joint.
type table struct {
	axis  int
	joint int // in part.Chain
}

// readParts prepares the parts; a part that has no offset is said and left out.
func (b *builder) readParts() {
	s := b.setup
	for i := range s.Parts {
		p, err := newPart(s, i)
		if err != nil {
			b.note("part %s: no offset: %v", s.Parts[i].Name, err)
			continue
		}
		between := motion.Between(p.Chain, s.Spindle.Chain)
		moves, carries := between.Uses(), p.Chain.Uses()
		for k := range s.Axes {
			if s.Axes[k].Kind == motion.Rotary && moves[k] {
				p.rotary = append(p.rotary, k)
			}
		}
		for j := range p.Chain.Joints {
			joint := &p.Chain.Joints[j]
			for _, k := range p.rotary {
				if joint.Kind == motion.Rotary && joint.Gain[k] != 0 && carries[k] && !s.Axes[k].OnTool {
					p.tables = append(p.tables, table{k, j})
				}
			}
		}
		slices.SortFunc(p.rotary, func(i, j int) int { return check.ByLetter(s.Axes[i].Letter, s.Axes[j].Letter) })
		if len(b.parts) == 0 {
			if at, err := p.found.Linear(zero(s), r3.Vector{}, 0); err == nil && b.upright() >= 0 {
				b.touched = at[b.upright()]
			}
		}
		b.parts = append(b.parts, p)
	}
}

// newPart prepares the kinematics of one of the setup's parts.
func newPart(s *machine.Setup, i int) (*part, error) {
	p := &part{Part: &s.Parts[i], index: i, chain: found(&s.Parts[i])}
	var err error
	if p.nominal, err = kinematics.New(s.KinematicAxes(), p.Chain, s.Spindle.Chain); err == nil {
		p.found, err = kinematics.New(s.KinematicAxes(), p.chain, s.Spindle.Chain)
	}
	return p, err
}

// found returns the chain of a part as probing found it: turned about its own
// zero by the skew, as one turn about one line, and shifted, seen with every axis at zero.
func found(p *machine.Part) motion.Chain {
	c := p.Chain
	if p.Probed == nil {
		return c
	}
	carrier := motion.Chain{Joints: c.Joints, Home: geom.Identity()}
	to := carrier.Pose(motion.Params{})
	at := to.Mul(c.Home)
	move := geom.Shift(p.Probed.Shift)
	if angle := p.Probed.Skew.Norm(); angle > 0 {
		move = move.Mul(geom.Turn(at.T, p.Probed.Skew.Mul(1/angle), angle))
	}
	c.Home = to.Inverse().Mul(move).Mul(at)
	return c
}

// distinct returns the positions with linear axes as at zero, those that differ by whole
// turns only once, in their order.
func (p *part) distinct(used []motion.Params) (list []motion.Params) {
	for _, at := range used {
		if !slices.ContainsFunc(list, func(q motion.Params) bool { return p.same(at, q) }) {
			list = append(list, at)
		}
	}
	return list
}

// same reports whether the rotary axes stand the same but for whole turns.
func (p *part) same(a, b motion.Params) bool {
	for _, k := range p.rotary {
		if d := math.Remainder(a[k]-b[k], 2*math.Pi); math.Abs(d) > 1e-9 {
			return false
		}
	}
	return true
}

// upright is the axis that Z offsets are of: the first called Z; -1 if there is none.
func (b *builder) upright() int {
	return slices.IndexFunc(b.setup.Axes, func(a machine.Axis) bool { return a.Letter[:min(1, len(a.Letter))] == "Z" })
}
