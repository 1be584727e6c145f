package choose

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/check/proof"
)

// brute goes through all ways to give every feature one of its positions.
type brute struct {
	s *machine.Setup
	b *BothSides
}

// rank of a position: the lower the better for its feature.
func (x *brute) rank(feature, stand int) int {
	st := &x.b.Features[feature].Stands[stand]
	if !x.sent(feature, stand) {
		return 100
	}
	return -slices.Index(check.Verdicts(), st.Verdict)
}

// sent reports whether the tool can be sent there: rotary axes within travel, and not beside.
func (x *brute) sent(feature, stand int) bool {
	st := &x.b.Features[feature].Stands[stand]
	for _, p := range st.At {
		a := x.axis(p.Axis)
		if v := p.Value * math.Pi / 180; v < a.Travel[0]-1e-9 || v > a.Travel[1]+1e-9 {
			return false
		}
	}
	return st.Miss == 0
}

func (x *brute) axis(letter string) *machine.Axis {
	i := slices.IndexFunc(x.s.Axes, func(a machine.Axis) bool { return a.Letter == letter })
	return &x.s.Axes[i]
}

// turn goes through a program and adds up what axes turn, in degrees, and how often.
func (x *brute) turn(stands []int) (sum float64, times int) {
	at := map[string]float64{}
	for i, k := range stands {
		if !x.sent(i, k) {
			continue
		}
		moved := false
		for _, p := range x.b.Features[i].Stands[k].At {
			way := math.Abs(p.Value - at[p.Axis])
			if a := x.axis(p.Axis); a.Unlimited && a.RollOver != machine.ByValue {
				way = math.Mod(way, 360)
				way = min(way, 360-way)
			}
			sum, moved = sum+way, moved || way > 1e-6
			at[p.Axis] = p.Value
		}
		if moved {
			times++
		}
	}
	return sum, times
}

// each calls visit with every assignment that keeps to a side as far as it can.
func (x *brute) each(side string, visit func(stands []int)) (n int) {
	stands := make([]int, len(x.b.Features))
	var down func(i int)
	down = func(i int) {
		if i == len(stands) {
			n++
			visit(stands)
			return
		}
		list := x.b.Features[i].Stands
		there := func(s Stood) bool { return side == Mixed || s.Side == side || s.Side == Either }
		any := slices.ContainsFunc(list, there)
		for k := range list {
			if there(list[k]) || !any {
				stands[i] = k
				down(i + 1)
			}
		}
	}
	down(0)
	return n
}

// Every plan is at best positions, feature by feature, and no assignment at such positions turns
// less, or as far and less often, or is as good in all that and comes before it.
func TestSidesAgainstBruteForce(t *testing.T) {
	tried, plans, differ, verdicts := 0, 0, 0, map[check.Verdict]int{}
	for seed := range uint64(40) {
		s := randomSideShop(t, rand.New(rand.NewPCG(seed, 11))).load(t)
		b := sidesOf(t, s, proof.Options{Jobs: 2, Tests: 100_000})
		x := &brute{s, b}
		for i := range b.Plans {
			p := &b.Plans[i]
			plans++
			verdicts[p.Verdict]++
			far, times := x.turn(p.Stands)
			if math.Abs(far-p.Turn()) > 1e-6 || times != p.Indexes {
				t.Errorf("seed %d, %s: turns %g in %d, said to turn %g in %d", seed, p.Side, far, times, p.Turn(), p.Indexes)
			}
			tried += x.each(p.Side, func(stands []int) {
				better := false
				for f := range stands {
					mine, other := x.rank(f, p.Stands[f]), x.rank(f, stands[f])
					if other > mine {
						return // not as good there
					}
					better = better || other < mine
				}
				f, n := x.turn(stands)
				switch {
				case f < far-1e-6, f < far+1e-6 && n < times:
					better = true
				case f < far+1e-6 && n == times:
					better = better || slices.Compare(stands, p.Stands) < 0 && x.sentAlike(stands, p.Stands)
				}
				if better {
					t.Errorf("seed %d, %s: %v turns %g in %d, better than %v with %g in %d", seed, p.Side, stands, f, n, p.Stands, far, times)
				}
			})
		}
		r := &b.Plans[b.Recommended]
		for i := range b.Plans {
			p := &b.Plans[i]
			if r.Verdict.Worse(p.Verdict) || p.Verdict == r.Verdict && p.Whole && p.Side != Mixed && (r.Side == Mixed || p.Turn() < r.Turn()-1e-6) {
				t.Errorf("seed %d: %s is recommended, %s is better", seed, r.Side, p.Side)
			}
		}
		if r.Side == Mixed {
			differ++
		}
	}
	t.Logf("%d assignments for %d plans %v, mixed recommended %d times", tried, plans, verdicts, differ)
	if tried < 20*plans || verdicts[check.Clear] < 10 || len(verdicts) < 3 || differ < 2 {
		t.Error("too little of a kind: no test")
	}
}

// sentAlike reports whether two assignments send the tool to the same features.
func (x *brute) sentAlike(a, b []int) bool {
	for i := range a {
		if x.sent(i, a[i]) != x.sent(i, b[i]) {
			return false
		}
	}
	return true
}

