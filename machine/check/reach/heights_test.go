package reach

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// tilted is a hole in the front side: the unit tilts by 90 degrees to present it.
func (s shop) tilted(name string, tool int) shop {
	return s.operation(name, tool, "positions = { A = 90, C = 0 }\n", "[[operation.hole]]\nat = [[0, -30, -20]]\naxis = [0, -1, 0]\ndepth = 5\ndepth_to = \"tip\"\n")
}

// Over everything commanded, the highest corner of what turns about A is as far above it as
// from it: the block's corner, 40 and 30 from C, 20 above A, is sqrt(40^2 + 30^2) = 50
// from C and, C being anywhere, sqrt(50^2 + 20^2) = 53.85 from A where A goes far enough.
// With A up to t only, it is 50 sin t + 20 cos t above, for t below atan(50/20) = 68.2.
// The tool, 110 below the gauge line, must be 2 above that.
func TestFullHeightByHand(t *testing.T) {
	for _, tilt := range []float64{30, 50, 68.2, 90} {
		s := newShop().edit(t, "setup.toml", "part = [", fmt.Sprintf("commanded = { A = [%g, %g] }\npart = [", -tilt, tilt)).
			edit(t, "machine.toml", `  { name = "column", role = "column", file = "column.stl", carried_by = "bed", chord_error = 0 },`, "").
			edit(t, "machine.toml", `"changer",`, `"changer", "column",`)
		s["base.stl"] = solidBox(-170, -40, 0, 170, 40, 20)
		s.hole("first", 1, "[0, 0, 0]", upward, 5).operation("second", 1, "", "[[operation.hole]]\nat = [[0, 0, 0]]\naxis = [0, -0.4, 1]\ndepth = 5\ndepth_to = \"tip\"\n")
		_, r := s.check(t)
		m := moveTo(t, r, check.IndexMove, "second")
		rad := math.Min(tilt, 68.1985905136482) * math.Pi / 180
		want := 200 + 50*math.Sin(rad) + 20*math.Cos(rad) + 2 + 110
		if m.FullHeight == nil || m.Height == nil {
			t.Fatalf("tilt %g: %+v\n%s", tilt, m, summary(r))
		}
		if *m.FullHeight < want-1e-6 || *m.FullHeight > want+3 {
			t.Errorf("tilt %g: full height %g, want %g", tilt, *m.FullHeight, want)
		}
		if *m.Height > *m.FullHeight+1 {
			t.Errorf("tilt %g: %g for one move, %g for all", tilt, *m.Height, *m.FullHeight)
		}
	}
}

// Where Z home is too low it is said how much higher would do: a tower of 350 on the table,
// under a tool of 110 with the gauge line at 450 at most: 12 short of the 2 demanded.
func TestHomeTooLow(t *testing.T) {
	_, r := newShop().edit(t, "machine.toml", "[0, 500], home = 500", "[0, 450], home = 450").
		box(t, "tower", "table", -300, -300, 340, 300, 300, 350, 0).tilted("op", 1).check(t)
	m := moveTo(t, r, check.IndexMove, "op")
	if m.Verdict != check.Contact || m.Height != nil || m.Short == nil {
		t.Fatalf("%v, height %v, short %v\n%s", m.Verdict, m.Height, m.Short, summary(r))
	}
	if *m.Short < 12-1e-6 || *m.Short > 14 {
		t.Errorf("%g short, want 12", *m.Short)
	}
	if !strings.Contains(m.HeightBy, "tower") || !strings.Contains(summary(r), "Z home is too low") {
		t.Errorf("by %q\n%s", m.HeightBy, summary(r))
	}
}

