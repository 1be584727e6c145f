package offsets

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// centres adds where the spindle stands on the lines of the rotary axes that
// carry the parts, and says what is to be known of those that carry the tool.
func (b *builder) centres() {
	b.out.Centres = []check.RotaryCentre{}
	for _, k := range b.rotaryAxes() {
		a := &b.setup.Axes[k]
		if a.OnTool {
			b.pivot(a)
			continue
		}
		c, err := b.centre(k)
		if err != nil {
			b.note("%s: no centre: %v", a.Letter, err)
			continue
		}
		b.out.Centres = append(b.out.Centres, c)
	}
}

// rotaryAxes are all rotary axes between any part and the spindle, by letter.
func (b *builder) rotaryAxes() (list []int) {
	for _, p := range b.parts {
		for _, k := range p.rotary {
			if !slices.Contains(list, k) {
				list = append(list, k)
			}
		}
	}
	slices.SortFunc(list, func(i, j int) int { return check.ByLetter(b.setup.Axes[i].Letter, b.setup.Axes[j].Letter) })
	return list
}

// centre returns the positions, rotary axes at zero, at which the gauge point is on the
// line of an axis, without those of linear axes along it. Where lengths are touched
// off Z counts from there, as in the offsets.
func (b *builder) centre(k int) (c check.RotaryCentre, err error) {
	a := &b.setup.Axes[k]
	c = check.RotaryCentre{Axis: a.Letter, Linear: []check.Position{}, Basis: basisWord(a.Measured)}
	i := slices.IndexFunc(b.parts, func(p *part) bool { return slices.ContainsFunc(p.tables, is(k)) })
	if i < 0 {
		return c, fmt.Errorf("%s carries no part", a.Letter)
	}
	p := b.parts[i]
	joint := p.tables[slices.IndexFunc(p.tables, is(k))].joint
	// The line itself as a part: it moves with what carries the axis.
	line := motion.Chain{Joints: p.Chain.Joints[:joint], Home: geom.Shift(p.Chain.Joints[joint].Point)}
	m, err := kinematics.New(b.setup.KinematicAxes(), line, b.setup.Spindle.Chain)
	if err != nil {
		return c, err
	}
	at, err := m.Linear(zero(b.setup), r3.Vector{}, 0)
	if err != nil {
		return c, err
	}
	if z := b.upright(); z >= 0 && b.rules.Lengths == machine.TouchedOff {
		at[z] -= b.touched
	}
	for _, n := range b.linearAxes(p) {
		if math.Abs(b.setup.Axes[n].Direction.Dot(a.Direction)) < 1-1e-9 {
			c.Linear = append(c.Linear, b.at(n, at[n]))
		}
	}
	return c, nil
}

func is(axis int) func(table) bool { return func(t table) bool { return t.axis == axis } }

// pivot says how far it is from the line of an axis that turns the tool to the gauge point: the
// spindle cannot go to a line that it carries.
func (b *builder) pivot(a *machine.Axis) {
	gauge := b.setup.Spindle.Chain.Home.T
	d := gauge.Sub(a.Centre)
	d = d.Sub(a.Direction.Mul(d.Dot(a.Direction)))
	b.note("%s: %s turns the tool; from its line to the gauge point it is X %.*f, Y %.*f, Z %.*f %s with everything at zero",
		basisWord(a.Measured), a.Letter, b.rules.Decimals, d.X/b.unit+0, b.rules.Decimals, d.Y/b.unit+0,
		b.rules.Decimals, d.Z/b.unit+0, b.out.Unit)
}

func basisWord(measured bool) string {
	if measured {
		return Measured
	}
	return Nominal
}

// basisOf returns what a work offset comes from: it is measured if the part was probed,
// and with it the line of every rotary axis that does not stand at zero.
func (b *builder) basisOf(p *part, at motion.Params) string {
	measured := p.Probed != nil
	for _, k := range p.rotary {
		if math.Abs(math.Remainder(at[k], 2*math.Pi)) > 1e-9 {
			measured = measured && b.setup.Axes[k].Measured
		}
	}
	return basisWord(measured)
}

// basis says where the rotary centres come from, all of them together.
func (b *builder) basis() {
	list := b.rotaryAxes()
	measured := len(list) > 0
	for _, k := range list {
		measured = measured && b.setup.Axes[k].Measured
	}
	b.out.Basis = basisWord(measured)
}
