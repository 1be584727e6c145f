package machine

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// addMeasured puts rotary axes where they were measured: in the list of axes
// and as the joint in every chain.
func (b *builder) addMeasured() {
	for i := range b.file.Measured {
		t := &b.file.Measured[i]
		k := slices.IndexFunc(b.setup.Axes, func(a Axis) bool { return a.Letter == t.Axis })
		switch {
		case k < 0:
			b.lookUp(t.Path+".axis", t.Axis) // tells which there are
			continue
		case b.setup.Axes[k].Kind != motion.Rotary:
			b.src.fault(t.Path+".axis", quoted(t.Axis)+", which is linear", "a rotary axis")
			continue
		case b.setup.Axes[k].OnTool:
			b.src.fault(t.Path+".axis", quoted(t.Axis)+", which moves the tool", "an axis that moves the workpiece: the spindle cannot go to the line of one that carries it")
			continue
		case b.setup.Axes[k].Measured:
			b.src.fault(t.Path+".axis", quoted(t.Axis)+" a second time", "each axis once")
			continue
		case b.machine.spindle == nil:
			b.src.fault(t.Path, "a measured axis, and no spindle in "+b.machine.src.name, "a table [spindle] there: it is measured with it")
			continue
		}
		b.measure(t, k)
	}
}

// measure moves an axis to where it was measured: at the stated positions the
// gauge point was on its line. Along the line nothing can be measured, so there
// it stays where it is drawn.
func (b *builder) measure(t *measuredTable, k int) {
	a := &b.setup.Axes[k]
	within := b.unit.mm(b.src.notNegative(t.Path+".within", t.Within))
	p, ok := b.measuredAt(t, a)
	if !ok {
		return
	}
	var zero motion.Params
	carrier := motion.Chain{Joints: b.carriers(k), Home: bedFrame().home}
	back := carrier.Pose(p)
	back = back.Inverse()
	atZero := carrier.Pose(zero)
	back = atZero.Mul(back)
	gauge := b.setup.Spindle.Chain.Pose(p)
	off := back.Point(gauge.T).Sub(a.Centre)
	off = off.Sub(a.Direction.Mul(off.Dot(a.Direction)))
	a.Centre, a.Measured = a.Centre.Add(off), true
	b.eachChain(func(c *motion.Chain) { c.Joints = remeasured(c.Joints, k, a, within) })
}

// measuredAt reads the positions: one of each linear axis that is not parallel
// to the line, since each other one would shift it.
func (b *builder) measuredAt(t *measuredTable, a *Axis) (p motion.Params, ok bool) {
	ok = true
	var wanted []string
	for i := range b.setup.Axes {
		x := &b.setup.Axes[i]
		if x.Kind != motion.Linear || x.Free {
			continue // a spacer's height is nowhere the machine goes
		}
		v, stated := t.Position[x.Letter]
		key := t.Path + ".position." + x.Letter
		if x.Direction.Cross(a.Direction).Norm() <= parallelTo {
			if stated {
				b.src.fault(key, "a position along the line of "+a.Letter, "none: it would not show on the axis")
				ok = false
			}
			continue
		}
		wanted = append(wanted, x.Letter)
		if !stated {
			b.src.fault(t.Path+".position", "no "+x.Letter, "the position of %s at which the spindle's axis was on the line of %s", x.Letter, a.Letter)
			ok = false
			continue
		}
		p[i] = b.unit.mm(v)
		if !span(x.Travel).holds(p[i]) {
			b.src.fault(key, fmt.Sprint(v), "a position within the travel of %s, %s", x.Letter, b.travelOf(x))
			ok = false
		}
	}
	for _, letter := range slices.Sorted(maps.Keys(t.Position)) {
		if !slices.ContainsFunc(b.setup.Axes, func(x Axis) bool { return x.Letter == letter && x.Kind == motion.Linear }) {
			b.src.fault(t.Path+".position."+letter, quoted(letter), "linear axes: %s", strings.Join(wanted, ", "))
			ok = false
		}
	}
	return p, ok
}

// carriers returns the joints of what carries a programmed axis.
func (b *builder) carriers(k int) []motion.Joint {
	for _, p := range b.inOrder() {
		for i, a := range p.axes {
			if !a.setting && p.params[i] == k {
				return p.axisFrame(a.carriedBy, false).joints
			}
		}
	}
	return nil // not reached: every programmed axis is somebody's
}

// eachChain calls do for every chain of the setup.
func (b *builder) eachChain(do func(*motion.Chain)) {
	s := b.setup
	for i := range s.Bodies {
		do(&s.Bodies[i].Chain)
	}
	for i := range s.Parts {
		do(&s.Parts[i].Chain)
	}
	for i := range s.Seats {
		do(&s.Seats[i].Chain)
	}
	if s.ToolChange != nil {
		for i := range s.ToolChange.Zones {
			do(&s.ToolChange.Zones[i].Chain)
		}
	}
}

// remeasured returns joints with that of axis k at the axis' centre. A line that
// is off by e moves what it carries by e - R e more, square to it and at most
// 2 |e| long: that much slack is before the joint.
func remeasured(joints []motion.Joint, k int, a *Axis, within float64) []motion.Joint {
	i := slices.IndexFunc(joints, func(j motion.Joint) bool { return j.Kind == motion.Rotary && j.Gain[k] != 0 })
	if i < 0 {
		return joints
	}
	moved := joints[i]
	moved.Point = a.Centre
	list := slices.Clone(joints[:i])
	if within > 0 {
		u := a.Direction.Ortho()
		for n, d := range []r3.Vector{u, a.Direction.Cross(u)} {
			list = append(list, motion.Joint{
				Name: fmt.Sprintf("%s: measured line %d", moved.Name, n+1), Kind: motion.Linear,
				Axis: d, Point: a.Centre, Slack: 2 * within,
			})
		}
	}
	return slices.Concat(list, []motion.Joint{moved}, joints[i+1:])
}
