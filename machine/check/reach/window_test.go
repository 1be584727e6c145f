package reach

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridswing/machine/check"
)

// By hand: T1 can stick out 30 to 47. Its tip 10 deep in the stock, the holder's face, 30 wide,
// is at s - 10 above it, and must be 2 above whatever stands beside the hole.
func TestWindowByHand(t *testing.T) {
	window := func(s shop) *check.StickOut {
		_, r := s.check(t)
		return operation(t, r, "op").StickOut
	}
	ends := func(what string, w *check.StickOut, low, high float64) {
		t.Helper()
		if w == nil || w.Shortest == nil {
			t.Errorf("%s: %+v", what, w)
			return
		}
		nearly(t, what+": shortest", *w.Shortest, low, 0.3)
		nearly(t, what+": longest", *w.Longest, high, 0.3)
	}
	free := newShop().hole("op", 1, "[0, 0, 0]", upward, 10)
	ends("free", window(free), 30, 47)
	// A block 11 aside; the cutter itself is 6 away from it.
	block := func(height float64) shop {
		return newShop().box(t, "block", "unit/face", 36, -20, 0, 60, 20, 40+height, 0).hole("op", 1, "[0, 0, 0]", upward, 10)
	}
	ends("a block beside it", window(block(25)), 37, 47)
	ends("a higher one", window(block(32)), 44, 47)
	if w := window(block(40)); w.Shortest != nil || !strings.Contains(w.ShortestBy, "T1 holder against block") {
		t.Errorf("too high for all: %+v", w)
	}
	// Z can get out to 358, 3 more than needed at 40, and 1 is demanded: 42.
	ends("travel", window(newShop().edit(t, "machine.toml", "[0, 500], home = 500", "[0, 358], home = 358").hole("op", 1, "[0, 0, 0]", upward, 10)), 30, 42)
	// An index with Z at 420: the tip is at 350 - s. A post of 306 on the table.
	index := newShop().more("\n[index]\nZ = 420\nX = -200\nY = 100\n").box(t, "post", "table", -205, 95, 0, -195, 105, 306, 0).
		operation("op", 1, "positions = { A = 90 }\n", "[[operation.hole]]\nat = [[0, -30, -20]]\naxis = [0, -1, 0]\ndepth = 5\ndepth_to = \"tip\"\n")
	ends("an index", window(index), 30, 42)
}

// What the window promises: the setup with any stick-out inside it is clear where the window
// says so, of travel, holder, index and tool change.
func TestWindowsHold(t *testing.T) {
	inside := 0
	for seed := range uint64(*shops / 3) {
		r := rand.New(rand.NewPCG(seed+*seed0, 9))
		w := windowShop(t, r)
		_, first := w.check(t)
		for _, o := range first.Reach.Operations {
			if o.StickOut == nil || o.StickOut.Shortest == nil {
				continue
			}
			low, high := *o.StickOut.Shortest, *o.StickOut.Longest
			for _, s := range []float64{low, high, low + (high-low)*r.Float64()} {
				inside++
				now := fmt.Sprintf("stick_out = %g }", o.StickOut.Now)
				_, again := w.copy().edit(t, "tools.toml", fmt.Sprintf("number = %d", o.Tool), fmt.Sprintf("number = %d ", o.Tool)).
					restick(t, o.Tool, now, s).check(t)
				for _, f := range again.Findings {
					if of(f.Operation, o.Name) && f.Question != check.Keyed && *f.Tool == o.Tool && !beside(first, &f) {
						t.Fatalf("seed %d: %s within %g to %g (%s; %s) is not clear at %g: %+v\n%s", seed+*seed0, o.Name, low, high, o.StickOut.ShortestBy, o.StickOut.LongestBy, s, f, summary(again))
					}
				}
			}
		}
	}
	if inside < 10 {
		t.Errorf("only %d stick-outs looked at", inside)
	}
}

// of reports whether a finding is about an operation, or a feature of it.
func of(where, operation string) bool {
	return where == operation || strings.HasPrefix(where, operation+", ")
}

