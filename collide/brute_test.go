package collide

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"gridswing/geom/motion"
)

// adversary looks for the nearest position of a pair without any bound on its
// motion: on a grid, and downhill from the nearest grid positions and from random
// ones. What it finds is true of the bodies whatever a sweep says.
type adversary struct {
	pair Pair
	over motion.Box
	vary []int // parameters that vary
	// starts is from how many positions of the grid it goes downhill.
	starts int
	// The nearest positions first.
	best []found
}

type found struct {
	distance float64
	at       motion.Params
}

// looseAdversary makes parameters of all slack, as far as there are parameters
// left, so that the worst location is searched for too. The pair it works on has
// parameters of another meaning.
func looseAdversary(p Pair, over motion.Box) *adversary {
	nominal := p.Nominal()
	next := motion.MaxParams - 1
	for i := range nominal.Motion.Joints {
		slack := p.Motion.Joints[i].Slack
		for next >= 0 && over.Hi[next] > over.Lo[next] {
			next--
		}
		if slack == 0 || next < 0 {
			continue
		}
		for k := range nominal.Motion.Joints { // nothing else may hang on it
			nominal.Motion.Joints[k].Offset = nominal.Motion.Joints[k].Offset + nominal.Motion.Joints[k].Gain[next]*over.Lo[next]
			nominal.Motion.Joints[k].Gain[next] = 0
		}
		nominal.Motion.Joints[i].Gain[next] = 1
		over.Lo[next], over.Hi[next] = -slack, slack
		next--
	}
	return newAdversary(nominal, over)
}

func newAdversary(p Pair, over motion.Box) *adversary {
	v := &adversary{pair: p, over: over, starts: 6}
	for k := range over.Lo {
		if over.Hi[k] > over.Lo[k] {
			v.vary = append(v.vary, k)
		}
	}
	return v
}

// least searches with some number of samples on the grid; it goes downhill from
// hint too, where a parameter out of range stands for its middle.
func (v *adversary) least(samples int, seed uint64, hint motion.Params) (float64, motion.Params) {
	n := 1
	if len(v.vary) > 0 {
		n = max(3, int(math.Pow(float64(samples), 1/float64(len(v.vary)))))
	}
	at := v.over.Lo
	v.grid(0, n, at)
	r := rand.New(rand.NewPCG(seed, 77))
	for range v.starts / 2 {
		for _, k := range v.vary {
			at[k] = v.over.Lo[k] + (v.over.Hi[k]-v.over.Lo[k])*r.Float64()
		}
		v.best = append(v.best, found{v.distance(at, math.Inf(1)), at})
	}
	for k, x := range hint {
		if x < v.over.Lo[k] || x > v.over.Hi[k] {
			hint[k] = v.over.Lo[k] + (v.over.Hi[k]-v.over.Lo[k])/2
		}
	}
	v.best = append(v.best, found{v.distance(hint, math.Inf(1)), hint})
	for i := range v.best {
		v.descend(&v.best[i], 1/float64(n))
	}
	best := slices.MinFunc(v.best, func(a, b found) int { return cmp.Compare(a.distance, b.distance) })
	return best.distance, best.at
}

func (v *adversary) distance(at motion.Params, limit float64) float64 {
	return DistanceWithin(v.pair.A, v.pair.B, v.pair.Motion.Pose(at), limit).Distance
}

// grid looks at n values of each parameter, both ends among them.
func (v *adversary) grid(depth, n int, at motion.Params) {
	if depth == len(v.vary) {
		limit := math.Inf(1)
		if len(v.best) == v.starts {
			limit = v.best[v.starts-1].distance
		}
		if d := v.distance(at, limit); d < limit {
			v.best = append(v.best[:min(len(v.best), v.starts-1)], found{d, at})
			slices.SortStableFunc(v.best, func(a, b found) int { return cmp.Compare(a.distance, b.distance) })
		}
		return
	}
	k := v.vary[depth]
	for i := range n {
		at[k] = v.over.Lo[k] + (v.over.Hi[k]-v.over.Lo[k])*float64(i)/float64(max(1, n-1))
		v.grid(depth+1, n, at)
	}
}

// descend is a compass search (Kolda, Lewis, Torczon, SIAM Review 45(3), 2003).
func (v *adversary) descend(f *found, step float64) {
	for ; step > 1e-6; step /= 2 {
		for better := true; better; {
			better = false
			for _, k := range v.vary {
				for _, sign := range []float64{-1, 1} {
					q := f.at
					q[k] = max(v.over.Lo[k], min(v.over.Hi[k], q[k]+sign*step*(v.over.Hi[k]-v.over.Lo[k])))
					if d := v.distance(q, f.distance); d < f.distance {
						*f, better = found{d, q}, true
					}
				}
			}
		}
	}
}
