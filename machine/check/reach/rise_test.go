package reach

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// onRiser stands the block of a shop on a riser of so many mm, a straight block.
func (s shop) onRiser(t testing.TB, mm float64) shop {
	t.Helper()
	s["riser.stl"] = solidBox(-42, -28, 0, 42, 28, mm)
	s["riser.toml"] = fmt.Sprintf(`
kind = "component"
name = "riser"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "riser", file = "riser.stl", chord_error = 0 }]
seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0.05, height_tolerance = 0.02, parallelism = 0.03 }
grid = [{ name = "top", solid = "riser", origin = [-25, 0, %g], columns = 2, rows = 1, pitch = 50 }]
`, mm)
	return s.edit(t, "setup.toml", `{ name = "stock", component = "stock.toml", on = "unit/face", pins = ["A1", "B1"] }`,
		`{ name = "riser", component = "riser.toml", on = "unit/face", pins = ["A1", "B1"] },
  { name = "stock", component = "stock.toml", on = "riser/top", pins = ["A1", "B1"] }`)
}

// unitOnRiser stands the whole unit of a shop on a riser of so many mm.
func (s shop) unitOnRiser(t testing.TB, mm float64) shop {
	t.Helper()
	s["riser.stl"] = solidBox(-180, -45, 0, 180, 45, mm)
	s["riser.toml"] = fmt.Sprintf(`
kind = "component"
name = "riser"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "riser", file = "riser.stl", chord_error = 0 }]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], play = 0.05, height_tolerance = 0.02, parallelism = 0.03 }
grid = [{ name = "top", solid = "riser", origin = [-150, 0, %g], columns = 2, rows = 1, pitch = 300 }]
`, mm)
	return s.edit(t, "setup.toml", `{ name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] }`,
		`{ name = "riser", component = "riser.toml", on = "table", pins = ["B3", "H3"] },
  { name = "unit", component = "unit.toml", on = "riser/top", pins = ["A1", "B1"] }`)
}

