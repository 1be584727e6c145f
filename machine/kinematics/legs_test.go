package kinematics

import (
	"math"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// Cut into legs, a stretch is the same way: each leg begins where the one before ends, the
// axes are on them within what they say, sampled densely, and it is little.
func TestLegsAreTheSameWay(t *testing.T) {
	little, all := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		m := random(rapid.IntRange(1, 2).Draw(t, "rotary axes")).Draw(t, "machine")
		length := rapid.Float64Range(0, 200).Draw(t, "length")
		from := stand(t, m)
		to := from
		for k, a := range m.axes {
			if a.Kind == motion.Rotary {
				to[k] += rapid.Float64Range(-1.5, 1.5).Draw(t, "turn")
			}
		}
		a, _ := m.Forward(from, length)
		b := a.Add(r3.Vector{X: 10})
		to, err := m.Linear(to, b, length)
		if err != nil {
			return
		}
		s := stretch{m: m, from: from, to: to, tipFrom: a, tipTo: b, length: length}
		legs := s.parted(s.deviation())
		at := from
		for i := range legs {
			leg := &legs[i]
			if leg.from != at {
				t.Fatalf("leg %d begins at %v, the one before ends at %v", i, leg.from, at)
			}
			at = leg.to
			within := leg.deviation()
			all++
			if within[m.linear[0]] <= 2*hardly {
				little++
			}
			for k := range 20 {
				f := (float64(i) + float64(k)/19) / float64(len(legs)) // of the whole
				p, err := m.Linear(s.at(f), s.tip(f), length)
				if err != nil {
					continue
				}
				line := leg.at(float64(k) / 19)
				for _, x := range m.linear {
					if math.Abs(p[x]-line[x]) > within[x]+1e-6 {
						t.Fatalf("leg %d of %d: axis %d is %g off its line, bound %g", i, len(legs), x, math.Abs(p[x]-line[x]), within[x])
					}
				}
			}
		}
		if at != to {
			t.Fatalf("the legs end at %v, want %v", at, to)
		}
	})
	if little < all/2 {
		t.Errorf("%d of %d legs keep to their lines", little, all)
	}
}