// beside reports whether a window says nothing of a finding: of what is in front of the holder
// at a feature, and of what met on the same move before, perhaps whatever the stick-out.
func beside(first *check.Report, f *check.Finding) bool {
	if f.Question == check.Reaching {
		b := f.Bodies[0]
		return strings.HasSuffix(b, "cutting part") || strings.HasSuffix(b, "neck") || strings.HasSuffix(b, "shank")
	}
	return f.Question != check.Travels && slices.ContainsFunc(first.Findings, func(g check.Finding) bool {
		return g.Question == f.Question && g.Operation == f.Operation && g.Bodies == f.Bodies
	})
}

func (s shop) copy() shop {
	c := shop{}
	for k, v := range s {
		c[k] = v
	}
	return c
}

// restick gives a tool another stick-out.
func (s shop) restick(t testing.TB, tool int, old string, stickOut float64) shop {
	t.Helper()
	lines := strings.Split(s["tools.toml"], "\n")
	for i, l := range lines {
		if strings.Contains(l, fmt.Sprintf("number = %d ", tool)) && strings.Contains(l, old) {
			lines[i] = strings.Replace(l, old, fmt.Sprintf("stick_out = %.9g }", stickOut), 1)
			s["tools.toml"] = strings.Join(lines, "\n")
			return s
		}
	}
	t.Fatalf("no T%d with %q", tool, old)
	return s
}

// windowShop draws a shop in which holders come near to blocks and tools hang low while
// axes index and tools are changed.
func windowShop(t testing.TB, r *rand.Rand) shop {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	w := newShop()
	for i := range 1 + r.IntN(3) {
		if r.IntN(2) == 0 {
			x := in(36, 44)
			w.box(t, fmt.Sprintf("block%d", i), "unit/face", x, -30+60*r.Float64(), 0, x+15, 30, in(45, 80), 0)
		} else {
			x, y := in(-200, 200), in(-120, 120)
			w.box(t, fmt.Sprintf("post%d", i), "table", x, y, 250, x+20, y+20, in(280, 390), 0)
		}
	}
	if r.IntN(2) == 0 {
		w["machine.toml"] += fmt.Sprintf("\n[tool_change]\nat = { Z = %g, X = %g }\n", in(400, 500), in(-200, 200))
		if r.IntN(2) == 0 {
			w.edit(t, "machine.toml", `"changer", `, "")
			w["machine.toml"] += fmt.Sprintf("[[tool_change.zone]]\nname = \"arm\"\nfrom = [-60, -60, %g]\nto = [60, 60, 480]\n", in(215, 250))
		}
	}
	if r.IntN(2) == 0 {
		w.more(fmt.Sprintf("\n[index]\nZ = %g\n", in(420, 500)))
		if r.IntN(2) == 0 {
			w.edit(t, "setup.toml", "[index]\n", fmt.Sprintf("[index]\nX = %g\n", in(-200, 200)))
		}
	}
	if r.IntN(3) == 0 {
		w.edit(t, "machine.toml", "[0, 500], home = 500", "[0, 400], home = 400")
		for _, file := range []string{"setup.toml", "machine.toml"} {
			w[file] = strings.Replace(w[file], "\nZ = 4", "\nZ = 3", 1)
			w[file] = strings.Replace(w[file], "{ Z = 4", "{ Z = 3", 1)
		}
	}
	for i := range 1 + r.IntN(3) {
		at, axis := fmt.Sprintf("[%g, %g, 0], [%g, %g, 0]", in(-35, 35), in(-25, 25), in(-35, 35), in(-25, 25)), upward
		if r.IntN(3) == 0 {
			at, axis = fmt.Sprintf("[%g, -30, -20]", in(-35, 35)), "[0, -1, 0]"
		}
		w.hole(fmt.Sprintf("op%d", i), 1+r.IntN(2), at, axis, in(3, 20))
	}
	return w
}