// spaced returns the shop's setup with a spacer in place of its riser.
func (s shop) spaced(t testing.TB, from, to float64) *machine.Setup {
	t.Helper()
	files := fstest.MapFS{}
	for name, text := range s {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	d, err := machine.DraftFS(files, "setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	setup, err := d.Spacer("riser", from, to)
	if err != nil {
		t.Fatal(err)
	}
	return setup
}

// same returns a copy of the shop.
func (s shop) same() shop {
	c := shop{}
	for name, text := range s {
		c[name] = text
	}
	return c
}

// Whatever is called clear over a range of heights is sampled at many: with a riser of that
// height, read from its own files, tools may come nowhere nearer than demanded to anything, at
// features and between them. What is clear at all heights is clear to the full check of each.
func TestSpacersAgainstSampling(t *testing.T) {
	clears, all, whole := 0, 0, 0
	for n := range *shops {
		seed := *seed0 + uint64(n)
		rng := rand.New(rand.NewPCG(seed, 91))
		w := []func(testing.TB, *rand.Rand) shop{randomShop, windowShop, heightShop}[n%3](t, rng)
		if rng.IntN(2) == 0 && strings.Contains(w["machine.toml"], "travel = [0, 500]") {
			w.edit(t, "machine.toml", "travel = [0, 500]", "travel = [-100, 500]")
		}
		w.edit(t, "machine.toml", "spindle =", "offsets = { method = \"turned-by-control\", lengths = \"absolute\" }\nspindle =")
		from := 2 + 40*rng.Float64()
		to := from + []float64{0.1, 2, 10, 40}[rng.IntN(4)]*rng.Float64()
		on := shop.onRiser
		if rng.IntN(3) == 0 {
			on = shop.unitOnRiser
		}
		s := on(w.same(), t, 20).spaced(t, from, to)
		d := &s.Demand
		for _, mm := range []*float64{&d.Default, &d.Swing, &d.Rest, &d.Rapid, &d.Approach, &d.Cutting, &d.Holder, &d.Change} {
			*mm += 0.011 // what the check of a single height may not see
		}
		r := checked(t, s, Options{Jobs: 2, Tests: 30_000, Brief: true, Verdicts: true})
		for i := range r.Reach.Operations {
			for k := range r.Reach.Operations[i].Features {
				if all++; r.Reach.Operations[i].Features[k].Verdict == check.Clear {
					clears++
				}
			}
		}
		for i := range 4 {
			mm := []float64{from, to, from + (to-from)*rng.Float64(), from + (to-from)*rng.Float64()}[i]
			one := on(w.same(), t, mm).load(t)
			o := newOracle(t, one, r, seed)
			o.spaced()
			if r.Verdict != check.Clear {
				continue
			}
			if i > 1 {
				whole++
			}
			if alone := checked(t, one, Options{Jobs: 2, Tests: 200_000, Brief: true}); i > 1 && alone.Verdict != check.Clear {
				t.Errorf("seed %d: clear from %g to %g, at %g\n%s", seed, from, to, mm, summary(alone))
			}
		}
	}
	t.Logf("%d of %d features clear over their heights, %d whole setups looked at again", clears, all, whole)
	if clears*6 < all || clears == all || whole == 0 && *shops >= 30 {
		t.Errorf("%d of %d features are clear, %d setups: the shops are no test", clears, all, whole)
	}
}

// So it is on machines with other axes: a head that swivels, a unit that only tilts.
func TestSpacersOnOtherMachines(t *testing.T) {
	clears := 0
	for seed := range uint64(12) {
		rng := rand.New(rand.NewPCG(seed, 93))
		in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
		w, lean := fourAxes(t), "0, %g"
		if seed%2 == 0 {
			lean = "%g, 0"
			w = swivel(t).edit(t, "setup.toml", `on = "table", at = [0, 0, 0], within = 0`, `on = "unit/face", pins = ["A1", "B1"]`)
		}
		w.edit(t, "machine.toml", "spindle =", "offsets = { method = \"turned-by-control\", lengths = \"absolute\" }\nspindle =")
		w.operation("up", 1, "", fmt.Sprintf("[[operation.hole]]\nat = [[%g, %g, 0]]\naxis = [0, 0, 1]\ndepth = 5\ndepth_to = \"tip\"\n", in(-30, 30), in(-20, 20)))
		w.operation("askew", 2, "", fmt.Sprintf("[[operation.hole]]\nat = [[0, 0, 0]]\naxis = [%s, 1]\ndepth = %g\ndepth_to = \"tip\"\n", fmt.Sprintf(lean, in(-1, 1)), in(3, 20)))
		w.operation("along", 1, "", fmt.Sprintf("[[operation.contour]]\npoints = [[-30, 5, 1], [0, 0, 1], [30, -5, 1]]\naxes = [[%s, 1], [%s, 1], [%s, 1]]\ntip_control = %v\n",
			fmt.Sprintf(lean, in(-.5, .5)), fmt.Sprintf(lean, in(-.5, .5)), fmt.Sprintf(lean, in(-.5, .5)), rng.IntN(2) == 0))
		on := func(mm float64) shop {
			one := w.same().onRiser(t, mm)
			if seed%2 == 0 {
				one.edit(t, "setup.toml", `on = "unit/face", pins = ["A1", "B1"]`, `on = "table", pins = ["D3", "E3"]`)
			}
			return one
		}
		from := in(5, 40)
		to := from + []float64{0.2, 3, 20}[rng.IntN(3)]*rng.Float64()
		s := on(20).spaced(t, from, to)
		r := checked(t, s, Options{Jobs: 2, Tests: 30_000, Brief: true, Verdicts: true})
		for i := range r.Reach.Operations {
			if r.Reach.Operations[i].Verdict == check.Clear {
				clears++
			}
		}
		for _, mm := range []float64{from, to, in(from, to)} {
			newOracle(t, on(mm).load(t), r, seed).spaced()
		}
	}
	t.Logf("%d of 36 operations clear", clears)
	if clears < 12 {
		t.Errorf("%d of 36 operations are clear: the shops are no test", clears)
	}
}

// Where Z carries the workpiece and is home at the end of its travel, as on a machine whose spindle
// lies, a spacer on an upright face takes no leg beyond what is commanded, whatever is charged for
// the height.
func TestSpacerWhereTheTableDrawsBack(t *testing.T) {
	w := horizontal().edit(t, "machine.toml", "spindle =", "offsets = { method = \"turned-by-control\", lengths = \"absolute\" }\nspindle =")
	w["stock.toml"], w["block.stl"] = stockFile, solidBox(-40, -30, 0, 40, 30, 40)
	w["unit.stl"] = solidBox(-60, 0, -80, 60, 200, -40)
	w["unit.toml"] = `
kind = "component"
name = "upright"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "upright", file = "unit.stl", chord_error = 0 }]
grid = [{ name = "face", solid = "upright", origin = [-25, 80, -40], columns = 2, rows = 1, pitch = 50 }]
`
	w.edit(t, "setup.toml", `  { name = "stock", component = "stock.toml", on = "pallet", at = [0, 0, 0], within = 0 },`,
		`  { name = "unit", component = "unit.toml", on = "pallet", at = [0, 0, 0], within = 0 },
  { name = "stock", component = "stock.toml", on = "unit/face", pins = ["A1", "B1"] },`)
	w.operation("face", 1, "", "[[operation.hole]]\nat = [[10, 0, 40]]\naxis = [0, 0, 1]\ndepth = 5\ndepth_to = \"tip\"\n")
	w.operation("side", 2, "", "[[operation.hole]]\nat = [[40, 0, 30]]\naxis = [1, 0, 0]\ndepth = 5\ndepth_to = \"tip\"\n")
	r := checked(t, w.same().onRiser(t, 20).spaced(t, 20, 20.1), Options{Jobs: 2, Tests: 30_000, Brief: true, Verdicts: true})
	if r.Verdict != check.Clear {
		t.Error(summary(r))
	}
	for _, mm := range []float64{20, 20.07, 20.1} {
		newOracle(t, w.same().onRiser(t, mm).load(t), r, 1).spaced()
	}
	// What is commanded falls short of home: then something does go beyond.
	w.more("[commanded]\nZ = [0, 699.98]\n")
	if r = checked(t, w.same().onRiser(t, 20).spaced(t, 20, 20.1), Options{Jobs: 2, Tests: 30_000, Brief: true, Verdicts: true}); r.Verdict == check.Clear {
		t.Error("nothing is beyond what is commanded")
	}
}

// A position that is nearer but beyond what the setup commands is taken at no height: the other one
// is, and that is known.
func TestSpacerBesideWhatIsNotCommanded(t *testing.T) {
	w := newShop().edit(t, "machine.toml", "spindle =", "offsets = { method = \"turned-by-control\", lengths = \"absolute\" }\nspindle =")
	w.operation("back", 2, "", "[[operation.hole]]\nat = [[0, 30, -10]]\naxis = [0, 1, 0]\ndepth = 5\ndepth_to = \"tip\"\n")
	w.more("[commanded]\nA = [-20, 95]\n")
	one := w.same().onRiser(t, 15).load(t)
	r := checked(t, one, Options{Jobs: 2, Tests: 30_000})
	if at := r.Reach.Operations[0].Features[0].Presented[0]; r.Verdict != check.Clear || !at.Chosen || at.At[0].Value != 90 || math.Abs(at.At[1].Value) != 180 {
		t.Fatalf("A 90 is farther from home than A -90 and is to be chosen: %+v\n%s", at, summary(r))
	}
	for from, to := range map[float64]float64{10: 10.1, 12: 20} {
		r = checked(t, w.same().onRiser(t, 15).spaced(t, from, to), Options{Jobs: 2, Tests: 30_000, Brief: true, Verdicts: true})
		if r.Verdict != check.Clear {
			t.Errorf("%g to %g\n%s", from, to, summary(r))
		}
		newOracle(t, w.same().onRiser(t, (from+to)/2).load(t), r, 1).spaced()
	}
	// Where both are commanded it is the nearer one at every height.
	w.edit(t, "setup.toml", "A = [-20, 95]", "A = [-95, 95]")
	if r = checked(t, w.same().onRiser(t, 15).spaced(t, 10, 10.1), Options{Jobs: 2, Tests: 30_000, Brief: true, Verdicts: true}); r.Verdict != check.Clear {
		t.Error(summary(r))
	}
}

// spaced asserts what a report over many heights says of the one of the oracle's setup.
func (o *oracle) spaced() {
	sure := true
	for i := range o.s.Operations {
		op := &o.s.Operations[i]
		for k := range op.Features {
			said := &o.r.Reach.Operations[i].Features[k]
			if len(said.Travel) > 0 {
				o.feature(op, &op.Features[k], said, 4)
			}
		}
	}
	for _, m := range o.r.Reach.Moves {
		sure = sure && m.Reason != otherWay
	}
	if sure {
		o.journey()
	}
}

// At fixed rotary positions the linear axes change evenly with the height, as rise has it.
func TestRiseIsHowTheAxesFollow(t *testing.T) {
	s := newShop().onRiser(t, 20).tilted("side", 2).spaced(t, 10, 50)
	c := &checker{setup: s, options: Options{Brief: true}.Ready(DefaultTests)}
	c.trees = c.options.Trees
	c.prepare()
	c.present()
	st := c.stops[0]
	l := leader{c: c, st: st, solver: c.solvers[0], length: 120, way: new(way)}
	for _, rotary := range []motion.Params{{}, {3: 0.7, 4: 2}, {3: -1.4, 4: 5}} {
		l.rotary = rotary
		level := l.stand(st.feature.Tips[0])
		d := l.rise(level)
		for _, e := range []float64{-20, -3, 20} {
			l.rotary = rotary
			l.rotary[s.Spacer.Axis] = e
			want := l.stand(st.feature.Tips[0])
			for k := range s.Axes {
				nearly(t, s.Axes[k].Letter, level[k]+e*d[k], want[k], 1e-9)
			}
		}
	}
}
