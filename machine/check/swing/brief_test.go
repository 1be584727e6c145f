package swing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/models"
)

func TestDemoInBrief(t *testing.T) {
	for _, name := range []string{models.GoodSetup, models.BadSetup} {
		s, err := machine.LoadFS(models.Demo, name)
		if err != nil {
			t.Fatal(err)
		}
		full := check.NewReport(s)
		if err := Check(t.Context(), s, full, Options{}); err != nil {
			t.Fatal(err)
		}
		brief := briefly(t, s)
		shoptest.SameInBrief(t, full, brief, check.SwingConcern)
		if brief.Chart != nil || len(brief.Closest) > 0 {
			t.Errorf("%s: a brief report has a chart, or the nearest pairs", name)
		}
		if met := brief.Verdict == check.Contact; len(brief.Pairs) > len(full.Pairs) || !met && len(brief.Pairs) < len(full.Pairs) {
			t.Errorf("%s: %d pairs, want %d", name, len(brief.Pairs), len(full.Pairs))
		}
	}
}

// By hand: the block's underside is at 180, the cradle's top at 168, wherever A and C stand:
// 12 mm, and nothing else is as near that moves. Of 2 mm that is more than anybody asks for.
func TestTightestOfSwing(t *testing.T) {
	r := briefly(t, newShop().edit(t, "setup.toml", "rest = 0.5", "rest = 0.001, swing = 5").load(t))
	if len(r.Margins) != 1 {
		t.Fatalf("margins %+v", r.Margins)
	}
	m := r.Margins[0]
	if m.Concern != check.SwingConcern || m.Unit != "mm" || m.Demand != 5 || !strings.HasPrefix(m.What, "unit/cradle and stock at ") {
		t.Errorf("got %+v", m)
	}
	if m.Has > 12 || m.Has < 12*0.98-1e-9 || m.Share != m.Has/5 {
		t.Errorf("12 mm of 5 are there, got %+v", m)
	}
	r = briefly(t, newShop().load(t))
	if len(r.Margins) != 1 || r.Margins[0].Share != check.MostShare {
		t.Errorf("more than five times what is demanded: %+v", r.Margins)
	}
}

// Random shops: the tightest margin is never more than sampling finds, and hardly less.
func TestTightestAgainstSampling(t *testing.T) {
	contacts := 0
	for seed := range uint64(12) {
		rng := rand.New(rand.NewPCG(seed, 6))
		s := newShop()
		x, y, h := 30+55*rng.Float64(), 20+50*rng.Float64(), 10+60*rng.Float64()
		s["block.stl"] = solidBox(-x, -y, 0, x, y, h)
		s.edit(t, "setup.toml", "default = 2, rest = 0.5", fmt.Sprintf("default = %g, rest = 0.001", 1+8*rng.Float64()))
		s.edit(t, "setup.toml", "Z = 400", fmt.Sprintf("Z = %g", 380+60*rng.Float64()))
		// Rotary axes commanded about home, away from it, and to one position only.
		a := [][2]float64{{-90, 0}, {-100 + 60*rng.Float64(), -20}, {35, 35}, {10, 10 + 80*rng.Float64()}}[seed%4]
		c := [][2]float64{{0, 90}, {0, 360}, {30, 200}}[seed%3]
		s.edit(t, "setup.toml", "A = [-90, 0], C = [0, 90]", fmt.Sprintf("A = [%g, %g], C = [%g, %g]", a[0], a[1], c[0], c[1]))
		setup, full := s.check(t)
		r := briefly(t, setup)
		if full.Verdict == check.Contact {
			contacts++
		}
		if len(r.Margins) != 1 {
			t.Fatalf("seed %d: margins %+v", seed, r.Margins)
		}
		got, sampled := r.Margins[0].Share, sampledShare(setup, rng)
		if got > sampled+1e-6 {
			t.Errorf("seed %d: a share of %.4f, and sampling finds %.4f: %s", seed, got, sampled, r.Margins[0].What)
		}
		if got < 0.97*sampled-0.005 {
			t.Errorf("seed %d: a share of %.4f only, and sampling finds no less than %.4f: %s", seed, got, sampled, r.Margins[0].What)
		}
	}
	if contacts > 6 {
		t.Errorf("%d of 12 shops are in contact: they are no test", contacts)
	}
}

// sampledShare is the least share of all pairs at many positions, the best of them made
// better by small steps.
func sampledShare(s *machine.Setup, rng *rand.Rand) float64 {
	least := check.MostShare
	trees := map[*machine.Solid]*collide.Tree{}
	for i := range s.Bodies {
		if b := &s.Bodies[i]; trees[b.Solid] == nil {
			trees[b.Solid] = collide.NewTree(b.Solid.Mesh)
		}
	}
	c := &checker{setup: s, trees: (&Options{}).Ready(0).Trees}
	for _, p := range plan(s, c.trees) {
		if p.mating != nil {
			continue
		}
		distance := func(at motion.Params) float64 {
			rel := s.Pose(p.a, at).Inverse().Mul(s.Pose(p.b, at))
			return collide.Distance(trees[s.Bodies[p.a].Solid], trees[s.Bodies[p.b].Solid], rel).Distance
		}
		best, near := p.Over.Lo, math.Inf(1)
		try := func(at motion.Params) {
			for k := range at {
				at[k] = min(max(at[k], p.Over.Lo[k]), p.Over.Hi[k])
			}
			if d := distance(at); d < near {
				best, near = at, d
			}
		}
		for range 300 {
			at := p.Over.Lo
			for k := range at {
				at[k] += (p.Over.Hi[k] - p.Over.Lo[k]) * rng.Float64()
			}
			try(at)
		}
		for step := 0.1; step > 1e-5; step *= 0.8 {
			for range 12 {
				at := best
				for k := range at {
					at[k] += (p.Over.Hi[k] - p.Over.Lo[k]) * step * rng.NormFloat64()
				}
				try(at)
			}
		}
		least = min(least, near/p.Demand)
	}
	return least
}
