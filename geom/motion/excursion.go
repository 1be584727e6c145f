package motion

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Excursion is a chain over a box of parameters: the pose at the box's centre
// and what is needed to bound how far points get from there. Points, balls and
// directions passed to it are in the root frame, at that centre pose.
//
// Derivation. At the centre the joints' axes stand where the outer joints
// have put them; away from it the body is moved by Q = R1 R2 ... Rk, where Ri
// is joint i's own excursion about (along) that axis, outermost first. With
// Q(i) = R1 ... Ri the displacement of a point p telescopes:
//
//	Q p - p = sum over i of Q(i-1) (Ri p - p),
//
// every term taken at the centre position p, because Q(i-1) p - p and the rest
// cancel pairwise and a rigid motion turns differences of points only.
//
// Plain bound: |Ri p - p| is h for a linear joint and the chord 2 rho sin(h/2)
// for a rotary one, rho the distance from the axis. Rotations keep lengths, so
// the sum bounds |Q p - p|. For a ball (c, r), rho <= |w x (c-o)| + r.
//
// Directional bound, for a unit u: how far any point of the ball can get along
// -u. By -u.(Q(i-1) v) = -u.v - (Q(i-1)^T u - u).v, each term is at most
// -u.v + |Q(i-1)^T u - u| |v|, and |Q(i-1)^T u - u| is at most the sum of the
// chords 2 sin(h/2) of the rotary joints outside i, and at most 2. For a rotary
// joint turned by a, |a| <= h <= pi/2, with e = p - c, |e| <= r:
//
//	v = R p - p = sin(a) w x (c-o) - (1-cos a) (c-o)perp + (R-I) e,
//	-u.v <= sin(h) |u.(w x (c-o))| + (1-cos h) max(0, u.(c-o)perp)
//	        + 2 sin(h/2) |u x w| r,
//
// since |(R-I)^T u| = 2 |sin(a/2)| |u x w|. For any h, v is square to w, so
// -u.v <= |u x w| times the plain bound: a faceplate that turns under something
// flat never comes nearer. For a linear joint -u.v <= h |u.axis|.
type Excursion struct {
	Pose geom.Pose
	// joints that a parameter moves over the box, and those that only have slack.
	joints, loose []excursionJoint
	// reach bounds what the loose joints do to any point of the body; +Inf until
	// Hold says how large the body is.
	reach float64
	// free are square to two linear joints each; frees counts them.
	free  [3]r3.Vector
	frees int
}

type excursionJoint struct {
	index       int // of the joint in the chain
	kind        Kind
	axis, point r3.Vector
	// For a linear joint h is the half range. For a rotary one: chord =
	// 2 sin(min(h, pi)/2), sin = sin h, versin = 1 - cos h.
	h, chord, sin, versin float64
	slack                 float64 // how much of h is location uncertainty
	// turned bounds |Q^T u - u| over the joints outside this one.
	turned float64
	wide   bool // rotary with h > pi/2
}

// Over returns the excursion of the chain over the box. Scratch is reused for
// its memory if it is not nil; the result is valid until scratch is used again.
func (c *Chain) Over(b *Box, scratch *Excursion) *Excursion {
	e := scratch
	if e == nil {
		e = new(Excursion)
	}
	e.joints, e.loose, e.reach = e.joints[:0], e.loose[:0], math.Inf(1)
	center := b.Center()
	pose := geom.Identity()
	turned := 0.0
	for i := range c.Joints {
		j := &c.Joints[i]
		h := 0.0
		for k, g := range j.Gain {
			if g != 0 {
				h += math.Abs(g) * b.half(k, center[k])
			}
		}
		moves := h > 0
		if h += j.Slack; h > 0 {
			x := excursionJoint{index: i, kind: j.Kind, axis: pose.Dir(j.Axis), h: h, slack: j.Slack, turned: turned}
			if j.Kind == Rotary {
				x.point = pose.Point(j.Point)
				x.wide = h > math.Pi/2
				x.chord = 2 * math.Sin(min(h, math.Pi)/2)
				x.sin = math.Sin(min(h, math.Pi/2))
				x.versin = x.chord * x.chord / 2 // 1 - cos h, without cancellation
				turned = min(2, turned+x.chord)
			}
			if moves {
				e.joints = append(e.joints, x)
			} else {
				e.loose = append(e.loose, x)
			}
		}
		if v := j.Value(&center); v != 0 {
			pose = pose.Mul(j.move(v))
		}
	}
	e.Pose = pose.Mul(c.Home)
	e.squareToSlides()
	return e
}

