package program

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// recountTip sets the coordinates of X, Y and Z to those of the tip in the part.
func (in *interpreter) recountTip() {
	d := &in.datum
	tip, _ := d.m.Forward(in.pos, in.lift)
	in.setPoint(&in.at, in.fromTip(tip))
}

// fromTip returns the coordinates of a tip in the part, toTip the tip of coordinates.
func (in *interpreter) fromTip(tip r3.Vector) r3.Vector {
	d := &in.datum
	c := d.coordinates(tip)
	if in.control == turnedPlane {
		c = c.Sub(d.planeZero)
		c = r3.Vector{X: c.Dot(d.plane[0]), Y: c.Dot(d.plane[1]), Z: c.Dot(d.plane[2])}
	}
	return c
}

func (in *interpreter) toTip(c r3.Vector) r3.Vector {
	d := &in.datum
	if in.control == turnedPlane {
		c = d.planeZero.Add(d.plane[0].Mul(c.X)).Add(d.plane[1].Mul(c.Y)).Add(d.plane[2].Mul(c.Z))
	}
	return d.tip(c)
}

func (in *interpreter) setPoint(p *motion.Params, v r3.Vector) {
	p[in.axes.x], p[in.axes.y], p[in.axes.z] = v.X, v.Y, v.Z
}

// leadTip adds the legs on which the control leads the tip. A rapid that turns rotary axes holds
// both the way on which the tip goes straight and the one on which every axis goes evenly:
// controls do either.
func (in *interpreter) leadTip(s *stroke, to *motion.Params) (motion.Params, error) {
	m := in.datum.m
	tipFrom := in.toTip(in.point(in.led))
	goal := in.others(s, to)
	if s.kind == Rapid {
		tipTo := in.toTip(in.point(s.to))
		var end motion.Params
		var err error
		if in.led0, end, err = m.Either(in.led0[:0], in.pos, goal, tipFrom, tipTo, in.lift); err != nil {
			return end, in.lost(err)
		}
		for _, l := range apart(in.setup, in.led0) {
			in.leg(Rapid, l.From, l.To, l.Within)
		}
		return end, nil
	}
	n, off := 1, 0.0
	if s.arc != nil {
		n, off = s.arc.chords()
	}
	from, p := in.pos, goal
	for i := 1; i <= n; i++ {
		f := float64(i) / float64(n)
		next := goal
		if i < n {
			for k := range in.setup.Axes {
				next[k] = in.pos[k] + (goal[k]-in.pos[k])*f
			}
		}
		tipTo := in.toTip(in.point(in.along(s, f)))
		var err error
		in.led0 = in.led0[:0]
		if in.led0, p, err = m.Led(in.led0, from, next, tipFrom, tipTo, in.lift); err != nil {
			return p, in.lost(err)
		}
		for j := range in.led0 {
			leg := &in.led0[j]
			if j == 0 {
				leg.From = from // the same but for rounding
			}
			if off > 0 {
				in.widen(&leg.Within, &leg.To, off)
			}
			in.leg(Feed, leg.From, leg.To, leg.Within)
		}
		from, tipFrom = p, tipTo
	}
	return p, nil
}

// apart returns the legs of a rapid that goes either way (kinematics.Machine.Either): one of all
// of them if axes need not arrive together, since then none is on its line.
func apart(s *machine.Setup, legs []kinematics.Leg) []kinematics.Leg {
	if s.Rapid == machine.Interpolated || len(legs) < 2 {
		return legs
	}
	all := &legs[0]
	for i := range legs {
		for k, v := range legs[i].Within {
			all.Within[k] = max(all.Within[k], v)
		}
	}
	all.To = legs[len(legs)-1].To
	return legs[:1]
}

// others is where the axes go that do not lead the tip: the rotary ones to where they were found
// to go, U, V and W to their coordinates.
func (in *interpreter) others(s *stroke, to *motion.Params) motion.Params {
	p := *to
	for k := range in.setup.Axes {
		if !in.axes.turns[k] && s.named[k] && k != in.axes.x && k != in.axes.y && k != in.axes.z {
			p[k] = in.origin[k] + s.to[k]
		}
	}
	return p
}

// widen adds what the tip may be off, mm in any direction, to what the linear axes may be off: the
// largest of what an axis does for a tip that is off by a unit vector.
func (in *interpreter) widen(within, at *motion.Params, off float64) {
	m := in.datum.m
	var sum motion.Params
	for _, d := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		for k, v := range m.Sensitivity(*at, d) {
			sum[k] += v * v
		}
	}
	for k, v := range sum {
		within[k] += off * math.Sqrt(v)
	}
}

func (in *interpreter) lost(err error) error {
	return in.fault(nil, "a move on which "+err.Error(), "one that X, Y and Z can follow")
}

