package choose

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"slices"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/check/proof"

	"pgregory.net/rapid"
)

// choices looks at seats of the riser, or at stacks of risers.
func choices(t testing.TB, s shop, risers bool, o Options) *Choice {
	t.Helper()
	store := machine.NewStoreFS(s.fs())
	d, err := store.Draft("setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	var c *Choice
	if risers {
		cat, e := store.Catalogue(s.catalogue()...)
		if e != nil {
			t.Fatal(e)
		}
		c, err = Risers(context.Background(), d, "", cat, 2, o)
	} else {
		c, err = Seats(context.Background(), d, "riser", nil, o)
	}
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// shops is how many random shops the slow tests look at.
var shops = flag.Int("shops", 10, "how many random shops candidates are looked at in; of a short run no more than 2")

func howMany() int {
	if testing.Short() {
		return min(2, *shops)
	}
	return *shops
}

// TestAnswersAreThoseOfTheFullCheck writes candidates' files, loads and checks them as the
// command line does, and compares verdicts concern by concern, and margins: both are proven
// and no more than a fiftieth or 0.02 mm below what there is.
func TestAnswersAreThoseOfTheFullCheck(t *testing.T) {
	verdicts := map[check.Verdict]int{}
	for i := range howMany() {
		z := rapid.Custom(drawn).Example(i)
		s := z.shop()
		c := choices(t, s, i%2 == 0, Options{All: true})
		for k := range 3 {
			l := &c.Candidates[(k+1)*len(c.Candidates)/4]
			if l.GivenUp != "" || l.Faulty {
				t.Fatalf("shop %d, %s: given up %q, faulty %v: %s", i, l.Name, l.GivenUp, l.Faulty, l.Reason)
			}
			alone := s.with(&l.Candidate)
			compare(t, l, alone.fromScratch(t), alone.briefly(t, s.draft(t), &l.Candidate))
			verdicts[l.Verdict]++
		}
	}
	if !testing.Short() && len(verdicts) < 3 {
		t.Errorf("hardly anything was tried: %v", verdicts)
	}
}

// TestHowFarOffAPartIsCounts holds the margin of what is known of a part only once the positions
// are at which tools are used: how far off it can be before it is probed.
func TestHowFarOffAPartIsCounts(t *testing.T) {
	z := &sizes{tilt: 100, out: 55, demand: 0.5, from: -30, to: 90, down: 10, heights: []float64{20, 30}}
	s := z.shop()
	shoptest.Edit(t, s, "setup.toml", `at = [0, 0, 40] }]`, `at = [0, 0, 40], unprobed_within = 0.2 }]`)
	for _, risers := range []bool{false, true} {
		c := choices(t, s, risers, Options{All: true})
		l := c.Recommended()
		if l == nil {
			t.Fatalf("nothing is good: %+v", c.Candidates)
		}
		if m := l.Judged[0].Margin; m == nil || m.Concern != check.StackConcern || m.Has != 0.2 || m.Share < 1 {
			t.Errorf("%s: 0.2 mm are allowed before it is probed, and the margin is %+v", l.Name, m)
		}
		alone := s.with(&l.Candidate)
		compare(t, l, alone.fromScratch(t), alone.briefly(t, s.draft(t), &l.Candidate))
	}
}

// compare holds what was found of a candidate to the full check and to the brief one.
func compare(t testing.TB, l *Looked, full, brief *check.Report) {
	t.Helper()
	if l.Verdict != full.Verdict {
		t.Fatalf("%s: %v (%s), checked alone %v", l.Name, l.Verdict, l.Reason, full.Verdict)
	}
	byFull, byBrief := full.Judge(), brief.Judge()
	for _, j := range l.Judged {
		k := slices.IndexFunc(byFull, func(o check.Judged) bool { return o.Concern == j.Concern })
		if byFull[k].Verdict != j.Verdict {
			t.Fatalf("%s, %s: %v, checked alone %v", l.Name, j.Concern, j.Verdict, byFull[k].Verdict)
		}
		if a, b := j.Margin, byBrief[k].Margin; (a == nil) != (b == nil) {
			t.Fatalf("%s, %s: margin %+v, alone %+v", l.Name, j.Concern, a, b)
		} else if a != nil && !alike(a, b) {
			t.Fatalf("%s, %s: margin %+v, alone %+v", l.Name, j.Concern, a, b)
		}
	}
}

// alike reports whether two margins can be of the same thing.
func alike(a, b *check.Margin) bool {
	off := 0.021 * max(a.Share, b.Share)
	if a.Demand > 0 {
		off = max(off, 0.021/a.Demand)
	}
	return a.Share-b.Share <= off && b.Share-a.Share <= off
}

// TestSharingChangesNothing looks at candidates one by one, each with trees of its own, with
// one goroutine and with four, and to the end or only as far as it takes.
func TestSharingChangesNothing(t *testing.T) {
	for i := range howMany() {
		s := rapid.Custom(drawn).Example(100 + i).shop()
		risers, rule := i%2 == 1, Rules()[i%3]
		one := choices(t, s, risers, Options{Rule: rule, Options: proof.Options{Jobs: 1}})
		if four := choices(t, s, risers, Options{Rule: rule, Options: proof.Options{Jobs: 4}}); !bytes.Equal(asJSON(t, one), asJSON(t, four)) {
			t.Fatalf("shop %d: one goroutine:\n%s\nfour:\n%s", i, asJSON(t, one), asJSON(t, four))
		}
		all := choices(t, s, risers, Options{Rule: rule, All: true})
		if !slices.Equal(one.Best, all.Best) {
			t.Fatalf("shop %d, rule %s: best %v, of all %v\n%s\n%s", i, rule, one.Best, all.Best, asJSON(t, one), asJSON(t, all))
		}
		d := s.draft(t)
		for k := range all.Candidates {
			a, b := &all.Candidates[k], &one.Candidates[k]
			if b.GivenUp == noGood && a.Good() {
				t.Fatalf("shop %d: %s was given up for %v (%s) and is good", i, a.Name, b.Verdict, b.Reason)
			}
			if k%3 > 0 {
				continue
			}
			alone, err := Look(context.Background(), d, a.Candidate, Options{})
			if err != nil || alone.Verdict != a.Verdict || alone.Share() != a.Share() {
				t.Fatalf("shop %d, %s: alone %v %g, among others %v %g (%v)", i, a.Name, alone.Verdict, alone.Share(), a.Verdict, a.Share(), err)
			}
		}
	}
}

func asJSON(t testing.TB, c *Choice) []byte {
	t.Helper()
	data, err := json.MarshalIndent(c, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return data
}
