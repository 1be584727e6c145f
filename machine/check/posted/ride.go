package posted

import (
	"cmp"
	"math"
	"slices"

	"gridswing/collide/material"
	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// ride is how a frame on the spindle's side is carried, as seen from the stock: the chain between the
// two, its constant joints drawn into what stands inside of them (a constant pose K before a joint is
// the joint with its axis put by K, before K).
type ride struct {
	joints []rideJoint // outermost, at the stock, first
	home   geom.Pose
	chord  float64 // how far the body's true surface may be outside of what is asked about, mm
}

type rideJoint struct {
	kind        motion.Kind
	axis, point r3.Vector
	offset      float64
	gain        motion.Params
	slack       float64
}

// newRide makes the ride of a body as seen from a stock, both chains from the bed. What the play of
// what carries the stock does is left out: the model holds what no cutter has cut wherever that takes it, and what is
// cut is where the machine has cut it. The accuracy of axes stays, and what the tool's side has of play.
func newRide(stock, body motion.Chain) ride {
	rel := motion.Between(stock, body)
	fromStock := len(rel.Joints) - (len(body.Joints) - shared(stock, body))
	r := ride{}
	put := geom.Identity()
	for i, j := range rel.Joints {
		if j.Gain == (motion.Params{}) && (i < fromStock || j.Slack == 0) {
			still := motion.Chain{Joints: []motion.Joint{j}, Home: geom.Identity()}
			put = put.Mul(still.Pose(motion.Params{}))
			continue
		}
		r.joints = append(r.joints, rideJoint{
			kind: j.Kind, axis: put.Dir(j.Axis), point: put.Point(j.Point), offset: j.Offset, gain: j.Gain, slack: j.Slack,
		})
	}
	r.home = put.Mul(rel.Home)
	return r
}

// shared is how many joints two chains begin with in common, as motion.Between counts them.
func shared(a, b motion.Chain) (n int) {
	for n < len(a.Joints) && n < len(b.Joints) && a.Joints[n].Name == b.Joints[n].Name {
		n++
	}
	return n
}

// playOf bounds how far the play of what carries a stock can take any point of it from where it stands
// as drawn, in mm, wherever the axes stand; see motion.Course.Looseness. The ball is the stock's.
func playOf(stock motion.Chain, box *motion.Box, center r3.Vector, radius float64) float64 {
	only := motion.Chain{Home: stock.Home, Joints: append([]motion.Joint(nil), stock.Joints...)}
	for i := range only.Joints {
		if only.Joints[i].Gain != (motion.Params{}) {
			only.Joints[i].Slack = 0
		}
	}
	return only.Course(box).Looseness(center, radius)
}

// stretch is where axes go: at the middle at, and from there half of each way to either side, each way by
// itself; every axis off by no more than within.
type pass struct {
	at, within motion.Params
	ways       []motion.Params
}

// swept is a stretch as a sweep of a frame, and what of its Off is not for the motion to blame.
type swept struct {
	material.Sweep
	turn  geom.Rotation // the body's attitude
	bent  float64       // of Off: what straight ways and one attitude leave out
	loose float64       // of Off: how far axes may be off, and the surface
}

// mostWays is how many ways a sweep has at most.
const mostWays = 3

// over returns the sweep of a body, carried along a stretch. Its points are within radius of the
// point center on its frame's Z axis, and the sweep's frame stands at that point.
//
// Derivation of Off. Let f(u) be where center is at u, the axes at at + sum of u[w] ways[w], |u[w]| <= 1/2,
// and R(u) the attitude. A point x of the body is at f(u) + R(u)(x - center); the sweep has it at f(0) +
// Df(0) u + R(0)(x - center). The two differ by at most
//
//	|f(u) - f(0) - Df(0) u| + |R(u) - R(0)| radius.
//
// |R(u) - R(0)| is at most the sum of the chords 2 sin(h/2), h being how far each rotary joint is from the
// middle (a product of rotations telescopes). The first term is at most half of the largest second derivative
// of f along a straight way from the middle to u (Taylor), which is bounded from the inside out: a rotary
// joint by the angle h t, t from 0 to 1, about an axis at the distance rho makes of a point with speed V and
// acceleration A one with
//
//	|d/dt (R z)|   <= V + h rho,
//	|d2/dt2 (R z)| <= A + 2 h V + h h rho,
//
// rho being at most the distance at the middle, and V. A linear joint adds h to V and nothing to A.
// What axes may be off by, s, adds s, or 2 sin(s/2) (rho + radius) of a rotary one (rho with what the
// joints inside of it are off by), since the joints outside of it keep lengths.
func (r *ride) over(st *pass, center, radius float64) swept {
	n := len(st.ways)
	z := r.home.Point(r3.Vector{Z: center})
	turn := r.home.R
	var ways [motion.MaxParams]r3.Vector
	var speed, bend, turned, loose float64
	for i := len(r.joints) - 1; i >= 0; i-- {
		j := &r.joints[i]
		half, slack, value := 0.0, j.slack, j.offset
		for k, g := range j.gain {
			if g != 0 {
				value += g * st.at[k]
				slack += math.Abs(g) * st.within[k]
				for w := range n {
					half += math.Abs(g*st.ways[w][k]) / 2
				}
			}
		}
		if j.kind == motion.Linear {
			z = z.Add(j.axis.Mul(value))
			speed += half
			loose += slack
			for w := range n {
				ways[w] = ways[w].Add(j.axis.Mul(j.along(&st.ways[w])))
			}
			continue
		}
		if value != 0 {
			by := geom.Turn(j.point, j.axis, value)
			z = by.Point(z)
			turn = by.R.Mul(&turn)
			for w := range n {
				ways[w] = by.Dir(ways[w])
			}
		}
		arm := j.axis.Cross(z.Sub(j.point))
		rho := arm.Norm() + speed + loose
		if half > 0 {
			for w := range n {
				ways[w] = ways[w].Add(arm.Mul(j.along(&st.ways[w])))
			}
			bend += 2*half*speed + half*half*rho
			speed += half * rho
			turned += chord(half)
		}
		loose += chord(slack) * (rho + radius)
	}
	bent := bend/2 + turned*radius + floatError*(1+z.Norm()+radius)
	return r.swept(z, turn, ways[:n], bent, loose)
}

// swept puts the sweep together: of more ways than it may have the shortest are charged.
func (r *ride) swept(z r3.Vector, turn geom.Rotation, ways []r3.Vector, bent, loose float64) swept {
	list := make([]r3.Vector, 0, len(ways))
	for _, w := range ways {
		if w != (r3.Vector{}) {
			list = append(list, w)
		}
	}
	if len(list) > mostWays {
		slices.SortStableFunc(list, func(a, b r3.Vector) int { return cmp.Compare(b.Norm2(), a.Norm2()) })
		for _, w := range list[mostWays:] {
			bent += w.Norm() / 2
		}
		list = list[:mostWays]
	}
	loose += r.chord
	s := swept{turn: turn, bent: bent, loose: loose}
	s.Axis = r3.Vector{X: turn[0][2], Y: turn[1][2], Z: turn[2][2]}
	s.Ways, s.Off = list, bent+loose
	s.Origin = z
	for _, w := range list {
		s.Origin = s.Origin.Sub(w.Mul(0.5))
	}
	return s
}

// along is how far a way takes the joint.
func (j *rideJoint) along(way *motion.Params) (v float64) {
	for k, g := range j.gain {
		v += g * way[k]
	}
	return v
}

// floatError is what float64 adds to a place, relative to its size: some ten joints, each a few operations
// on each coordinate, far below what models tell.
const floatError = 1e-12

// chord is how far a turn by up to angle takes a point at radius 1.
func chord(angle float64) float64 { return 2 * math.Sin(min(angle, math.Pi)/2) }

// passOf is the stretch of a leg: one way, or in a box one for each axis.
func passOf(l *leg) pass {
	st := pass{at: l.at(0.5), within: l.Within}
	if !l.Box {
		var way motion.Params
		for k := range way {
			way[k] = l.To[k] - l.From[k]
		}
		st.ways = []motion.Params{way}
		return st
	}
	return boxed(l.From, l.To, l.Within)
}

// boxed is the stretch of all positions between two.
func boxed(low, high, within motion.Params) pass {
	st := pass{within: within}
	for k := range low {
		st.at[k] = low[k] + (high[k]-low[k])/2
		if high[k] != low[k] {
			var way motion.Params
			way[k] = high[k] - low[k]
			st.ways = append(st.ways, way)
		}
	}
	return st
}

// halves cuts a stretch in the middle of way w, the first half first. Halves share their common face but
// for rounding, which over charges.
func (st *pass) halves(w int) (first, second pass) {
	way := st.ways[w]
	first, second = *st, *st
	first.ways = append([]motion.Params(nil), st.ways...)
	for k := range way {
		way[k] /= 2
		first.at[k], second.at[k] = st.at[k]-way[k]/2, st.at[k]+way[k]/2
	}
	first.ways[w] = way
	second.ways = first.ways
	return first, second
}

// parted cuts a stretch where a share of way w is gone.
func (st *pass) parted(w int, share float64) (first, second pass) {
	way := st.ways[w]
	first, second = *st, *st
	first.ways, second.ways = slices.Clone(st.ways), slices.Clone(st.ways)
	for k := range way {
		first.at[k] -= way[k] * (1 - share) / 2
		second.at[k] += way[k] * share / 2
		first.ways[w][k], second.ways[w][k] = way[k]*share, way[k]*(1-share)
	}
	return first, second
}

// hullOf is the stretch of all positions that some legs go through, and those between.
func hullOf(legs []leg) pass {
	low, high, within := legs[0].From, legs[0].From, legs[0].Within
	for i := range legs {
		l := &legs[i]
		for k := range low {
			low[k] = min(low[k], l.From[k], l.To[k])
			high[k] = max(high[k], l.From[k], l.To[k])
			within[k] = max(within[k], l.Within[k])
		}
	}
	return boxed(low, high, within)
}