// leadPlane adds the legs of a stroke in a turned plane. Rotary axes turn without X, Y and Z only:
// nothing says how these would go meanwhile.
func (in *interpreter) leadPlane(s *stroke, to *motion.Params) (motion.Params, error) {
	if turned, linear := in.moves(s); turned && linear {
		return *to, in.fault(nil, "a move of rotary and linear axes in a turned plane", "one after the other")
	} else if turned {
		in.leg(s.kind, in.pos, *to, motion.Params{})
		return *to, nil
	}
	m := in.datum.m
	goal := in.others(s, to)
	_, axis := m.Forward(goal, 0)
	plane := in.datum.tip(in.datum.plane[2]).Sub(in.datum.tip(r3.Vector{}))
	if axis.Cross(plane.Normalize()).Norm() > mostTilt || axis.Dot(plane) < 0 {
		return goal, in.fault(nil, "a tool that does not stand along Z of the turned plane", "rotary axes that lay it there before X, Y and Z go")
	}
	n, off := 1, 0.0
	if s.arc != nil {
		n, off = s.arc.chords()
	}
	from := in.pos
	for i := 1; i <= n; i++ {
		next, err := m.Linear(goal, in.toTip(in.point(in.along(s, float64(i)/float64(n)))), in.lift)
		if err != nil {
			return next, in.lost(err)
		}
		var within motion.Params
		if off > 0 {
			in.widen(&within, &next, off)
		}
		in.leg(s.kind, from, next, within)
		from = next
	}
	return from, nil
}

// mostTilt is by how much the tool may lean against Z of a turned plane, rad: what angles with
// three decimals of a degree leave off.
const mostTilt = 5e-5

// upright reports whether the tool stands along an axis of the coordinates where that is not a matter of
// course: while the control leads the tip.
func (in *interpreter) upright(k int) bool {
	if in.control != tipControl {
		return true
	}
	d := &in.datum
	for i, a := range []int{in.axes.x, in.axes.y, in.axes.z} {
		if a == k {
			_, axis := d.m.Forward(in.pos, 0)
			return axis.Cross(d.along[i].Normalize()).Norm() <= mostTilt && axis.Dot(d.along[i]) > 0
		}
	}
	return false
}

// moves reports whether a stroke turns rotary axes and whether it leads linear ones.
func (in *interpreter) moves(s *stroke) (turned, linear bool) {
	for k := range in.setup.Axes {
		switch {
		case s.to[k] == in.led[k] && s.arc == nil:
		case in.axes.turns[k]:
			turned = turned || s.to[k] != in.led[k]
		default:
			linear = true
		}
	}
	return turned, linear
}

// enter does a code of the machine's own that says how coordinates become positions.
func (in *interpreter) enter(code int) error {
	meaning := in.codes.meanings[code]
	switch {
	case in.modal[radiusG] > 400:
		return in.faultAt(specialG, "G40 before")
	case in.modal[motionG] > 700 && in.fixed.code != 0:
		return in.faultAt(specialG, "G80 before: what cycles keep is in the coordinates before it")
	}
	if meaning == machine.EndsControl {
		if in.control == tipControl && in.tipLength {
			in.lifted = false // the length was that of tip control: whether it holds on is not known
		}
		in.control = plainControl
		return in.recount()
	}
	if in.control != plainControl {
		return in.faultAt(specialG, "the end of what is in force before, by a code that %q", machine.EndsControl)
	}
	switch meaning {
	case machine.CarriedZero:
		in.control = carriedZero
	case machine.TipControl:
		known, h := in.lifted, in.h
		if err := in.takeLength(specialG); err != nil {
			return err
		}
		in.control, in.tipLength = tipControl, !known || in.h != h
		for _, k := range []int{in.axes.x, in.axes.y, in.axes.z} {
			if k >= 0 {
				in.unsure[k] = true
			}
		}
	case machine.TurnedPlane:
		if err := in.readPlane(); err != nil {
			return err
		}
		in.control = turnedPlane
	}
	return in.redatum()
}

// takeLength puts the length of the block's H in force; without H there must be one.
func (in *interpreter) takeLength(g group) error {
	w := in.cur.word('H')
	if w == nil {
		if !in.lifted || in.h == 0 {
			return in.faultAt(g, "H and the number of the tool's length")
		}
		return nil
	}
	h, err := in.whole(w, 0, mostOffsets)
	if err != nil {
		return err
	}
	l, ok := in.lengths[h]
	if !ok && h != 0 {
		return in.fault(w, w.Text+" of which nothing is keyed in", "a length keyed in at the control: [[keyed.length]] of the setup file")
	}
	in.lift, in.lifted, in.h = l, true, h
	return nil
}

// readPlane reads a turned plane: X, Y and Z are its zero, I, J and K turns about Z, X and Z in
// turn, each about the axis as the turns before have left it (proper Euler angles).
func (in *interpreter) readPlane() error {
	d, c := &in.datum, &in.cur
	if c.codes[onceG] != unset || c.stated&in.axes.mask&^(bit('X')|bit('Y')|bit('Z')) != 0 {
		return in.faultAt(specialG, "a block of its own")
	}
	var zero [3]float64
	for i, l := range []byte{'X', 'Y', 'Z'} {
		v, stated, err := in.lengthOf(l)
		if err != nil {
			return err
		}
		if !stated {
			return in.faultAt(specialG, "X, Y, Z, I, J and K")
		}
		zero[i] = v
	}
	d.planeZero = r3.Vector{X: zero[0], Y: zero[1], Z: zero[2]}
	var turn [3]float64
	for i, l := range []byte{'I', 'J', 'K'} {
		w := in.cur.word(l)
		if w == nil {
			return in.faultAt(specialG, "X, Y, Z, I, J and K")
		}
		var err error
		if turn[i], err = in.angle(w); err != nil {
			return err
		}
	}
	d.plane = eulerZXZ(turn)
	return nil
}
