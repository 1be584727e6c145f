package choose

import (
	"context"
	"flag"
	"math/rand/v2"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/proof"

	"github.com/google/go-cmp/cmp"
)

var heightShops = flag.Int("heightshops", 8, "random shops whose heights are held against risers read from files")

// heightsOf finds the heights of the riser of a shop that has one.
func heightsOf(t testing.TB, w sideShop, from, to float64, jobs int) *Heights {
	t.Helper()
	h, err := FindHeights(context.Background(), w.draft(t), "riser", from, to, Options{Options: proof.Options{Jobs: jobs}})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// No height within a good stretch fails: risers of such heights, read from files of their own,
// are clear to the full check. What is told of a single height is what that says, too.
func TestHeightsAgainstRisers(t *testing.T) {
	count := map[string]int{}
	shops := *heightShops
	if testing.Short() {
		shops = min(3, shops)
	}
	for seed := range uint64(shops) {
		rng := rand.New(rand.NewPCG(seed, 17))
		w := heightShop(t, rng)
		from := 4 + 20*rng.Float64()
		to := from + 5 + 75*rng.Float64()
		on := sideShop.onRiser
		if seed%3 == 2 {
			on = sideShop.unitOnRiser
		}
		riser := func(mm float64) sideShop { return on(w.same(), t, mm) }
		h := heightsOf(t, riser(20), from, to, 2)
		end := from
		for _, st := range h.Stretches {
			if st.From != end || st.To <= st.From {
				t.Fatalf("seed %d: stretches do not follow each other: %+v", seed, h.Stretches)
			}
			end = st.To
			count[st.State]++
			if st.Good() {
				for _, mm := range []float64{st.From, st.To, st.From + (st.To-st.From)*rng.Float64(), st.From + (st.To-st.From)*rng.Float64()} {
					if v, why, _ := alone(t, riser(mm).load(t)); v != check.Clear {
						t.Errorf("seed %d: good from %g to %g, at %g %v: %s", seed, st.From, st.To, mm, v, why)
					}
				}
			} else if st.At != nil {
				v, why, each := alone(t, riser(*st.At).load(t))
				if st.Verdict != check.Clear && each[st.Concern] != st.Verdict || v == check.Clear {
					t.Errorf("seed %d: %g mm is %v for %s (%s), alone %v (%s)", seed, *st.At, st.Verdict, st.Concern, st.Reason, v, why)
				}
			}
			if st.State == UnprovenHeights && st.To-st.From > heightStep+1e-6 {
				t.Logf("seed %d: unproven from %g to %g: %s", seed, st.From, st.To, st.Reason)
				count["wide"]++
			}
		}
		if end != to {
			t.Errorf("seed %d: stretches end at %g of %g", seed, end, to)
		}
	}
	t.Log(count)
	if count[GoodHeights] < shops/4 || count[FailingHeights] < shops/4 {
		t.Errorf("%v: the shops are no test", count)
	}
	if count["wide"] > count[GoodHeights]/2 {
		t.Errorf("%v: too much is left unproven", count)
	}
}

// The answer is the same for any number of goroutines, and a single height is a stretch.
func TestHeightsAreTheSameForAnyJobs(t *testing.T) {
	w := heightShop(t, rand.New(rand.NewPCG(3, 17))).onRiser(t, 20)
	one, four := heightsOf(t, w, 60, 75, 1), heightsOf(t, w, 60, 75, 4)
	if diff := cmp.Diff(one, four); diff != "" {
		t.Error(diff)
	}
	if len(one.Stretches) < 3 {
		t.Errorf("no end was looked for: %+v", one.Stretches)
	}
	if h := heightsOf(t, w, 12, 12, 1); len(h.Stretches) != 1 || h.Stretches[0].From != 12 || h.Stretches[0].To != 12 {
		t.Errorf("%+v", h.Stretches)
	}
}

// Broken off, the search says what it knows, and that it was.
func TestHeightsBrokenOff(t *testing.T) {
	w := newSideShop().holes("op", upper)
	d := w.onRiser(t, 20).draft(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	h, err := FindHeights(ctx, d, "riser", 10, 30, Options{})
	if err != nil || !h.Interrupted || len(h.Stretches) != 1 || h.Stretches[0].State != UnprovenHeights || h.Lowest != nil {
		t.Errorf("%v: %+v", err, h)
	}
}
