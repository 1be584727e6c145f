package reach

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"

	"gridswing/machine/check"
)

var (
	shops = flag.Int("shops", 30, "random shops to hold against sampling")
	seed0 = flag.Uint64("shop", 0, "seed of the first random shop")
)

// Whatever reach calls clear is sampled: tools may come nowhere nearer than demanded
// to anything, location uncertainty at random extremes included.
func TestShopsAgainstSampling(t *testing.T) {
	clears, all, asked := 0, 0, 0
	for n := range *shops {
		seed := *seed0 + uint64(n)
		w := randomShop(t, rand.New(rand.NewPCG(seed, 5)))
		s := w.load(t)
		r := checked(t, s, Options{Jobs: 2, Tests: 200_000})
		o := newOracle(t, s, r, seed)
		for i := range s.Operations {
			op := &s.Operations[i]
			for k := range op.Features {
				said := &r.Reach.Operations[i].Features[k]
				all++
				if said.Verdict == check.Clear {
					clears++
				}
				if len(said.Travel) == 0 { // nothing was looked at
					continue
				}
				o.feature(op, &op.Features[k], said, 12)
			}
		}
		asked += o.asked
	}
	t.Logf("%d of %d features clear, %d distances taken", clears, all, asked)
	if clears*5 < all || clears == all {
		t.Errorf("%d of %d features are clear: the shops are no test", clears, all)
	}
}

// randomShop draws a shop: a machine with a trunnion, or one that turns its table or
// its head, with some blocks about and operations of all kinds.
func randomShop(t testing.TB, r *rand.Rand) shop {
	w := newShop()
	switch r.IntN(4) {
	case 0:
		w.edit(t, "machine.toml", `home = 500 }`, `home = 500, accuracy = 0.02 }`)
		w.edit(t, "unit.toml", `travel = [-100, 100]`, `travel = [-100, 100], accuracy = 0.05`)
	case 1:
		w.edit(t, "stock.toml", "play = 0", "play = 0.1, height_tolerance = 0.05")
		w.edit(t, "tools.toml", "stick_out = 40", "stick_out = 40, within = 0.1")
	case 2:
		w.edit(t, "machine.toml", `file = "head.stl", carried_by = "Z", chord_error = 0`, `file = "head.stl", carried_by = "Z", chord_error = 0.2`)
	}
	if r.IntN(3) == 0 {
		w.edit(t, "setup.toml", "default = 2", "default = 2, holder = 3, approach = 1, cutting = 0.5, rapid = 4")
	}
	for i := range r.IntN(4) {
		// Towers beside the block, on the faceplate or on the table.
		x, y := 25+float64(r.IntN(140)-70), float64(r.IntN(120)-60)
		if -20 < x && x < 70 && -36 < y && y < 36 {
			y += 72
		}
		size := 3 + 12*r.Float64()
		if r.IntN(2) == 0 {
			w.box(t, fmt.Sprintf("tower%d", i), "unit/face", x, y, 0, x+size, y+size, 20+80*r.Float64(), 0.1*float64(r.IntN(2)))
		} else {
			w.box(t, fmt.Sprintf("tower%d", i), "table", 3*x-75, 2*y, 30, 3*x-75+size, 2*y+size, 100+250*r.Float64(), 0)
		}
	}
	for i := range 1 + r.IntN(3) {
		randomOperation(w, r, fmt.Sprintf("op%d", i))
	}
	return w
}

func randomOperation(w shop, r *rand.Rand, name string) {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	// A face of the block: a point on it and the axis out of it.
	x, y, z := in(-35, 35), in(-25, 25), in(-35, -5)
	at, axis := fmt.Sprintf("[%g, %g, 0]", x, y), "[0, 0, 1]"
	switch r.IntN(6) {
	case 0:
		at, axis = fmt.Sprintf("[40, %g, %g]", y, z), "[1, 0, 0]"
	case 1:
		at, axis = fmt.Sprintf("[%g, -30, %g]", x, z), "[0, -1, 0]"
	case 2:
		at, axis = fmt.Sprintf("[%g, %g, 0]", x, y), fmt.Sprintf("[%g, %g, 1]", in(-1, 1), in(-1, 1))
	}
	keys := fmt.Sprintf("approach = %g\nretract = %g\n", in(2.5, 6), in(8, 40))
	switch r.IntN(6) {
	case 0:
		w.operation(name, 9, keys, fmt.Sprintf("[[operation.touch]]\nat = [%s]\naxis = [0, 0, 1]\ntoward = [0, 0, -1]\nstart = 4\nsearch = 2\n", fmt.Sprintf("[%g, %g, 0]", x, y)))
	case 1:
		w.operation(name, 3, keys, "[[operation.face]]\nfrom = [-40, -30, 0]\nto = [40, 30, -1]\naxis = [0, 0, 1]\noverrun = 1\n")
	case 2:
		w.operation(name, 1, keys, fmt.Sprintf("[[operation.pocket]]\nfrom = [-20, -15, 0]\nto = [20, 15, -%g]\naxis = [0, 0, 1]\n", in(2, 26)))
	case 3:
		w.operation(name, 1, keys, fmt.Sprintf("[[operation.face]]\npoints = [[-50, %g, -3], [50, %g, -3], [50, %g, -5]]\naxis = [0, 0, 1]\n", y, y, -y))
	case 4:
		w.operation(name, 1, keys, fmt.Sprintf("[[operation.contour]]\npoints = [[-30, %g, -1], [0, %g, -2], [35, %g, -1]]\naxes = [[%g, %g, 1], [%g, 0.1, 1], [%g, %g, 1]]\ntip_control = %v\n",
			y, y, -y, in(-.5, .5), in(-.5, .5), in(-.5, .5), in(-.5, .5), in(-.5, .5), r.IntN(2) == 0))
	default:
		tool := 1 + r.IntN(2)
		w.operation(name, tool, keys, fmt.Sprintf("[[operation.hole]]\nat = [%s]\naxis = %s\ndepth = %g\ndepth_to = \"tip\"\n", at, axis, in(2, 35)))
	}
}
