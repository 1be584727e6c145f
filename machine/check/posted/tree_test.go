package posted

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine/program"
)

// Every position on legs is on their line, but for what each axis may be off it.
func TestStraighten(t *testing.T) {
	weight := motion.Params{1, 1, 1, arm}
	slim := 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 97))
		// To and fro about a line, beginning anywhere on it.
		var d, at motion.Params
		for k := range 4 {
			d[k] = r.NormFloat64() * []float64{30, 30, 10, 0.2}[k]
		}
		place := func() (p motion.Params) {
			share := 4 * (r.Float64() - 0.5)
			for k := range 4 {
				p[k] = share*d[k] + 0.02*r.NormFloat64()/weight[k]
			}
			return p
		}
		at = place()
		var legs []leg
		for range 1 + r.IntN(12) {
			l := leg{Leg: program.Leg{From: at, To: place()}}
			if r.IntN(3) == 0 {
				l.Within[r.IntN(4)] = 0.01 * r.Float64()
			}
			legs = append(legs, l)
			at = l.To
		}
		l, ok := straighten(legs, &weight)
		if !ok {
			t.Fatalf("seed %d: legs that lead along a line are none", seed)
		}
		length := 0.0
		for k := range l.way {
			length += weight[k] * weight[k] * l.way[k] * l.way[k]
		}
		thick := 0.0
		for k := range l.within {
			thick += weight[k] * l.within[k]
		}
		if thick < 0.05*math.Sqrt(length) {
			slim++
		}
		for i := range legs {
			for n := range 9 {
				p := legs[i].at(float64(n) / 8)
				for k := range p {
					p[k] += legs[i].Within[k] * float64(r.IntN(3)-1)
				}
				// Some t from 0 to 1 must do for all axes at once.
				from, to := 0.0, 1.0
				for k := range p {
					a, w, off := p[k]-l.from[k], l.way[k], l.within[k]+1e-9
					switch {
					case math.Abs(w) < 1e-12 && math.Abs(a) > off:
						t.Fatalf("seed %d: axis %d is off by %g, within %g", seed, k, a, off)
					case math.Abs(w) >= 1e-12:
						low, high := (a-off)/w, (a+off)/w
						from, to = max(from, min(low, high)), min(to, max(low, high))
					}
				}
				if from > to+1e-9 {
					t.Fatalf("seed %d: leg %d: not on the line: t from %g to %g", seed, i, from, to)
				}
			}
		}
	}
	if slim < 200 {
		t.Errorf("only %d lines are slim", slim)
	}
}

// A chunk's branches hold their legs, and nothing falls between them.
func TestTreeHoldsItsLegs(t *testing.T) {
	for _, n := range []int{0, 1, 3, 4, 5, 16, 17, 100, 1025} {
		r := rand.New(rand.NewPCG(uint64(n), 101))
		c := &chunk{}
		for range n {
			var l leg
			for k := range 4 {
				l.From[k], l.To[k], l.Within[k] = r.NormFloat64(), r.NormFloat64(), r.Float64()
			}
			l.kind, l.Box, l.level = []program.Kind{program.Rapid, program.Feed, program.Change}[r.IntN(3)], r.IntN(9) == 0, r.IntN(5) == 0
			c.legs = append(c.legs, l)
		}
		c.grow()
		if n == 0 {
			if len(c.levels) != 0 {
				t.Errorf("a tree over nothing")
			}
			continue
		}
		if top := c.levels[len(c.levels)-1]; len(top) != 1 {
			t.Errorf("%d legs: %d roots", n, len(top))
		}
		for level := range c.levels {
			next := 0
			for i := range c.levels[level] {
				from, to := c.legsUnder(level, i)
				if from != next {
					t.Fatalf("%d legs, level %d: branch %d begins at %d, the one before ends at %d", n, level, i, from, next)
				}
				next = to
				b := &c.levels[level][i]
				for k := from; k < to; k++ {
					s := c.legs[k].stretch()
					uses := [motion.MaxParams]bool{true, true, true, true}
					if !within(&s.over, &b.over, &uses) || s.kinds&^b.kinds != 0 || s.boxed && !b.boxed || s.level && !b.level {
						t.Fatalf("%d legs, level %d: leg %d is not in branch %d", n, level, k, i)
					}
				}
			}
			if next != n {
				t.Errorf("%d legs, level %d: they end at %d", n, level, next)
			}
		}
	}
}

// A box is proven only where it is within one that was, in the axes that matter, and for no more than was proven of it.
func TestRooms(t *testing.T) {
	var r rooms
	uses := [motion.MaxParams]bool{true, true}
	box := func(lo, hi, other float64) motion.Box {
		return motion.Box{Lo: motion.Params{lo, lo, other}, Hi: motion.Params{hi, hi, other}}
	}
	r.keep(box(0, 10, 0), 2)
	for _, c := range []struct {
		what   string
		over   motion.Box
		demand float64
		want   bool
	}{
		{"within", box(1, 9, 0), 2, true},
		{"the same", box(0, 10, 0), 2, true},
		{"elsewhere in an axis that does not matter", box(1, 9, 77), 2, true},
		{"more is demanded", box(1, 9, 0), 2.1, false},
		{"beyond the upper end", box(1, 10.1, 0), 2, false},
		{"beyond the lower end", box(-0.1, 9, 0), 2, false},
		{"no number", motion.Box{Lo: motion.Params{1, 1}, Hi: motion.Params{2, math.NaN()}}, 1, false},
		{"beyond in the second only", motion.Box{Lo: motion.Params{1, -1}, Hi: motion.Params{2, 2}}, 1, false},
	} {
		if got := r.holds(&c.over, &uses, c.demand); got != c.want {
			t.Errorf("%s: %v", c.what, got)
		}
	}
	for i := range mostRooms {
		r.keep(box(100*float64(i+1), 100*float64(i+1)+1, 0), 1)
	}
	if old := box(1, 2, 0); len(r.list) != mostRooms || r.holds(&old, &uses, 1) {
		t.Errorf("%d are kept, and the oldest", len(r.list))
	}
	travel := motion.Box{Lo: motion.Params{-5, -5}, Hi: motion.Params{405, 600}}
	over := box(390, 402, 0)
	larger, ok := r.larger(&over, &uses, &travel)
	if !ok || !within(&over, &larger, &uses) || larger.Hi[0] != 405 || larger.Lo[2] != 0 {
		t.Errorf("larger than %v: %v", over, larger)
	}
}
