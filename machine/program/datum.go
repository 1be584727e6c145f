package program

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// datum is a part's coordinates as the control believes them: it knows of the part what the work
// offset says and nothing else. Their zero is where the gauge point is in the part with X, Y and Z
// at the offset and every rotary axis at its own zero; their directions are those in which X, Y
// and Z lead the tool with the rotary axes at the zero of the program, that is, at the offset's
// rotary values. Both are carried with the part. A wrong offset leads to a wrong place by that, as
// at the machine.
type datum struct {
	m    *kinematics.Machine
	zero r3.Vector // in the part's frame
	// along are the ways of the tip, in the part's frame, by 1 mm of X, Y and Z; back are the rows
	// of their inverse.
	along, back [3]r3.Vector
	// plane is a turned plane's zero, in these coordinates, and its X, Y and Z.
	planeZero r3.Vector
	plane     [3]r3.Vector
}

// redatum finds the datum anew where one is in force, after the work offset or the control has
// changed, and counts the coordinates anew.
func (in *interpreter) redatum() error {
	if in.control == plainControl {
		return in.recount()
	}
	rules := in.setup.Offsets
	switch {
	case rules == nil || rules.Method != machine.TurnedByControl:
		return in.faultAt(specialG, "a control that knows the rotary centres: method = %q under [offsets] of the machine file", machine.TurnedByControl)
	case rules.Lengths != machine.AbsoluteLengths:
		return in.faultAt(specialG, "lengths from the gauge line: lengths = %q under [offsets] of the machine file", machine.AbsoluteLengths)
	case in.axes.x < 0 || in.axes.y < 0 || in.axes.z < 0:
		return in.faultAt(specialG, "a setup with axes X, Y and Z")
	case in.shift != motion.Params{} || in.local != motion.Params{}:
		return in.faultAt(specialG, "no shift of coordinates in force (G92, local zero): whether it goes with the part controls see differently")
	case in.work == nil:
		return in.faultAt(specialG, "a work offset in force whose values are keyed in")
	}
	for _, k := range []int{in.axes.x, in.axes.y, in.axes.z} {
		if !in.work.known[k] {
			return in.faultAt(specialG, "a value of %s for %s", in.offset, in.setup.Axes[k].Letter)
		}
	}
	m, err := in.solver()
	if err != nil {
		return err
	}
	d := &in.datum
	d.m = m
	linear := in.pos // U, V and W stay where they are
	turned := in.pos
	for k := range in.setup.Axes {
		if in.axes.turns[k] {
			linear[k], turned[k] = 0, in.work.values[k]
		}
	}
	for _, k := range m.LinearAxes() {
		linear[k] = in.work.values[k]
	}
	d.zero, _ = m.Forward(linear, 0)
	from, _ := m.Forward(turned, 0)
	for i, k := range []int{in.axes.x, in.axes.y, in.axes.z} {
		one := turned
		one[k]++
		to, _ := m.Forward(one, 0)
		d.along[i] = to.Sub(from)
	}
	if !d.invert() {
		return in.faultAt(specialG, "X, Y and Z that lead a tip anywhere")
	}
	return in.recount()
}

// invert fills in back; X, Y and Z that do not span space have no inverse.
func (d *datum) invert() bool {
	a := &d.along
	det := a[0].Dot(a[1].Cross(a[2]))
	if math.Abs(det) < 0.01 {
		return false
	}
	d.back = [3]r3.Vector{a[1].Cross(a[2]).Mul(1 / det), a[2].Cross(a[0]).Mul(1 / det), a[0].Cross(a[1]).Mul(1 / det)}
	return true
}

// tip returns the place in the part's frame of coordinates.
func (d *datum) tip(c r3.Vector) r3.Vector {
	return d.zero.Add(d.along[0].Mul(c.X)).Add(d.along[1].Mul(c.Y)).Add(d.along[2].Mul(c.Z))
}

// coordinates returns those of a place in the part's frame.
func (d *datum) coordinates(tip r3.Vector) r3.Vector {
	v := tip.Sub(d.zero)
	return r3.Vector{X: v.Dot(d.back[0]), Y: v.Dot(d.back[1]), Z: v.Dot(d.back[2])}
}

// solver is the kinematics of the part that the work offset in force is of: of the one that the
// setup gives it to, or of any where all parts are carried by the same axes.
func (in *interpreter) solver() (*kinematics.Machine, error) {
	s := in.setup
	i := 0
	switch {
	case s.Spindle == nil:
		return nil, in.faultAt(specialG, "a machine with a [spindle]")
	case len(s.Parts) == 0:
		return nil, in.faultAt(specialG, "a setup with a [[part]]")
	}
	for n := range s.Parts {
		if s.Parts[n].Offset == in.offset {
			i = n
			break
		}
		if carriers(&s.Parts[n]) != carriers(&s.Parts[0]) {
			i = -1
		}
	}
	if i < 0 {
		return nil, in.faultAt(specialG, "the setup file to say which part %s is of (offset of [[part]]): parts are carried by different axes", in.offset)
	}
	if m := in.solvers[i]; m != nil {
		return m, nil
	}
	m, err := kinematics.New(s.KinematicAxes(), s.Parts[i].Chain, s.Spindle.Chain)
	if err != nil {
		return nil, in.faultAt(specialG, "a part that the axes can lead a tip in: %v", err)
	}
	in.solvers[i] = m
	return m, nil
}

// carriers names the axes that carry a part.
func carriers(p *machine.Part) string {
	names := ""
	for _, j := range p.Chain.Joints {
		if j.Gain != (motion.Params{}) {
			names += j.Name + "\n"
		}
	}
	return names
}

// carriedTo puts the carried zero's part of what is added to coordinates into o, the rotary axes
// standing at p.
func (in *interpreter) carriedTo(p *motion.Params, o *motion.Params) error {
	at, err := in.datum.m.Linear(*p, in.datum.zero, 0)
	if err != nil {
		return in.fault(nil, "rotary positions at which X, Y and Z do not lead everywhere", "others")
	}
	for _, k := range in.datum.m.LinearAxes() {
		o[k] = at[k]
	}
	return nil
}

// carry finds where the linear axes of a stroke go with a carried zero: those that are named count
// from where the zero is at its end, the others stay.
func (in *interpreter) carry(s *stroke, g *goal) error {
	origin := in.origin
	turned := false
	for k := range in.setup.Axes {
		turned = turned || in.axes.turns[k] && g.to[k] != in.pos[k]
	}
	if turned {
		var err error
		if origin, err = in.originAt(&g.to); err != nil {
			return err
		}
	}
	for k := range in.setup.Axes {
		switch {
		case in.axes.turns[k]:
		case turned && s.arc != nil:
			return in.fault(nil, "an arc while the zero goes elsewhere", "rotary axes that stand meanwhile")
		case turned && s.relative && s.named[k]:
			return in.fault(nil, in.setup.Axes[k].Letter+" by so much while the zero goes elsewhere", "absolute coordinates (G90)")
		case s.named[k] || !turned && in.led[k] != s.to[k]:
			g.to[k] = origin[k] + s.to[k]
		}
	}
	return nil
}
