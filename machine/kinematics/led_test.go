package kinematics

import (
	"math"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// From where the axes stand the legs lead on, each from where the one before ends, to the tip that
// is asked for; on each the axes are where Linear has them for the tip on its line, within what
// the leg says, and Either's legs lie on the even way of the axes and hold that, too: sampled
// densely.
func TestLed(t *testing.T) {
	cut := 0
	rapid.Check(t, func(t *rapid.T) {
		m := random(rapid.IntRange(1, 2).Draw(t, "rotary axes")).Draw(t, "machine")
		length := rapid.Float64Range(0, 200).Draw(t, "length")
		from := stand(t, m)
		to := from
		size := math.Pow(10, rapid.Float64Range(-4, 0.3).Draw(t, "size"))
		for k, a := range m.axes {
			if a.Kind == motion.Rotary {
				to[k] += size * rapid.Float64Range(-1, 1).Draw(t, "turn")
			}
		}
		a, _ := m.Forward(from, length)
		b := a.Add(r3.Vector{X: 10 * size, Y: -5 * size})
		legs, end, err := m.Led(nil, from, to, a, b, length)
		if err != nil {
			return
		}
		if tip, _ := m.Forward(end, length); tip.Sub(b).Norm() > 1e-6 {
			t.Fatalf("the tip ends at %v, want %v", tip, b)
		}
		both, _, err := m.Either(nil, from, to, a, b, length)
		if err != nil {
			t.Fatal(err)
		}
		if len(legs) > 1 {
			cut++
		}
		for i, leg := range both {
			f := float64(i+1) / float64(len(both))
			for k := range leg.To {
				if math.Abs(leg.To[k]-(from[k]+(end[k]-from[k])*f)) > 1e-9 {
					t.Fatalf("leg %d is not on the even way", i)
				}
			}
		}
		at := from
		for n, leg := range legs {
			if leg.From != at {
				t.Fatalf("leg %d begins at %v, the one before ends at %v", n, leg.From, at)
			}
			at = leg.To
			for i := range 9 {
				f := float64(i) / 8
				var p, all motion.Params
				whole := (float64(n) + f) / float64(len(legs))
				for k := range p {
					p[k] = leg.From[k] + (leg.To[k]-leg.From[k])*f
					all[k] = from[k] + (end[k]-from[k])*whole
				}
				exact, err := m.Linear(p, a.Add(b.Sub(a).Mul(whole)), length)
				if err != nil {
					t.Fatal(err)
				}
				for _, k := range m.linear {
					if off := math.Abs(exact[k] - p[k]); off > leg.Within[k]+1e-7 {
						t.Fatalf("leg %d of %d: axis %d is off by %g, says %g", n, len(legs), k, off, leg.Within[k])
					}
					e := both[min(int(whole*float64(len(both))), len(both)-1)]
					if off := math.Abs(exact[k] - all[k]); off > e.Within[k]+1e-7 {
						t.Fatalf("axis %d strays by %g, says %g", k, off, e.Within[k])
					}
				}
			}
		}
		if at != end {
			t.Fatalf("the last leg ends at %v, not at %v", at, end)
		}
	})
	if cut == 0 {
		t.Error("no way was cut into legs: nothing is tested")
	}
}
