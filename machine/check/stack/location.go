package stack

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

// subject is something whose points are located: a part, or what is loaded where
// the setup has none.
type subject struct {
	name, unit string
	chain      motion.Chain // of its own coordinates
	unprobed   float64      // mm; 0: not stated
	part       int          // index into Setup.Parts; -1: none
}

// subjects lists the parts; without any, what is loaded to be cut.
func (c *checker) subjects() (list []subject) {
	s := c.setup
	for i := range s.Parts {
		p := &s.Parts[i]
		list = append(list, subject{p.Name, p.Unit, p.Chain, p.Unprobed, i})
	}
	if len(list) > 0 {
		return list
	}
	for i := range s.Seats {
		unit := s.Seats[i].Unit
		k := c.first(unit)
		if b := &s.Bodies[k]; b.Unit == unit && (b.Role == "stock" || b.Role == "part") {
			list = append(list, subject{unit, unit, b.Chain, 0, -1})
		}
	}
	return list
}

// locate says how far off the parts can be: their zeros and farthest corners, through
// the stack alone with every axis at home, and against the tool at each rotary position.
func (c *checker) locate() {
	for _, p := range c.subjects() {
		if c.brief && p.unprobed == 0 {
			continue // nothing is asked of it
		}
		under := c.foot(p.unit)
		if under == nil {
			continue
		}
		stack := motion.Between(*under, p.chain)
		at := home(c.setup)
		c.located(&p, check.FromSeat, stack, at, at, false)
		if c.setup.Spindle == nil {
			continue
		}
		solver, err := kinematics.New(c.setup.KinematicAxes(), p.chain, c.setup.Spindle.Chain)
		if err != nil {
			c.report.Assumed = append(c.report.Assumed, fmt.Sprintf("how far %s can be off against the tool is not told: %v", p.name, err))
			continue
		}
		rel := motion.Between(c.setup.Spindle.Chain, p.chain)
		first := len(c.out.Locations)
		for _, at := range c.positions(&p, rel) {
			c.located(&p, check.FromTool, rel, c.over(solver, at), at, true)
		}
		c.tooFarOff(&p, c.out.Locations[first:])
	}
}

// tooFarOff tells the worst of the locations of a part that are farther off than
// unprobed work may be.
func (c *checker) tooFarOff(p *subject, list []check.Location) {
	var worst *check.Location
	many := 0
	for i := range list {
		if l := &list[i]; l.Verdict != check.Clear {
			many++
			if worst == nil || l.Off > worst.Off {
				worst = l
			}
		}
	}
	if worst == nil {
		return
	}
	c.report.Findings = append(c.report.Findings, check.Finding{
		Verdict: worst.Verdict, Question: check.Located, Bodies: [2]string{p.name, ""}, At: worst.At,
		Reason: fmt.Sprintf("before it is probed its %s can be %s mm off at worst, more than the %s mm that unprobed work may be (so are %d of %d points and positions looked at)",
			worst.Point, mm(worst.Off), mm(p.unprobed), many, len(list)),
		Index: [2]int{c.first(p.unit), c.first(p.unit)}, Params: home(c.setup),
	})
}

// over is a position at which the gauge point is over the part's zero; as far as the
// slides are concerned, the rotary axes being where they are. The levers of whatever
// turns are right then; where the slides cannot go there, they stay where they were.
func (c *checker) over(m *kinematics.Machine, at motion.Params) motion.Params {
	if there, err := m.Linear(at, r3.Vector{}, 0); err == nil {
		return there
	}
	return at
}

// foot returns where the lowest component stands that carries a unit: the frame on the machine.
func (c *checker) foot(unit string) *motion.Chain {
	for range c.setup.Seats { // a stack ends
		i := slices.IndexFunc(c.setup.Seats, func(s machine.Seat) bool { return s.Unit == unit })
		if i < 0 {
			return nil
		}
		if s := &c.setup.Seats[i]; !c.placed(s.On) {
			return &s.Chain
		} else {
			unit = s.On
		}
	}
	return nil
}

func (c *checker) placed(unit string) bool {
	return slices.ContainsFunc(c.setup.Seats, func(s machine.Seat) bool { return s.Unit == unit })
}

// located adds how far the zero and the farthest corner of a part can be off. A bound on a
// point is convex in where it is, so no point of the box has more than its worst corner.
func (c *checker) located(p *subject, to string, chain motion.Chain, at, told motion.Params, rotary bool) {
	box := motion.At(at)
	b := bound{chain.Over(&box, nil), c.foot(p.unit).Pose(at)}
	if to == check.FromTool {
		b.frame = c.setup.Spindle.Chain.Pose(at)
	}
	pose := chain.Pose(at)
	corner, most := r3.Vector{}, -1.0
	for _, v := range c.corners(p) {
		if off, _ := b.of(pose.Point(v)); off > most {
			corner, most = v, off
		}
	}
	angle := 0.0
	for _, j := range chain.Joints {
		if j.Kind == motion.Rotary {
			angle += j.Slack
		}
	}
	for _, point := range []struct {
		name string
		at   r3.Vector
	}{{check.PartZero, r3.Vector{}}, {check.FarthestCorner, corner}} {
		there := pose.Point(point.at)
		l := check.Location{
			Part: p.name, Point: point.name, To: to, Angle: round(angle * toDegrees),
			Likely: round(likely(chain, at, there)), Wanted: stated(p.unprobed), Verdict: check.Clear, At: []check.Position{},
		}
		l.Off, l.Along = b.of(there)
		if rotary {
			l.At = c.rotaryAt(chain, told)
		}
		if p.unprobed > 0 && to == check.FromTool && l.Off > p.unprobed {
			l.Verdict = check.WithinPlay
		}
		c.out.Locations = append(c.out.Locations, l)
	}
}

