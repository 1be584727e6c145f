package proof

import (
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// ring is what a body passes through that turns all the way round an axis: a cylinder.
type ring struct {
	axis, point    r3.Vector // of the frame that what carries the axis leads to
	radius         float64
	low, high      float64 // along the axis, from point
	center         r3.Vector
	around         float64 // radius of a ball about center
	outer          motion.Chain
	chord, inexact float64
}

// lineStep is how finely axes are told apart, mm, as seen from a solid.
const lineStep = 1e-6

// ringOf returns the ring of a body whose innermost moved joint turns all the way round over
// the range; false if it does not.
func (t *Trees) ringOf(s *machine.Solid, chain *motion.Chain, over *motion.Box) (r ring, ok bool) {
	last := -1
	for i := range chain.Joints {
		if rangeOf(&chain.Joints[i], over) > 0 {
			last = i
		}
	}
	if last < 0 || chain.Joints[last].Kind != motion.Rotary || rangeOf(&chain.Joints[last], over) < 2*math.Pi*(1-1e-12) {
		return r, false
	}
	j := &chain.Joints[last]
	inner := motion.Chain{Joints: chain.Joints[last+1:], Home: chain.Home}
	at := motion.At(over.Center())
	pose := inner.Pose(over.Center())
	back := pose.Inverse()
	center, radius := ball(s)
	reach := t.lineOf(s, back.Dir(j.Axis), back.Point(j.Point))
	// The line's own point is the one nearest to the solid's zero.
	r = ring{
		axis: j.Axis, point: pose.Point(reach.point), radius: reach.radius, low: reach.low, high: reach.high,
		outer: motion.Chain{Joints: chain.Joints[:last], Home: geom.Identity()},
		chord: s.ChordError, inexact: inner.Course(&at).Looseness(center, radius) + boxRounding,
	}
	r.center = r.point.Add(r.axis.Mul((r.low + r.high) / 2))
	r.around = math.Hypot(r.radius, (r.high-r.low)/2)
	return r, true
}

// rangeOf is how far parameters move a joint over a range.
func rangeOf(j *motion.Joint, over *motion.Box) (sum float64) {
	for k, g := range j.Gain {
		sum += math.Abs(g) * (over.Hi[k] - over.Lo[k])
	}
	return sum
}

// box is around the ring, wherever what carries it leads over a part of the range.
func (r *ring) box(over *motion.Box, scratch *motion.Excursion) geom.Box {
	e := r.outer.Over(over, scratch)
	at := e.Pose.Point(r.center)
	e.Hold(at, r.around)
	end := func(x, y, z float64) float64 {
		u := r3.Vector{X: x, Y: y, Z: z}
		in := e.Pose.R.ApplyInverse(u)
		along := in.Dot(r.axis)
		reach := in.Dot(r.point) + max(along*r.low, along*r.high) + r.radius*in.Cross(r.axis).Norm()
		return reach + u.Dot(e.Pose.T) + e.Toward(u.Mul(-1), at, r.around) + r.chord + r.inexact
	}
	return geom.Box{
		Min: r3.Vector{X: -end(-1, 0, 0), Y: -end(0, -1, 0), Z: -end(0, 0, -1)},
		Max: r3.Vector{X: end(1, 0, 0), Y: end(0, 1, 0), Z: end(0, 0, 1)},
	}
}

// lineReach is how far a solid reaches from a line, and along it from the line's point
// nearest to the solid's zero.
type lineReach struct {
	point     r3.Vector
	radius    float64
	low, high float64
}

type lineKey struct {
	solid       *machine.Solid
	axis, point r3.Vector
}

// lineOf measures a solid about a line of its own frame: the same for all lines that are
// the same but for rounding.
func (t *Trees) lineOf(s *machine.Solid, axis, point r3.Vector) lineReach {
	point = point.Sub(axis.Mul(point.Dot(axis)))
	rounded := func(v r3.Vector, step float64) r3.Vector {
		return r3.Vector{X: math.Round(v.X/step)*step + 0, Y: math.Round(v.Y/step)*step + 0, Z: math.Round(v.Z/step)*step + 0}
	}
	key := lineKey{s, rounded(axis, turnStep), rounded(point, lineStep)}
	reach := Fact(t, key, func() (r lineReach) {
		r.low, r.high = math.Inf(1), math.Inf(-1)
		for i := range s.Mesh.Facets {
			for _, v := range s.Mesh.Facets[i] {
				d := v.Vector().Sub(key.point)
				z := d.Dot(key.axis)
				r.low, r.high = min(r.low, z), max(r.high, z)
				r.radius = max(r.radius, d.Sub(key.axis.Mul(z)).Norm())
			}
		}
		return r
	})
	// The line may be off by a step, and turned by one for each mm of the solid.
	center, radius := ball(s)
	more := 3 * (lineStep + turnStep*(center.Norm()+radius+point.Norm()))
	reach.point = point
	reach.radius, reach.low, reach.high = reach.radius+more, reach.low-more, reach.high+more
	return reach
}