// heightShop draws a shop that indexes, with posts about.
func heightShop(t testing.TB, r *rand.Rand) shop {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	w := newShop()
	for i := range r.IntN(4) {
		x, y := in(-200, 200), in(-120, 120)
		w.box(t, fmt.Sprintf("post%d", i), "table", x, y, 235, x+20, y+20, in(240, 420), 0.2*float64(r.IntN(2)))
	}
	if r.IntN(2) == 0 {
		w.edit(t, "machine.toml", "spindle =", "rapid = \"interpolated\"\nspindle =")
	}
	if r.IntN(2) == 0 {
		w.edit(t, "unit.toml", "unlimited = true", "unlimited = true, roll_over = \"shorter\"")
	}
	if r.IntN(3) == 0 {
		w.more(fmt.Sprintf("\n[index]\nX = %g\nY = %g\n", in(-250, 250), in(-150, 150)))
	}
	w.hole("first", 1, "[0, 0, 0]", upward, 5)
	w.tilted("second", 1+r.IntN(2))
	w.operation("third", 1, "", fmt.Sprintf("[[operation.hole]]\nat = [[0, 0, 0]]\naxis = [%g, %g, 1]\ndepth = 5\ndepth_to = \"tip\"\n", in(-1, 1), in(-1, 1)))
	return w
}

// Every height from the one that is told up to home is clear over the move that it is told
// of: sampled, where axes turn either way round and X and Y arrive when they like.
func TestHeightsHold(t *testing.T) {
	heights := 0
	for seed := range uint64(*shops / 3) {
		rng := rand.New(rand.NewPCG(seed+*seed0, 3))
		w := heightShop(t, rng)
		s := w.load(t)
		r := checked(t, s, Options{Jobs: 2, Tests: 200_000})
		o := newOracle(t, s, r, seed+*seed0)
		at := home(s)
		for i := range s.Operations {
			op := &s.Operations[i]
			said := &r.Reach.Operations[i].Features[0]
			enter, leave, _ := o.way(op, &op.Features[0], params(s, said.Presented[0].At), 1)
			for k := range r.Reach.Moves {
				if m := &r.Reach.Moves[k]; m.Kind == check.IndexMove && m.To == op.Name && m.Height != nil {
					heights++
					o.heights(op.Tool, at, enter, *m.Height, m)
				}
			}
			at = leave
		}
	}
	if heights < 10 {
		t.Errorf("only %d heights", heights)
	}
}

// heights samples an index at all heights from one up to home.
func (o *oracle) heights(tool int, from, to motion.Params, height float64, m *check.Move) {
	side := o.side(tool)
	for range 60 {
		p := o.turning(from, to)
		z := o.axis("Z")
		p[z] = o.between(height, o.s.Axes[z].Home)
		for i := range side {
			for k := range o.s.Bodies {
				b := &o.s.Bodies[k]
				if b.OnTool || b.Unit == side[i].Unit {
					continue
				}
				demand, _ := o.s.Demand.For(machine.Swing, side[i].Name, b.Name)
				if left := o.left(&side[i].Body, b, p, demand); left < -1e-4 {
					o.t.Fatalf("seed %d: index to %s, said to be clear from Z %g on: %s and %s are %g nearer than %g at %v\n%s",
						o.seed, m.To, height, side[i].Name, b.Name, -left, demand, p, summary(o.r))
				}
			}
		}
	}
}

func (o *oracle) axis(letter string) int {
	for k := range o.s.Axes {
		if o.s.Axes[k].Letter == letter {
			return k
		}
	}
	o.t.Fatalf("no axis %s", letter)
	return -1
}

// turning draws a position on an index from one position to another: X and Y where the setup
// has them index, C the shorter way or, where nothing says so, either.
func (o *oracle) turning(from, to motion.Params) motion.Params {
	for k, a := range o.s.Axes {
		switch {
		case a.Kind == motion.Linear && a.Index != nil:
			from[k], to[k] = *a.Index, *a.Index
		case a.Unlimited && a.RollOver != machine.ByValue:
			d := math.Remainder(to[k]-from[k], 2*math.Pi)
			if a.RollOver == machine.EitherWay && math.Abs(d) > 1e-9 && o.rng.IntN(2) == 0 {
				d -= math.Copysign(2*math.Pi, d)
			}
			to[k] = from[k] + d
		}
	}
	s := o.between(0, 1)
	p := from
	for k := range p {
		if o.s.Rapid != machine.Interpolated {
			s = o.between(0, 1)
		}
		p[k] += s * (to[k] - from[k])
	}
	return p
}
