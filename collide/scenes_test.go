package collide

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// scene is two bodies that move against each other, and what is asked of them.
type scene struct {
	seed   uint64
	kind   string
	pair   Pair
	over   motion.Box
	limits Limits
}

func (s *scene) String() string {
	return fmt.Sprintf("scene %d (%s): go test ./collide -run %s -scene %d\nmotion %+v\nover %v\nmargin %g, limits %+v",
		s.seed, s.kind, "TestScenesAgainstBruteForce", s.seed, s.pair.Motion, s.over, s.pair.Margin, s.limits)
}

// sceneTests is a budget that a small scene needs only a part of.
const sceneTests = 20_000_000

// randomScene draws a scene: bodies of few facets, one of several kinds of
// motion, some of them nearly or really touching somewhere.
func randomScene(seed uint64) *scene {
	r := rand.New(rand.NewPCG(seed, 21))
	s := &scene{seed: seed}
	s.pair.A, s.pair.B = NewTree(randomBody(r)), NewTree(randomBody(r))
	switch seed % 5 {
	case 0:
		s.kind = "tool over a trunnion"
		s.trunnion(r)
	case 1:
		s.kind = "slides first"
		s.slides(r)
	default:
		s.kind = "any joints"
		s.anyJoints(r, 1+r.IntN(4))
	}
	if r.IntN(3) == 0 {
		s.loosen(r)
	}
	s.limits = Limits{Enough: math.Inf(1), Absolute: 0.01, Tests: sceneTests, Jobs: 1}
	switch r.IntN(4) {
	case 0:
		s.limits.Enough = 2
	case 1:
		s.limits.Enough = 0.2
	case 2:
		s.limits.Relative = 0.01
	}
	if s.params() > 2 { // flat minima in many parameters are dear
		s.limits.Absolute, s.limits.Relative = 0.1, 0.02
	}
	return s
}

// params is how many parameters vary.
func (s *scene) params() (n int) {
	for k := range s.over.Lo {
		if s.over.Hi[k] > s.over.Lo[k] {
			n++
		}
	}
	return n
}

func randomBody(r *rand.Rand) *geom.Mesh {
	corner := func() geom.Vertex { return geom.VertexOf(randomUnit(r).Mul(20)) }
	switch r.IntN(6) {
	case 0:
		return bumpy(6+r.IntN(3), 15, 4, r.Float64()*6)
	case 1:
		return moved(centered(30*r.Float64()+0.01, 20, 10), randomPose(r, 5))
	case 2: // a thin plate with a block on it
		return joined(centered(40, 30, 0.5), cuboid(r3.Vector{X: -5, Y: -5, Z: 0.25}, r3.Vector{X: 5, Y: 5, Z: 12}))
	case 3: // a rod
		return centered(0.2, 0.2, 60)
	case 4: // an angle
		return joined(centered(40, 10, 4), cuboid(r3.Vector{X: 16, Y: -5, Z: 2}, r3.Vector{X: 20, Y: 5, Z: 25}))
	default:
		return &geom.Mesh{Facets: []geom.Facet{{corner(), corner(), corner()}}}
	}
}

// anyJoints puts n joints in a row, each on a parameter of its own or, now and
// then, on one that another has too.
func (s *scene) anyJoints(r *rand.Rand, n int) {
	c := &s.pair.Motion
	c.Home = randomPose(r, 10)
	c.Home.T = c.Home.T.Add(randomUnit(r).Mul(25 + 30*r.Float64()))
	for i := range n {
		j := motion.Joint{Kind: motion.Kind(r.IntN(3) / 2), Axis: randomAxis(r), Point: randomUnit(r).Mul(20)}
		k := i
		if r.IntN(8) == 0 {
			k = r.IntN(n)
		}
		j.Gain[k] = [3]float64{1, 1, -0.5}[r.IntN(3)]
		s.vary(r, k, j.Kind, 4/float64(n))
		c.Joints = append(c.Joints, j)
	}
}