// squareToSlides finds the unit vectors square to two of the linear joints: of the
// three that go farthest, those that go farthest first.
func (e *Excursion) squareToSlides() {
	var far [3]*excursionJoint
	for i := range e.joints {
		j := &e.joints[i]
		if j.kind != Linear {
			continue
		}
		for k := range far {
			if far[k] == nil || j.h > far[k].h {
				far[k], j = j, far[k]
			}
			if j == nil {
				break
			}
		}
	}
	e.frees = 0
	for _, pair := range [3][2]int{{0, 1}, {0, 2}, {1, 2}} {
		a, b := far[pair[0]], far[pair[1]]
		if a == nil || b == nil {
			break
		}
		n := a.axis.Cross(b.axis)
		if l := n.Norm(); l > 0.1 {
			e.free[e.frees] = n.Mul(1 / l)
			e.frees++
		}
	}
}

// Frees returns the unit vectors along which two slides do not move the body, at
// most three, those first whose slides go farthest; either sense of each will do.
// Empty where the motion has no two slides.
func (e *Excursion) Frees() []r3.Vector { return e.free[:e.frees] }

// Free returns that of Frees which is nearest to v, on v's side; ok is false where
// there is none.
func (e *Excursion) Free(v r3.Vector) (free r3.Vector, ok bool) {
	best := -1.0
	for _, f := range e.Frees() {
		along := f.Dot(v)
		if along < 0 {
			along, f = -along, f.Mul(-1)
		}
		if along > best {
			best, free, ok = along, f, true
		}
	}
	return free, ok
}

// Loose bounds how much of Toward comes from what splitting the box cannot make less:
// the location uncertainty, that of the joints that the parameters move included.
func (e *Excursion) Loose(u, center r3.Vector, radius float64) float64 {
	sum := towardSum(e.loose, u, center, radius)
	for i := range e.joints {
		j := &e.joints[i]
		switch {
		case j.slack == 0:
		case j.kind == Linear:
			sum += j.slack * math.Abs(u.Dot(j.axis))
		default:
			arm := j.axis.Cross(center.Sub(j.point))
			sum += j.slack * (math.Abs(u.Dot(arm)) + radius)
		}
	}
	return sum
}

// Hold tells the size of the body: a ball around all of it, at the centre pose.
// It makes TowardUpTo faster.
func (e *Excursion) Hold(center r3.Vector, radius float64) {
	e.reach = plainSum(e.loose, center, radius)
}

// Plain bounds how far any point of the ball (center, radius) can get from its
// place at the centre pose, in mm.
func (e *Excursion) Plain(center r3.Vector, radius float64) float64 {
	return plainSum(e.joints, center, radius) + plainSum(e.loose, center, radius)
}

// Toward bounds how far any point of the ball (center, radius) can get along
// -u from its place at the centre pose, in mm; u is a unit vector.
func (e *Excursion) Toward(u, center r3.Vector, radius float64) float64 {
	return towardSum(e.joints, u, center, radius) + towardSum(e.loose, u, center, radius)
}

// TowardUpTo is Toward for those whom any bound up to enough satisfies: it then
// charges the location uncertainty at the radius of the whole body, at once.
func (e *Excursion) TowardUpTo(enough float64, u, center r3.Vector, radius float64) float64 {
	sum := towardSum(e.joints, u, center, radius)
	if rough := sum + e.reach; rough <= enough {
		return rough
	}
	return sum + towardSum(e.loose, u, center, radius)
}

