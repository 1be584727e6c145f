package reach

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// By hand: the block is 40 high and stands on the faceplate. A drill that goes 35 deep stays 5
// above it, of 2 that are demanded: a share of 2.5. In Z, at depth, the gauge line is 120 above
// the tip, at 220 - 35 + 120 = 305; at the retract height 25 above the block it is at 365, 135
// from the end of its travel.
func TestTightestByHand(t *testing.T) {
	r := briefly(t, newShop().hole("drill", 2, "0, 0, 0", "[0, 0, 1]", 35).load(t), Options{})
	margin := func(concern string) check.Margin {
		for _, m := range r.Margins {
			if m.Concern == concern {
				return m
			}
		}
		t.Fatalf("nothing is told of %s: %+v", concern, r.Margins)
		return check.Margin{}
	}
	m := margin(check.ReachConcern)
	if m.Share > 2.5 || m.Share < 2.5*0.98-1e-9 || m.Demand != 2 || m.Unit != "mm" || math.Abs(m.Has-2*m.Share) > 1e-9 ||
		m.What != "T2 cutting part and unit/faceplate at A +0, C +0, drill" {
		t.Errorf("5 mm of 2: %+v", m)
	}
	if m := margin(check.ChangeConcern); m.Share != check.MostShare || m.What != check.Plenty {
		t.Errorf("far from everything: %+v", m)
	}
	if m := margin(check.TravelConcern); m.Share != check.MostShare {
		t.Errorf("more than 5 mm of 1 are left: %+v", m)
	}
	// A hole that the axes cannot get to by 30 mm: travel in X is 300 either way.
	r = briefly(t, newShop().hole("drill", 2, "330, 0, 0", "[0, 0, 1]", 5).load(t), Options{})
	if m := margin(check.TravelConcern); math.Abs(m.Share+30) > 1e-9 || math.Abs(m.Has+30) > 1e-9 || m.Demand != 1 || !strings.HasPrefix(m.What, "X at ") {
		t.Errorf("30 beyond the travel: %+v", m)
	}
}

// Random shops: in brief all concerns have the verdicts of the full check, and no margin is more
// than sampling finds at the features.
func TestBriefShopsAgainstSampling(t *testing.T) {
	told, near := 0, 0
	for n := range *shops {
		seed := *seed0 + uint64(n)
		s := randomShop(t, rand.New(rand.NewPCG(seed, 5))).load(t)
		full := check.NewReport(s)
		if err := Check(t.Context(), s, full, Options{Tests: 2_000_000}); err != nil {
			t.Fatal(err)
		}
		brief := briefly(t, s, Options{Tests: 2_000_000})
		shoptest.SameInBrief(t, full, brief, reachConcerns...)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
		o := newOracle(t, s, brief, seed)
		sampled, which := o.leastShare(12)
		for _, m := range brief.Margins {
			if m.Concern != check.ReachConcern {
				continue
			}
			told++
			if m.Share > sampled+1e-6 {
				t.Fatalf("seed %d: a share of %.5f is told (%s), and %s has %.5f", seed, m.Share, m.What, which, sampled)
			}
			if m.Share > 0 && m.Share > 0.8*sampled {
				near++
			}
		}
	}
	if told < *shops/2 || near < told/8 {
		t.Errorf("%d margins told, %d near what sampling finds", told, near)
	}
}

// leastShare samples the ways to all features for the least share that any two bodies have of
// what is demanded of them, no more than MostShare.
func (o *oracle) leastShare(n int) (least float64, which string) {
	least = check.MostShare
	for i := range o.s.Operations {
		op := &o.s.Operations[i]
		for k := range op.Features {
			f, said := &op.Features[k], &o.r.Reach.Operations[i].Features[k]
			if len(said.Travel) == 0 {
				continue
			}
			_, _, list := o.way(op, f, params(o.s, said.Presented[0].At), n)
			side := o.side(op.Tool)
			for a := range side {
				for b := range o.s.Bodies {
					if share := o.shareOver(op, f, &side[a], &o.s.Bodies[b], list, least); share < least {
						least, which = share, side[a].Name+" and "+o.s.Bodies[b].Name+" at "+op.Name
					}
				}
			}
		}
	}
	return least, which
}

// shareOver is the least share of two bodies at some samples of a way, as far as it is less
// than the least so far.
func (o *oracle) shareOver(op *machine.Operation, f *machine.Feature, a *machine.ToolBody, b *machine.Body, list []sample, least float64) float64 {
	if b.OnTool || a.Unit == b.Unit {
		return least
	}
	kind, exempt := machine.DemandHolder, false
	switch own := b.Unit == o.s.Parts[op.Part].Unit; {
	case own && (a.Zone == tooling.Cutting || a.Zone == tooling.Neck && (len(f.Axes) == 1 || f.Search != (r3.Vector{}))):
		kind, exempt = machine.DemandApproach, true
	case a.Zone == tooling.Cutting:
		kind = machine.DemandCutting
	}
	demand, _ := o.s.Demand.For(kind, a.Name, b.Name)
	for _, x := range list {
		if exempt && x.fed {
			continue
		}
		least = min(least, o.distance(&a.Body, b, x.p, least*demand)/demand)
	}
	return least
}

// distance is that of two bodies at a position, chord errors and a random play taken off, as
// far as it is less than a limit; 0 if they meet or one is within the other.
func (o *oracle) distance(a, b *machine.Body, p motion.Params, limit float64) float64 {
	off := o.slack(a.Chain, b.Chain)
	rel := posed(a.Chain, p, off).Inverse().Mul(posed(b.Chain, p, off))
	back := rel.Inverse()
	ta, tb := o.tree(a.Solid), o.tree(b.Solid)
	if tb.Contains(back.Point(a.Solid.Audit.Shells[0].Point)) || ta.Contains(rel.Point(b.Solid.Audit.Shells[0].Point)) {
		return 0
	}
	chord := a.Solid.ChordError + b.Solid.ChordError
	near := collide.DistanceWithin(ta, tb, rel, limit+chord)
	return max(0, min(limit, near.Distance-chord))
}