// slides puts two linear joints, square or askew, before or behind a rotary one.
func (s *scene) slides(r *rand.Rand) {
	c := &s.pair.Motion
	c.Home = randomPose(r, 10)
	c.Home.T = c.Home.T.Add(r3.Vector{X: 5, Z: 25 + 40*r.Float64()})
	first, second := r3.Vector{X: 1}, r3.Vector{Y: 1}
	if r.IntN(3) == 0 {
		first, second = randomUnit(r), randomUnit(r)
	}
	joints := []motion.Joint{linear(first, 0), linear(second, 1)}
	s.vary(r, 0, motion.Linear, 3)
	s.vary(r, 1, motion.Linear, 3)
	turn := rotary(randomAxis(r), randomUnit(r).Mul(20), 2)
	if r.IntN(2) == 0 {
		s.vary(r, 2, motion.Rotary, 1)
	}
	if r.IntN(2) == 0 {
		joints = append(joints, turn)
	} else {
		joints = append([]motion.Joint{turn}, joints...)
	}
	c.Joints = joints
}

// trunnion carries body A on a rotary axis in a tilt axis on two slides under
// body B, which a third slide may lift: the everyday case at a machine.
func (s *scene) trunnion(r *rand.Rand) {
	named := func(name string, j motion.Joint) motion.Joint {
		j.Name = name
		return j
	}
	table := chainOf(
		named("X", linear(r3.Vector{X: -1}, 0)),
		named("Y", linear(r3.Vector{Y: -1}, 1)),
		named("A", rotary(r3.Vector{X: -1}, r3.Vector{Z: 10}, 2)),
		named("C", rotary(r3.Vector{Z: -1}, r3.Vector{X: 2 * r.Float64()}, 3)))
	table.Home.T = r3.Vector{X: 5 * r.Float64(), Z: 12}
	tool := chainOf(named("Z", linear(r3.Vector{Z: 1}, 4)))
	tool.Home.T = r3.Vector{Z: 40 + 50*r.Float64()}
	s.pair.Motion = motion.Between(table, tool)
	s.vary(r, 0, motion.Linear, 4)
	s.vary(r, 1, motion.Linear, 4)
	s.vary(r, 2, motion.Rotary, 0.5)
	if r.IntN(3) > 0 {
		s.vary(r, 3, motion.Rotary, 1.5)
	}
	if r.IntN(3) == 0 {
		s.vary(r, 4, motion.Linear, 0.2)
	}
}

// vary gives parameter k a range of up to width radians or tens of mm, with 0
// somewhere in it.
func (s *scene) vary(r *rand.Rand, k int, kind motion.Kind, width float64) {
	width *= r.Float64()
	if kind == motion.Linear {
		width *= 10
	}
	s.over.Lo[k] = -width * r.Float64()
	s.over.Hi[k] = s.over.Lo[k] + width
}

// loosen adds location uncertainty: slack in a joint, a joint that is nothing
// but slack, or a margin.
func (s *scene) loosen(r *rand.Rand) {
	joints := s.pair.Motion.Joints
	if r.IntN(2) == 0 {
		j := &joints[r.IntN(len(joints))]
		j.Slack = 0.3 * r.Float64()
		if j.Kind == motion.Rotary {
			j.Slack /= 30
		}
	}
	if r.IntN(2) == 0 {
		play := motion.Joint{Kind: motion.Linear, Axis: randomUnit(r), Slack: 0.3 * r.Float64()}
		if r.IntN(2) == 0 {
			play.Kind, play.Slack, play.Point = motion.Rotary, play.Slack/30, randomUnit(r).Mul(20)
		}
		at := r.IntN(len(joints) + 1)
		s.pair.Motion.Joints = append(joints[:at:at], append([]motion.Joint{play}, joints[at:]...)...)
	}
	if r.IntN(2) == 0 {
		s.pair.Margin = 0.2 * r.Float64()
	}
}

func randomAxis(r *rand.Rand) r3.Vector {
	if r.IntN(2) == 0 {
		return [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}[r.IntN(3)]
	}
	return randomUnit(r)
}