func plainSum(joints []excursionJoint, center r3.Vector, radius float64) (sum float64) {
	for i := range joints {
		sum += joints[i].plain(center, radius)
	}
	return sum
}

func towardSum(joints []excursionJoint, u, center r3.Vector, radius float64) (sum float64) {
	for i := range joints {
		sum += joints[i].toward(u, center, radius)
	}
	return sum
}

func (j *excursionJoint) plain(center r3.Vector, radius float64) float64 {
	if j.kind == Linear {
		return j.h
	}
	return j.chord * (j.axis.Cross(center.Sub(j.point)).Norm() + radius)
}

func (j *excursionJoint) toward(u, center r3.Vector, radius float64) float64 {
	along := u.Dot(j.axis)
	if j.kind == Linear {
		return j.h * min(1, math.Abs(along)+j.turned)
	}
	arm := center.Sub(j.point)
	tangent := j.axis.Cross(arm) // its length is the distance from the axis
	plain := j.chord * (math.Sqrt(tangent.Dot(tangent)) + radius)
	slant := u.Cross(j.axis)
	across := math.Sqrt(slant.Dot(slant))
	loose := plain * min(1, across+j.turned)
	if j.wide {
		return loose
	}
	inward := u.Dot(arm) - along*j.axis.Dot(arm)
	direct := j.sin*math.Abs(u.Dot(tangent)) + j.versin*max(0, inward) +
		j.chord*radius*across + j.turned*plain
	return min(loose, direct)
}

// Aside returns u turned away from the joint that takes most of a gap along it,
// so that this joint moves (nearly) square to the new direction: the tip of a tool
// over a table that slides is kept apart by what is vertical between them, however
// far the table goes. ok is false where no joint takes anything, or nothing of u is left.
func (e *Excursion) Aside(u, center r3.Vector) (aside r3.Vector, ok bool) {
	most, worst := 0.0, -1
	for i := range e.joints {
		if cost := e.joints[i].toward(u, center, 0); cost > most {
			most, worst = cost, i
		}
	}
	if worst < 0 {
		return u, false
	}
	j := &e.joints[worst]
	switch {
	case j.kind == Linear:
		aside = u.Sub(j.axis.Mul(u.Dot(j.axis)))
	case j.h > 0.5: // far round: only the axis' own direction stands still
		aside = j.axis.Mul(u.Dot(j.axis))
	default:
		tangent := j.axis.Cross(center.Sub(j.point))
		t2 := tangent.Dot(tangent)
		if t2 == 0 {
			return u, false
		}
		aside = u.Sub(tangent.Mul(u.Dot(tangent) / t2))
	}
	n := math.Sqrt(aside.Dot(aside))
	if n < 0.05 {
		return u, false
	}
	return aside.Mul(1 / n), true
}

// Widest returns the parameter of the box that carries the ball farthest along
// -u (anywhere, if u is zero): the one to split. It returns -1 if none varies.
func (e *Excursion) Widest(c *Chain, b *Box, u, center r3.Vector, radius float64) int {
	var share Params
	mid := b.Center()
	for i := range e.joints {
		x := &e.joints[i]
		cost := 0.0
		if u == (r3.Vector{}) {
			cost = x.plain(center, radius)
		} else {
			cost = x.toward(u, center, radius)
		}
		for k, g := range c.Joints[x.index].Gain {
			if g != 0 {
				share[k] += cost * math.Abs(g) * b.half(k, mid[k]) / x.h
			}
		}
	}
	widest := -1
	for k := range share {
		if mid[k] > b.Lo[k] && mid[k] < b.Hi[k] && (widest < 0 || share[k] > share[widest]) {
			widest = k
		}
	}
	return widest
}
