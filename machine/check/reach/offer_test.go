package reach

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
)

func offers(t testing.TB, s *machine.Setup, o Options) []Offer {
	t.Helper()
	list, err := Offers(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// offered counts what was offered.
type offered struct {
	stands, twoSides int
	verdicts         map[check.Verdict]int
}

// asChecked holds every position that is offered to a check of a program that stands there.
func (n *offered) asChecked(t *testing.T, what string, s *machine.Setup) {
	t.Helper()
	options := Options{Jobs: 2, Tests: 200_000}
	list := offers(t, s, options)
	for k, more := 0, true; more; k++ {
		more = false
		chosen := make([]int, len(list))
		for i := range list {
			chosen[i] = min(k, len(list[i].Stands)-1)
			more = more || k+1 < len(list[i].Stands)
		}
		r := checked(t, At(s, list, chosen), options)
		for i := range list {
			if k > chosen[i] {
				continue
			}
			stand, said := &list[i].Stands[k], &r.Reach.Operations[i].Features[0]
			n.stands++
			n.verdicts[stand.Verdict]++
			if said.Verdict != stand.Verdict {
				t.Errorf("%s, %s at %v: offered as %v (%s), checked %v (%s)", what, said.Name, stand.Rotary, stand.Verdict, stand.Why, said.Verdict, said.Reason)
			}
		}
	}
	for i := range list {
		above, below := 0, 0
		for k := range list[i].Stands {
			if a, b := list[i].Stands[k].Above, list[i].Stands[k].Below; a && !b {
				above++
			} else if b && !a {
				below++
			}
		}
		if above > 0 && below > 0 {
			n.twoSides++
		}
	}
}

// Of every position that is offered the same is said as when a program stands there and it is
// looked at by itself: in shops of all kinds, parts that were found turned among them.
func TestOffersAreAsChecked(t *testing.T) {
	n := offered{verdicts: map[check.Verdict]int{}}
	for seed := range uint64(30) {
		w := randomShop(t, rand.New(rand.NewPCG(seed, 5)))
		if seed%3 == 0 {
			w.keyed("per-position", "[0.5, -0.4, 0.3]", "[0.1, -0.2, 0.3]")
		}
		n.asChecked(t, fmt.Sprintf("seed %d", seed), w.load(t))
	}
	t.Logf("%d stands, %v, %d features with two sides", n.stands, n.verdicts, n.twoSides)
	if n.twoSides < 5 || n.verdicts[check.Clear] < 10 || len(n.verdicts) < 3 {
		t.Error("too little of a kind: no test")
	}
	// One rotary axis, on either side, or none: no sides.
	n.twoSides = 0
	for what, w := range map[string]shop{"no rotary": upright(t), "tilt only": fourAxes(t), "head": swivel(t), "pallet": horizontal()} {
		n.asChecked(t, what, w.hole("up", 2, "0, 0, 0", "[0, 0, 1]", 10).hole("front", 2, "0, -30, -20", "[0, -1, 0]", 10).
			hole("right", 2, "40, 0, -20", "[1, 0, 0]", 10).load(t))
	}
	if n.twoSides > 0 {
		t.Errorf("%d features have two sides with one axis", n.twoSides)
	}
}

// A hole in the side of the block has the two solutions A 90 and A -90 half a turn of C apart
// (subproblem 2 of Paden and Kahan); one in its top has A 0, C wherever it was or is needed next.
func TestOffersOfBothSides(t *testing.T) {
	s := newShop().hole("front", 2, "0, -30, -20", "[0, -1, 0]", 10).hole("top", 2, "0, 0, 0", "[0, 0, 1]", 10).
		hole("right", 2, "40, 0, -20", "[1, 0, 0]", 10).load(t)
	list := offers(t, s, Options{})
	type at struct {
		a, c         float64
		above, below bool
	}
	want := [][]at{
		{{90, 0, true, false}, {-90, 180, false, true}},
		{{0, 0, true, true}, {0, 90, true, true}, {0, 180, true, true}, {0, 270, true, true}},
		{{90, 90, true, false}, {-90, 270, false, true}},
	}
	for i, o := range list {
		if o.Operation != i || o.Feature != 0 || s.Axes[o.Tilt].Letter != "A" || o.Pivot != 0 || len(o.Moves) != 2 || len(o.Stands) != len(want[i]) {
			t.Fatalf("offer %d: %+v", i, o)
		}
		for _, w := range want[i] {
			found := false
			for _, st := range o.Stands {
				a, c := degrees(st.Rotary[axisNamed(t, s, "A")]), degrees(st.Rotary[axisNamed(t, s, "C")])
				found = found || math.Abs(a-w.a) < 1e-9 && math.Abs(c-w.c) < 1e-9 && st.Above == w.above && st.Below == w.below && st.Possible
			}
			if !found {
				t.Errorf("offer %d has no %+v: %+v", i, w, o.Stands)
			}
		}
	}
}

// What no position presents, and what only one side has the travel for, is offered as such.
func TestOffersBeyondTravel(t *testing.T) {
	w := newShop().edit(t, "unit.toml", `travel = [-100, 100]`, `travel = [-30, 100]`).
		hole("front", 2, "0, -30, -20", "[0, -1, 0]", 10).hole("under", 2, "0, 0, -40", "[0, 0, -1]", 10)
	list := offers(t, w.load(t), Options{})
	if f := list[0].Stands; len(f) != 2 || !f[0].Possible && !f[1].Possible || f[0].Possible && f[1].Possible {
		t.Errorf("front: %+v", f)
	}
	for _, st := range list[0].Stands {
		if st.Possible != st.Above || st.Below == st.Above || st.Possible == (st.Verdict == check.OverTravel) {
			t.Errorf("front: %+v", st)
		}
	}
	for _, st := range list[1].Stands {
		if st.Possible || st.Verdict != check.OverTravel || st.Why == "" {
			t.Errorf("under: %+v", st)
		}
	}
}

// A contour that can be begun on either side is offered on both.
func TestOffersOfContours(t *testing.T) {
	s := newShop().operation("rim", 1, "", "[[operation.contour]]\npoints = [[-20, 0, -1], [0, 0, -1], [20, 0, -1]]\n"+
		"axes = [[0.1, -0.3, 1], [0.2, -0.3, 1], [0.3, -0.3, 1]]\ntip_control = true\n").load(t)
	list := offers(t, s, Options{})
	if len(list) != 1 || len(list[0].Stands) != 2 {
		t.Fatalf("%+v", list)
	}
	for _, st := range list[0].Stands {
		if st.Above == st.Below || st.Rotary == st.Leave || (st.Rotary[axisNamed(t, s, "A")] > 0) != st.Above {
			t.Errorf("%+v", st)
		}
	}
}

func axisNamed(t testing.TB, s *machine.Setup, letter string) int {
	t.Helper()
	for k := range s.Axes {
		if s.Axes[k].Letter == letter {
			return k
		}
	}
	t.Fatalf("no axis %s", letter)
	return -1
}