// randomSideShop draws three to six operations on all sides of the block, travel of either kind, and
// posts on the table and the faceplate.
func randomSideShop(t testing.TB, r *rand.Rand) sideShop {
	w := newSideShop()
	const endless = `unlimited = true, roll_over = "shorter"`
	switch r.IntN(5) {
	case 0:
		w.edit(t, "unit.toml", endless, `unlimited = true, roll_over = "by value"`)
	case 1:
		w.edit(t, "unit.toml", endless, "travel = [-200, 300]")
	case 2:
		w.edit(t, "unit.toml", endless, "travel = [-100, 100]")
	}
	if r.IntN(4) == 0 {
		w.edit(t, "unit.toml", "travel = [-100, 100] }", "travel = [-30, 100] }")
	}
	for i := range r.IntN(4) {
		x, y, size := 25+float64(r.IntN(120)-60), float64(45+r.IntN(40)), 3+12*r.Float64()
		if r.IntN(2) == 0 {
			y = -y - size
		}
		if r.IntN(2) == 0 {
			w.tower(t, fmt.Sprintf("post%d", i), "table", x, y, 30, x+40, y+size, 150+200*r.Float64())
		} else {
			w.tower(t, fmt.Sprintf("post%d", i), "unit/face", x, y, 0, x+size, y+size, 20+80*r.Float64())
		}
	}
	holes := []string{front, back, right, left, upper,
		"at = [30, 20, 0]\naxis = [1, 1, 2]", "at = [-30, -20, 0]\naxis = [-1, -0.5, 3]", "at = [10, -30, -12]\naxis = [0.3, -1, 0]"}
	for i := range 3 + r.IntN(4) {
		w.holes(fmt.Sprintf("op%d", i), holes[r.IntN(len(holes))])
	}
	return w
}

// contour adds an operation with a contour whose axis changes, on one side or over both.
func (s sideShop) contour(name string, r *rand.Rand) {
	lean := func() string { return fmt.Sprintf("[%g, %g, 1]", r.Float64()-0.5, r.Float64()-0.5) }
	s["setup.toml"] += fmt.Sprintf("\n[[operation]]\nname = %q\ntool = 4\napproach = 5\nretract = 25\n[[operation.contour]]\n"+
		"points = [[-20, 0, -1], [0, 0, -1], [20, 0, -1]]\naxes = [%s, %s, %s]\ntip_control = true\n", name, lean(), lean(), lean())
}

// The recommended lines, written into the setup file, give just what is promised: the positions,
// the verdict, and as far as rotary axes turn on the moves that the check lists.
func TestSidesAsTheFileHasThem(t *testing.T) {
	clear, turned := 0, 0
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 23))
		w := randomSideShop(t, r)
		if r.IntN(2) == 0 {
			w.contour("rim", r)
		}
		b := sidesOf(t, w.load(t), proof.Options{Tests: 200_000})
		for i := range b.Plans {
			p := &b.Plans[i]
			written := sideShop{}
			for name, text := range w {
				written[name] = text
			}
			for _, l := range p.Lines {
				name := fmt.Sprintf("name = %q\n", l.Operation)
				shoptest.Edit(t, written, "setup.toml", name, name+l.Line+"\n")
			}
			if !p.Whole {
				continue // of some operation there is nothing to write
			}
			s := written.load(t)
			r := reached(t, s)
			verdict, _ := worstOf(judgedOf(r))
			if verdict != p.Verdict || i == b.Recommended && verdict != b.Confirmed.Verdict {
				t.Errorf("seed %d, %s: %v as the file has it, %v planned, %+v", seed, p.Side, verdict, p.Verdict, b.Confirmed)
			}
			if verdict == check.Clear {
				clear++
			}
			for f := range b.Features {
				at := b.Features[f].Stands[p.Stands[f]].At
				if got := r.Reach.Operations[f].Features[0].Presented[0].At; !slices.Equal(got, at) && !nearly(got, at) {
					t.Errorf("seed %d, %s: %s stands at %v, planned %v", seed, p.Side, b.Features[f].Operation, got, at)
				}
			}
			if far, sure := turnedOn(r); sure {
				turned++
				if math.Abs(far-p.Turn()) > 1e-4 {
					t.Errorf("seed %d, %s: turns by %g on its moves, planned %g", seed, p.Side, far, p.Turn())
				}
			}
		}
		if len(b.Confirmed.Differs) > 0 {
			t.Errorf("seed %d: %v", seed, b.Confirmed.Differs)
		}
	}
	if clear < 10 || turned < 20 {
		t.Errorf("%d clear, %d with moves: no test", clear, turned)
	}
}

func nearly(a, b []check.Position) bool {
	for i := range a {
		if math.Abs(math.Remainder(a[i].Value-b[i].Value, 360)) > 2e-6 {
			return false
		}
	}
	return len(a) == len(b)
}

// turnedOn adds up over what the rotary axes pass on the moves of a report; not sure where one
// could go either way round.
func turnedOn(r *check.Report) (sum float64, sure bool) {
	for _, m := range r.Reach.Moves {
		for _, over := range m.Over {
			if strings.ContainsAny(over.Axis, "ABC") {
				if sum += over.To - over.From; over.To-over.From > 359 {
					return 0, false
				}
			}
		}
	}
	return sum, true
}
