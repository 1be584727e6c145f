package posted

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

func unitVector(r *rand.Rand) r3.Vector {
	return r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Normalize()
}

// randomRide makes two chains from the bed: a stock's on rotary and linear axes with play between, a
// spindle's on linear ones and perhaps one that swivels, which share their first joint.
func randomRide(r *rand.Rand) (stock, spindle motion.Chain) {
	joint := func(name string, kind motion.Kind, param int, slack float64) motion.Joint {
		j := motion.Joint{Name: name, Kind: kind, Axis: unitVector(r), Slack: slack, Offset: r.NormFloat64()}
		j.Point = r3.Vector{X: 50 * r.NormFloat64(), Y: 50 * r.NormFloat64(), Z: 50 * r.NormFloat64()}
		if param >= 0 {
			j.Gain[param] = []float64{-1, 1}[r.IntN(2)]
		}
		return j
	}
	home := func() geom.Pose {
		return geom.Shift(unitVector(r).Mul(30)).Mul(geom.Turn(r3.Vector{}, unitVector(r), r.NormFloat64()))
	}
	bed := joint("bed", motion.Rotary, -1, 0.1)
	stock = motion.Chain{Home: home(), Joints: []motion.Joint{
		bed, joint("X", motion.Linear, 0, 0.01), joint("seat", motion.Rotary, -1, 0.002),
		joint("A", motion.Rotary, 3, 0.0005), joint("play", motion.Linear, -1, 0.02), joint("C", motion.Rotary, 4, 0.0005),
	}}
	spindle = motion.Chain{Home: home(), Joints: []motion.Joint{bed, joint("Y", motion.Linear, 1, 0.01), joint("Z", motion.Linear, 2, 0.01)}}
	if r.IntN(2) == 0 {
		spindle.Joints = append(spindle.Joints, joint("B", motion.Rotary, 5, 0.0005))
	}
	spindle.Joints = append(spindle.Joints, joint("length", motion.Linear, -1, 0.05))
	return stock, spindle
}

// TestSweepsHoldTheRide samples random chains: whatever the axes do on a stretch, off by as much as they may
// be, no point of the body is farther than Off from where the sweep says, play of what carries
// the stock taken as none.
func TestSweepsHoldTheRide(t *testing.T) {
	closest := math.Inf(1)
	for seed := range uint64(600) {
		r := rand.New(rand.NewPCG(seed, 7))
		stock, spindle := randomRide(r)
		ride := newRide(stock, spindle)
		center, radius := 20*r.NormFloat64(), 15*r.Float64()
		from, to, within := motion.Params{}, motion.Params{}, motion.Params{}
		for k := range 6 {
			from[k] = r.NormFloat64()
			size := math.Pow(10, -2.5*r.Float64())
			to[k] = from[k] + size*r.NormFloat64()
			within[k] = 0.001 * float64(r.IntN(2))
			if r.IntN(3) == 0 {
				to[k] = from[k]
			}
		}
		l := leg{}
		l.From, l.To, l.Within, l.Box = from, to, within, r.IntN(2) == 0
		st := passOf(&l)
		s := ride.over(&st, center, radius)
		for range 60 {
			u := make([]float64, len(st.ways))
			at := st.at
			for w := range u {
				u[w] = r.Float64()
				for k := range at {
					at[k] += (u[w] - 0.5) * st.ways[w][k]
				}
			}
			pose := offBy(r, stock, spindle, at, within)
			off := unitVector(r).Mul(radius)
			x := pose.Point(r3.Vector{Z: center}.Add(off))
			// What stands beside the axis is seen in the attitude at the middle.
			mid := motion.Between(still(stock), still(spindle))
			turned := mid.Pose(st.at)
			got := s.Origin.Add(turned.Dir(off))
			k := 0
			for w := range st.ways {
				if len(s.Ways) == len(st.ways) {
					got = got.Add(s.Ways[k].Mul(u[w]))
					k++
				}
			}
			if len(s.Ways) != len(st.ways) {
				continue // which of them are left is not told
			}
			if d := x.Sub(got).Norm(); d > s.Off {
				t.Fatalf("seed %d: a point is %g off, Off is %g (bent %g, loose %g)", seed, d, s.Off, s.bent, s.loose)
			} else if d > 0 {
				closest = min(closest, s.Off/d)
			}
		}
	}
	if closest > 1.5 {
		t.Errorf("Off is never less than %g times what was reached", closest)
	}
}

// still is a chain without slack.
func still(c motion.Chain) motion.Chain {
	joints := append([]motion.Joint(nil), c.Joints...)
	for i := range joints {
		joints[i].Slack = 0
	}
	return motion.Chain{Joints: joints, Home: c.Home}
}

// offBy is where the spindle stands as seen from the stock, every axis and what the spindle's side has of
// play somewhere within its slack, mostly at its ends.
func offBy(r *rand.Rand, stock, spindle motion.Chain, at, within motion.Params) geom.Pose {
	a, b := still(stock), still(spindle)
	shake := func(c, slack *motion.Chain, constant bool) {
		for i := range c.Joints {
			j := &c.Joints[i]
			if j.Name == "bed" || j.Gain == (motion.Params{}) && !constant {
				continue
			}
			s := slack.Joints[i].Slack
			for k, g := range j.Gain {
				s += math.Abs(g) * within[k]
			}
			j.Offset += s * float64(r.IntN(3)-1)
		}
	}
	shake(&a, &stock, false)
	shake(&b, &spindle, true)
	rel := motion.Between(a, b)
	return rel.Pose(at)
}

// TestHalvesFollowEachOther asserts that halves hold what the whole does and end where the other begins.
func TestHalvesFollowEachOther(t *testing.T) {
	l := leg{}
	l.From, l.To = motion.Params{1, 2, 3}, motion.Params{5, 2, -3}
	st := passOf(&l)
	first, second := st.halves(0)
	if got := fmt.Sprint(first.at, second.at, first.ways, st.ways); got != fmt.Sprint(motion.Params{2, 2, 1.5}, motion.Params{4, 2, -1.5}, []motion.Params{{2, 0, -3}}, []motion.Params{{4, 0, -6}}) {
		t.Error(got)
	}
}

// TestPlayOfTheStock: a turn of 0.002 about an axis 100 from the far corner of the stock moves it by 0.2,
// whatever axes are between.
func TestPlayOfTheStock(t *testing.T) {
	chain := motion.Chain{Home: geom.Identity(), Joints: []motion.Joint{
		{Name: "seat", Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Slack: 0.002},
		{Name: "C", Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Gain: motion.Params{1}, Slack: 0.1},
	}}
	box := motion.Box{Hi: motion.Params{2 * math.Pi}}
	if got := playOf(chain, &box, r3.Vector{X: 60}, 40); math.Abs(got-0.2) > 0.001 {
		t.Errorf("play %g, want 0.2", got)
	}
}