// bound tells how far points can be off, seen from a frame that stands at a pose of the bed.
type bound struct {
	*motion.Excursion
	frame geom.Pose
}

// of returns how far a point of the frame can be off at worst, in any direction and along
// the bed's X, Y and Z. Two bounds hold for the first: the sum of all, and what the three
// directions allow together.
func (b *bound) of(point r3.Vector) (off float64, along [3]float64) {
	for k, d := range [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		u := b.frame.R.ApplyInverse(d)
		along[k] = up(max(b.Toward(u, point, 0), b.Toward(u.Mul(-1), point, 0)))
	}
	return min(up(b.Plain(point, 0)), up(r3.Vector{X: along[0], Y: along[1], Z: along[2]}.Norm())), along
}

// corners are those of the boxes around what the part is cut from, in the part's
// own coordinates.
func (c *checker) corners(p *subject) (list []r3.Vector) {
	back := p.chain.Home.Inverse()
	for _, i := range c.bodies(p.unit) {
		b := &c.setup.Bodies[i]
		to := back.Mul(b.Chain.Home)
		for _, v := range b.Solid.Audit.Bounds.Corners() {
			list = append(list, to.Point(v))
		}
	}
	return list
}

// likely is the root of the sum of the squares of what each joint's slack does to a
// point: less than the worst case if the slacks are independent and not all at their worst.
func likely(chain motion.Chain, at motion.Params, point r3.Vector) float64 {
	sum := 0.0
	for i := range chain.Joints {
		if chain.Joints[i].Slack == 0 {
			continue
		}
		one := motion.Chain{Joints: slices.Clone(chain.Joints), Home: chain.Home}
		for k := range one.Joints {
			if k != i {
				one.Joints[k].Slack = 0
			}
		}
		box := motion.At(at)
		off := one.Over(&box, nil).Plain(point, 0)
		sum += off * off
	}
	return math.Sqrt(sum)
}

// positions are the rotary positions at which a part is worked on, as far as they
// matter to how far off it can be.
func (c *checker) positions(p *subject, rel motion.Chain) (list []motion.Params) {
	uses := rel.Uses()
	add := func(at motion.Params) {
		same := func(q motion.Params) bool {
			for k := range c.setup.Axes {
				if c.setup.Axes[k].Kind == motion.Rotary && uses[k] && math.Abs(q[k]-at[k]) > 1e-9 {
					return false
				}
			}
			return true
		}
		if !slices.ContainsFunc(list, same) {
			list = append(list, at)
		}
	}
	if r := c.report.Reach; r != nil && p.part >= 0 {
		for i := range r.Operations {
			if r.Operations[i].Part != p.name {
				continue
			}
			for k := range r.Operations[i].Features {
				for _, at := range r.Operations[i].Features[k].Presented {
					if at.Chosen {
						add(c.params(at.At))
					}
				}
			}
		}
	}
	if len(list) > 0 {
		return list
	}
	corners := []motion.Params{home(c.setup)}
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		if a.Kind != motion.Rotary || !uses[k] {
			continue
		}
		var next []motion.Params
		for _, at := range corners {
			for _, v := range a.Commanded {
				at[k] = v
				next = append(next, at)
			}
		}
		corners = next
	}
	for _, at := range corners {
		add(at)
	}
	return list
}

// params puts axes where a report says.
func (c *checker) params(at []check.Position) motion.Params {
	p := home(c.setup)
	for _, q := range at {
		for k := range c.setup.Axes {
			if a := &c.setup.Axes[k]; a.Letter == q.Axis {
				p[k] = q.Value
				if a.Kind == motion.Rotary {
					p[k] /= toDegrees
				}
			}
		}
	}
	return p
}

// rotaryAt is where the rotary axes stand that matter.
func (c *checker) rotaryAt(chain motion.Chain, at motion.Params) []check.Position {
	list := []check.Position{}
	uses := chain.Uses()
	for k := range c.setup.Axes {
		if a := &c.setup.Axes[k]; a.Kind == motion.Rotary && uses[k] {
			list = append(list, check.PositionOf(a, at[k]))
		}
	}
	slices.SortStableFunc(list, func(a, b check.Position) int { return check.ByLetter(a.Axis, b.Axis) })
	return list
}

// up rounds a worst case up to 1e-6 mm, so that it stays one; never to -0.
func up(x float64) float64 { return math.Ceil(x*1e6-1e-6)/1e6 + 0 }
