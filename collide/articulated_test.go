package collide

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync/atomic"
	"testing"

	"gridswing/geom/motion"
)

var (
	sceneCount = flag.Uint64("scenes", 30, "articulated scenes to sweep and to search by brute force")
	oneScene   = flag.Int64("scene", -1, "the seed of the only articulated scene to look at")
)

// No position that brute force finds may be nearer than what was proven, and
// the smallest clearance must be as small as brute force and a local search make it.
func TestScenesAgainstBruteForce(t *testing.T) {
	count, samples := *sceneCount, 4000
	if testing.Short() {
		count, samples = min(count, 12), 1000
	}
	first := uint64(0)
	if *oneScene >= 0 {
		first, count = uint64(*oneScene), 1
	}
	var contacts, stopped, within atomic.Int64
	t.Run("scene", func(t *testing.T) {
		for seed := first; seed < first+count; seed++ {
			t.Run(fmt.Sprint(seed), func(t *testing.T) {
				t.Parallel()
				s := randomScene(seed)
				s.temptParts(t)
				out := s.sweep(t)
				switch {
				case out.Stopped != "":
					stopped.Add(1)
					t.Logf("%v\nstopped: %+v", s, out)
				case out.Contact:
					contacts.Add(1)
				case out.Upper <= 0:
					within.Add(1)
				}
				s.check(t, out, samples)
			})
		}
	})
	t.Logf("%d scenes: %d in contact, %d within play, %d stopped", count, contacts.Load(), within.Load(), stopped.Load())
	if n := contacts.Load(); count > 10 && (n == 0 || n > int64(count/2)) {
		t.Errorf("%d of %d scenes are contacts: the scenes prove nothing", n, count)
	}
	if n := stopped.Load(); n > int64(count/20) {
		t.Errorf("%d of %d scenes ran out of their budget", n, count)
	}
}

func (s *scene) sweep(t testing.TB) Outcome {
	t.Helper()
	out, err := Sweep(context.Background(), s.pair, s.over, s.limits)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// check holds what a sweep says to what brute force finds.
func (s *scene) check(t *testing.T, out Outcome, samples int) {
	t.Helper()
	if out.Upper < math.Inf(1) {
		s.checkWitness(t, out)
	}
	if out.Stopped != "" || out.Upper <= 0 {
		if !math.IsInf(out.Lower, -1) {
			t.Errorf("%v\nnothing can be proven: %+v", s, out)
		}
		return
	}
	if want := min(s.limits.Enough, out.Upper-s.limits.tolerance(out.Upper)); out.Lower < want-1e-9 || out.Lower > s.limits.Enough {
		t.Errorf("%v\nproven %.9f, asked for %.9f: %+v", s, out.Lower, want, out)
	}
	near := math.Inf(1)
	for _, v := range []*adversary{newAdversary(s.pair.Nominal(), s.over), looseAdversary(s.pair, s.over)} {
		least, at := v.least(samples, s.seed, out.At)
		near = least - s.pair.Margin
		if near < out.Lower-1e-9 {
			t.Errorf("%v\nFALSE CLEAR: proven %.9f, but %.9f at %v (margin taken off)", s, out.Lower, near, at)
		}
		s.tempt(t, s.over, near)
	}
	// An angle of play is charged at the corner of a facet where it takes most.
	if charged := s.angles() * sceneSize; near > max(out.Upper, out.Lower)+s.limits.tolerance(near)+charged+1e-6 && out.Upper < math.Inf(1) {
		t.Errorf("%v\nnothing is nearer than %.9f: %+v", s, near, out)
	}
}

// temptTests ends what is far from being provable.
const temptTests = 20_000

// tempt asks for a little more than there is: it must not be proven, whether
// the search has come across the nearest position or not.
func (s *scene) tempt(t *testing.T, over motion.Box, near float64) {
	t.Helper()
	for _, more := range []float64{0.001, 0.05} {
		if near+more <= 0 {
			continue
		}
		limits := Limits{Enough: near + more, Absolute: more / 4, Tests: temptTests, Jobs: 1}
		if out := sweep(t, s.pair, over, limits); out.Lower > near+1e-9 {
			t.Errorf("%v\nFALSE CLEAR over %v: proven %.9f, but there is %.9f", s, over, out.Lower, near)
		}
	}
}

// temptParts does the same over small parts of the range, where bounds are sharp.
func (s *scene) temptParts(t *testing.T) {
	t.Helper()
	r := rand.New(rand.NewPCG(s.seed, 22))
	for range 4 {
		part := s.over
		share := math.Pow(10, -2.5*r.Float64())
		for k := range part.Lo {
			width := (s.over.Hi[k] - s.over.Lo[k]) * share
			part.Lo[k] += (s.over.Hi[k] - s.over.Lo[k] - width) * r.Float64()
			part.Hi[k] = part.Lo[k] + width
		}
		near, _ := looseAdversary(s.pair, part).least(100, s.seed, part.Lo)
		s.tempt(t, part, near-s.pair.Margin)
	}
}

// sceneSize is the diameter of the largest body.
const sceneSize = 60

// angles is the sum of the angles of play.
func (s *scene) angles() (sum float64) {
	for i := range s.pair.Motion.Joints {
		if j := &s.pair.Motion.Joints[i]; j.Kind == motion.Rotary {
			sum += j.Slack
		}
	}
	return sum
}

// checkWitness asks again for the distance at the position that is called the
// nearest, and holds what was taken off it to the bounds of the slack.
func (s *scene) checkWitness(t *testing.T, out Outcome) {
	t.Helper()
	for k, x := range out.At {
		if x < s.over.Lo[k] || x > s.over.Hi[k] {
			t.Errorf("%v\nthe witness %v is out of range", s, out.At)
		}
	}
	near := Distance(s.pair.A, s.pair.B, s.pair.Motion.Pose(out.At))
	if out.Contact != (out.Nominal == 0) || math.Abs(near.Distance-out.Nominal) > 1e-6 {
		t.Errorf("%v\nthe witness is %.9f apart: %+v", s, near.Distance, out)
	}
	if out.Contact {
		return
	}
	taken := out.Nominal - out.Upper - s.pair.Margin
	box := motion.At(out.At)
	e := s.pair.Motion.Over(&box, nil)
	var facet triangle
	facet.loadPosed(&s.pair.B.facets[slices.Index(s.pair.B.index, int32(out.Near.FacetB))], &e.Pose)
	most := max(e.Plain(facet[0], 0), e.Plain(facet[1], 0), e.Plain(facet[2], 0))
	if taken < -1e-9 || taken > most+1e-9 {
		t.Errorf("%v\n%.9f was taken off for slack, which can take 0 to %.9f: %+v", s, taken, most, out)
	}
}
