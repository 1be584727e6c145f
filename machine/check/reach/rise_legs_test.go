package reach

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// led works out all ways and moves of a setup, at the positions that seem best, and asks nothing.
func led(t testing.TB, s *machine.Setup) *checker {
	t.Helper()
	c := &checker{setup: s, options: Options{Brief: true}.Ready(DefaultTests)}
	c.trees = c.options.Trees
	c.prepare()
	c.present()
	j := journey{c: c, at: home(s), name: "home", z: c.drawback(), level: true, half: c.half()}
	for _, st := range c.stops {
		if st.chosen = st.candidates[0]; st.chosen.way != nil {
			j.to(st)
		}
	}
	j.out()
	c.moves = j.list
	return c
}

// holds reports whether a position is on a leg, its last parameter telling the height: off by no
// more than that of a straight line, an area or a box that is shifted by the height.
func (g *leg) holds(p, off motion.Params, height int) bool {
	from, ways := g.from, g.ways
	if g.tied {
		d := ways[len(ways)-1]
		e := 0.5
		if d[height] != 0 {
			e = (p[height] - from[height]) / d[height]
		}
		if e < -1e-9 || e > 1+1e-9 {
			return false
		}
		from, ways = along(from, d, e), ways[:len(ways)-1]
	}
	// What is left is a sum of ways from 0 to 1: those that change the same axes one after
	// the other, by Gauss-Seidel, which settles at once where they are square to each other.
	s := make([]float64, len(ways))
	rest := minus(p, from)
	for range 200 {
		for i, w := range ways {
			dot, length := 0.0, 0.0
			for k := range w {
				weight := 1 / (g.within[k] + off[k] + 1e-10) // what may be off hardly counts
				dot += rest[k] * w[k] * weight
				length += w[k] * w[k] * weight
			}
			if length == 0 {
				continue
			}
			next := min(max(s[i]+dot/length, 0), 1)
			rest = along(rest, w, s[i]-next)
			s[i] = next
		}
	}
	for k := range rest {
		if math.Abs(rest[k]) > g.within[k]+off[k]+1e-7 {
			return false
		}
	}
	return true
}

// heldBy asserts that whatever a leg of one height leads to is on one of the legs over all heights.
func heldBy(t testing.TB, rng *rand.Rand, seed uint64, what string, one *leg, all []leg, height int, mm float64) {
	t.Helper()
	for range 6 {
		var s motion.Params
		for i := range one.ways {
			s[i] = []float64{0, 1, rng.Float64()}[rng.IntN(3)]
		}
		p := one.at(s)
		p[height] = mm
		held := false
		for i := range all {
			held = held || all[i].holds(p, one.within, height)
		}
		if !held {
			t.Fatalf("seed %d, height %+g: %s leads to %v, which none of %+v holds", seed, mm, what, p, all)
		}
	}
}

// At every height, the legs to features, along them and between them, and what travel is looked
// at, are among those over all heights.
func TestLegsHoldThoseOfEachHeight(t *testing.T) {
	kinds := map[string]int{}
	for n := range 4 * *shops {
		seed := *seed0 + uint64(n)
		rng := rand.New(rand.NewPCG(seed, 97))
		w := []func(testing.TB, *rand.Rand) shop{randomShop, windowShop, heightShop}[n%3](t, rng)
		on := shop.onRiser
		if rng.IntN(4) == 0 {
			on = shop.unitOnRiser
		}
		from := 2 + 40*rng.Float64()
		to := from + 30*rng.Float64()
		w = on(w.same(), t, 20)
		all := led(t, w.spaced(t, from, to))
		p := all.setup.Spacer
		for _, i := range all.others {
			if i == p.Below {
				t.Fatal("tools are looked at against what stands on the seat")
			}
		}
		for _, mm := range []float64{from, to, from + (to-from)*rng.Float64()} {
			one, e := led(t, w.spaced(t, mm, mm)), mm-p.Middle()
			for i, st := range all.stops {
				a, b := st.chosen, one.stops[i].chosen
				if (a.way == nil) != (b.way == nil) || a.way == nil {
					continue
				}
				if st.unsure == "" && all.turning(a.rotary, b.rotary) > 0 {
					t.Fatalf("seed %d: at %g mm another position comes first", seed, mm)
				}
				if st.unsure != "" {
					continue
				}
				kinds["stop"]++
				for name, legs := range map[string][2][]leg{
					"whole": {b.way.whole, a.way.whole}, "in": {b.way.in, a.way.in}, "cut": {b.way.cut, a.way.cut},
					"find": {b.way.find, a.way.find}, "aside": {b.way.aside, a.way.aside},
				} {
					for k := range legs[0] {
						heldBy(t, rng, seed, stopName(st)+" "+name, &legs[0][k], legs[1], p.Axis, e)
					}
				}
				keysHeld(t, seed, st, a.way.keys, b.way.keys, p.Axis)
			}
			if len(all.moves) != len(one.moves) {
				continue // another one comes first at this height
			}
			for i, m := range all.moves {
				if m.unsure != "" || m.from != one.moves[i].from {
					continue
				}
				kinds[m.kind]++
				for k, with := range one.moves[i].carried {
					for g := range with.legs {
						heldBy(t, rng, seed, m.kind+" from "+m.from+" to "+m.to, &with.legs[g], m.carried[k].legs, p.Axis, e)
					}
				}
			}
		}
	}
	t.Log(kinds)
}

// keysHeld asserts that no axis goes farther at one height than over all.
func keysHeld(t testing.TB, seed uint64, st *stop, all, one []key, height int) {
	t.Helper()
	for i := range one {
		for k := range one[i].at {
			if k == height {
				continue
			}
			low, high := math.Inf(1), math.Inf(-1)
			for n := range all {
				if all[n].where == one[i].where {
					low, high = min(low, all[n].at[k]-all[n].within[k]), max(high, all[n].at[k]+all[n].within[k])
				}
			}
			if v, off := one[i].at[k], one[i].within[k]+1e-7; v < low-off || v > high+off {
				t.Fatalf("seed %d: %s: axis %d at %g, over all heights %g to %g", seed, stopName(st), k, v, low, high)
			}
		}
	}
}
