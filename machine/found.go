package machine

import (
	"fmt"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// displacement is how probing found a part against its drawing, bed frame with every
// axis at zero: turned about the part's own zero by the skew, as one turn about one line, and
// shifted.
func (p *Part) displacement() geom.Pose {
	move := geom.Shift(p.Probed.Shift)
	if angle := p.Probed.Skew.Norm(); angle > 0 {
		at := p.Chain.Pose(motion.Params{})
		move = move.Mul(geom.Turn(at.T, p.Probed.Skew.Mul(1/angle), angle))
	}
	return move
}

// displaced returns a chain whose body stands elsewhere by a displacement in the bed
// frame at zero. What carries it moves as before; joints from own on go with it.
func displaced(c motion.Chain, move geom.Pose, own int) motion.Chain {
	c.Joints = slices.Clone(c.Joints)
	for i := own; i < len(c.Joints); i++ {
		j := &c.Joints[i]
		j.Axis, j.Point = move.Dir(j.Axis), move.Point(j.Point)
	}
	c.Home = move.Mul(c.Home)
	return c
}

// addFound puts each part that was probed where it was found, and with it the bodies that it
// is cut from and all that stands on them. A solid can be in one place only: of
// several parts of one place the first that was probed moves it.
func (b *builder) addFound() {
	if b.src.any() {
		return
	}
	moved := make(map[string]int) // by place, the part that moved it
	for i := range b.setup.Parts {
		p := &b.setup.Parts[i]
		if p.Probed == nil {
			continue
		}
		move := p.displacement()
		if first, done := moved[p.Unit]; done {
			b.warnOfTwo(p, &b.setup.Parts[first])
		} else {
			moved[p.Unit] = i
			b.warnOfFound(p, &move)
			b.displace(p.Unit, &move)
		}
		drawn := p.Chain
		p.Drawn = &drawn
		p.Chain = displaced(drawn, move, len(drawn.Joints))
	}
	for i := range b.setup.Parts {
		p := &b.setup.Parts[i]
		if first, done := moved[p.Unit]; done && p.Probed == nil {
			b.warnFound("part %q is cut from %s, which probing of %q found elsewhere than drawn, and was not probed itself: tools are sent to where it is drawn",
				p.Name, p.Unit, b.setup.Parts[first].Name)
		}
	}
}

func (b *builder) warnFound(format string, args ...any) {
	b.setup.Warnings = append(b.setup.Warnings, fmt.Sprintf(format, args...))
}

// displace moves the bodies of a place and of all that stands on it.
func (b *builder) displace(place string, move *geom.Pose) {
	for _, p := range b.inOrder() {
		if p == b.base || !b.standsOn(p.unit, place) {
			continue
		}
		for _, i := range p.bodies {
			body := &b.setup.Bodies[i]
			own := beyond(body.Chain.Joints, b.done[place].base.joints)
			if body.Drawn == nil {
				drawn := body.Chain
				body.Drawn = &drawn
			}
			body.Chain = displaced(body.Chain, *move, own)
		}
	}
}

// beyond returns how many joints of a chain lead to a frame that it goes through. Where an
// axis was measured they are more than the frame has.
func beyond(joints, frame []motion.Joint) int {
	if len(frame) == 0 {
		return 0
	}
	last := frame[len(frame)-1].Name
	return 1 + slices.IndexFunc(joints, func(j motion.Joint) bool { return j.Name == last })
}

// standsOn reports whether a place is another one or stands on it, whatever is between.
func (b *builder) standsOn(unit, place string) bool {
	for range b.file.Places {
		if unit == place {
			return true
		}
		t := b.tables[unit]
		if t == nil {
			return false
		}
		unit = b.support(t).on.unit
	}
	return unit == place
}

// uncertain is what a displacement may be more than the uncertainty of a place, mm, before it
// is remarkable: rounding.
const uncertain = 1e-6

// warnOfFound warns of a part that was found farther from its drawing than what holds it
// allows: mostly a wrong sign, or a zero elsewhere than the file says.
func (b *builder) warnOfFound(p *Part, move *geom.Pose) {
	box := motion.At(motion.Params{})
	loose := p.Chain.Over(&box, nil)
	zero := p.Chain.Pose(motion.Params{})
	points := []r3.Vector{zero.T}
	for _, i := range b.done[p.Unit].bodies {
		body := &b.setup.Bodies[i]
		for _, c := range body.Solid.Audit.Bounds.Corners() {
			points = append(points, body.Chain.Home.Point(c))
		}
	}
	var off, most float64
	for _, at := range points {
		d, may := move.Point(at).Sub(at).Norm(), loose.Plain(at, 0)
		if d-may > max(off-most, uncertain) {
			off, most = d, may
		}
	}
	if off > 0 {
		b.warnFound("part %q was found up to %.3f mm from where it is drawn, and what holds it allows %.3f mm: is its zero, or a sign, another one than the files say?",
			p.Name, off, most)
	}
}

// warnOfTwo warns of a second part of a place that was probed: the solids stand as
// the first one was found.
func (b *builder) warnOfTwo(p, first *Part) {
	b.warnFound("parts %q and %q are cut from %s and were both probed: its solids are taken to stand as %q was found",
		first.Name, p.Name, p.Unit, first.Name)
}

// Drawn returns the setup as its files draw it, whatever probing found: for what is
// asked of a setup before anything is probed, such as whether it goes together. It is
// the setup itself where nothing was probed, otherwise a copy that shares all but its
// lists of bodies and parts.
func (s *Setup) Drawn() *Setup {
	probed := slices.ContainsFunc(s.Bodies, func(b Body) bool { return b.Drawn != nil }) ||
		slices.ContainsFunc(s.Parts, func(p Part) bool { return p.Drawn != nil })
	if !probed {
		return s
	}
	c := *s
	c.Bodies, c.Parts = slices.Clone(s.Bodies), slices.Clone(s.Parts)
	for i := range c.Bodies {
		if b := &c.Bodies[i]; b.Drawn != nil {
			b.Chain, b.Drawn = *b.Drawn, nil
		}
	}
	for i := range c.Parts {
		if p := &c.Parts[i]; p.Drawn != nil {
			p.Chain, p.Drawn = *p.Drawn, nil
		}
	}
	return &c
}
