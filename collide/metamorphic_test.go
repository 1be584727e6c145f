package collide

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Changes that leave the answers as they were, but for the scale of lengths.
var metamorphoses = []struct {
	name  string
	scale float64
	apply func(r *rand.Rand, p Pair) Pair
}{
	{"bodies changed round", 1, func(_ *rand.Rand, p Pair) Pair {
		p.A, p.B = p.B, p.A
		p.Motion = motion.Between(p.Motion, motion.Chain{Home: geom.Identity()})
		return p
	}},
	{"both placed elsewhere", 1, func(r *rand.Rand, p Pair) Pair {
		pose := geom.Turn(randomUnit(r).Mul(100), randomUnit(r), 6*r.Float64())
		p.Motion = motion.Between(motion.Chain{Home: pose}, seenFrom(pose, p.Motion))
		return p
	}},
	// Quarter turns are exact: the vertices only change their coordinates.
	{"the mesh of A turned", 1, func(r *rand.Rand, p Pair) Pair {
		axis := [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}[r.IntN(3)]
		pose := geom.Turn(r3.Vector{}, axis, math.Pi/2*float64(1+r.IntN(3)))
		p.A, p.Motion = NewTree(moved(grown(p.A, 1), pose)), seenFrom(pose, p.Motion)
		return p
	}},
	{"four times the size", 4, func(_ *rand.Rand, p Pair) Pair {
		p.A, p.B = NewTree(grown(p.A, 4)), NewTree(grown(p.B, 4))
		joints := append([]motion.Joint(nil), p.Motion.Joints...)
		for i := range joints {
			j := &joints[i]
			j.Point = j.Point.Mul(4)
			if j.Kind == motion.Linear {
				j.Offset *= 4
				for k := range j.Gain {
					j.Gain[k] *= 4
				}
			}
		}
		p.Motion.Joints, p.Margin = joints, 4*p.Margin
		p.Motion.Home.T = p.Motion.Home.T.Mul(4)
		return p
	}},
}

// What is known of the smallest clearance must go together with what is known
// after the change: of either, what was seen is no nearer than what the other proved.
func TestSweepAfterChangesThatChangeNothing(t *testing.T) {
	contacts := 0
	for seed := range uint64(24) {
		s := randomScene(seed)
		s.pair, s.limits.Tests = s.pair.Nominal(), 200_000
		s.pair.Margin = 0.05
		was := s.sweep(t)
		if was.Contact {
			contacts++
		}
		for i, m := range metamorphoses {
			t.Run(fmt.Sprintf("%d %s", seed, m.name), func(t *testing.T) {
				limits := s.limits
				limits.Enough, limits.Absolute = m.scale*limits.Enough, m.scale*limits.Absolute
				is := sweep(t, m.apply(rand.New(rand.NewPCG(seed, uint64(i))), s.pair), s.over, limits)
				if was.Stopped != "" || is.Stopped != "" {
					return
				}
				if was.Upper > 0 != (is.Upper > 0) {
					t.Errorf("%v\nwas %+v\nis  %+v", s, was, is)
				}
				if is.Lower > m.scale*was.Upper+1e-6 || m.scale*was.Lower > is.Upper+1e-6 {
					t.Errorf("%v\nwas %.9f..%.9f\nis  %.9f..%.9f, %g times", s, was.Lower, was.Upper, is.Lower, is.Upper, m.scale)
				}
			})
		}
	}
	if contacts < 2 {
		t.Errorf("only %d contacts: the scenes prove too little", contacts)
	}
}

// seenFrom returns a chain with everything placed by pose.
func seenFrom(pose geom.Pose, c motion.Chain) motion.Chain {
	out := motion.Chain{Home: pose.Mul(c.Home), Joints: append([]motion.Joint(nil), c.Joints...)}
	for i := range out.Joints {
		j := &out.Joints[i]
		j.Axis, j.Point = pose.Dir(j.Axis), pose.Point(j.Point)
	}
	return out
}

// grown returns the mesh of a tree, so many times its size.
func grown(t *Tree, by float32) *geom.Mesh {
	m := &geom.Mesh{Facets: make([]geom.Facet, len(t.facets))}
	for i, f := range t.facets {
		for k := range f {
			m.Facets[t.index[i]][k] = geom.Vertex{by * f[k][0], by * f[k][1], by * f[k][2]}
		}
	}
	return m
}
