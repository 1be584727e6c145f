package proof

import (
	"math"
	"sync"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// turnStep is how finely turns are told apart, as entries of a rotation.
const turnStep = 1e-9

// Swept returns a box of the frame that a chain leads to, which holds a solid wherever the chain
// carries it over a range, location uncertainty and chord error included. Exact, but
// for these, where nothing turns; far too large where something turns a long way.
func (t *Trees) Swept(s *machine.Solid, chain *motion.Chain, over *motion.Box) geom.Box {
	scratch := excursions.Get().(*motion.Excursion)
	defer excursions.Put(scratch)
	e := chain.Over(over, scratch)
	// The same box does for all turns that are the same but for rounding: no entry of them is
	// more than turnStep off, so no coordinate more than that times the sum of all three.
	turn := e.Pose.R
	for i := range turn {
		for k := range turn[i] {
			turn[i][k] = math.Round(turn[i][k]/turnStep)*turnStep + 0
		}
	}
	center, radius := ball(s)
	return carried(t.BoxOf(s, turn), e, s, turnStep*3*(center.Norm()+radius)+1e-9)
}

// SweptRoughly is Swept for those who ask of many turns: it costs little for each, and nothing is kept of
// them, but the box is that of the solid's box in its own coordinates. Scratch is for who asks, alone.
func SweptRoughly(s *machine.Solid, chain *motion.Chain, over *motion.Box, scratch *motion.Excursion) geom.Box {
	e := chain.Over(over, scratch)
	turn := geom.Pose{R: e.Pose.R}
	box := geom.EmptyBox()
	for _, corner := range s.Audit.Bounds.Corners() {
		box = box.Include(turn.Point(corner))
	}
	return carried(box, e, s, boxRounding)
}

var excursions = sync.Pool{New: func() any { return new(motion.Excursion) }}

// carried is the box of a solid that is turned, put where an excursion has it at the middle of
// its range, and widened by how far it gets from there, and by more.
func carried(box geom.Box, e *motion.Excursion, s *machine.Solid, more float64) geom.Box {
	if box.Empty() {
		return box
	}
	center, radius := ball(s)
	at := e.Pose.Point(center)
	e.Hold(at, radius)
	far := func(x, y, z float64) float64 {
		return e.Toward(r3.Vector{X: x, Y: y, Z: z}, at, radius) + s.ChordError + more
	}
	return geom.Box{
		Min: box.Min.Add(e.Pose.T).Sub(r3.Vector{X: far(1, 0, 0), Y: far(0, 1, 0), Z: far(0, 0, 1)}),
		Max: box.Max.Add(e.Pose.T).Add(r3.Vector{X: far(-1, 0, 0), Y: far(0, -1, 0), Z: far(0, 0, -1)}),
	}
}

// Between is the distance of two boxes, mm; 0 if they meet.
func Between(a, b geom.Box) float64 {
	gap := func(lo, hi, low, high float64) float64 { return max(0, low-hi, lo-high) }
	return r3.Vector{
		X: gap(a.Min.X, a.Max.X, b.Min.X, b.Max.X), Y: gap(a.Min.Y, a.Max.Y, b.Min.Y, b.Max.Y), Z: gap(a.Min.Z, a.Max.Z, b.Min.Z, b.Max.Z),
	}.Norm()
}

// Sound reports whether a solid is closed, so that nothing can be in doubt about what is inside
// of it.
func Sound(s *machine.Solid) bool { return s.Audit.Closed && s.Audit.Oriented }

// SlidesFirst reports whether all joints of a chain that parameters shift come before all that
// turn, if only by as much as they are off: then where they carry a body does not depend on
// anything else.
func SlidesFirst(chain *motion.Chain) bool {
	turned := false
	for i := range chain.Joints {
		j := &chain.Joints[i]
		switch {
		case j.Kind == motion.Rotary && (j.Slack > 0 || j.Gain != motion.Params{}):
			turned = true
		case turned && j.Gain != motion.Params{}:
			return false
		}
	}
	return true
}
