package stack

import (
	"context"
	"math/rand/v2"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/reach"
)

// tilted is the trunnion's shop with a part on its block.
func tilted(t *testing.T, more string) shop {
	return trunnionShop(t).edit(t, "setup.toml", "place = [", "part = [{ name = \"cube\", place = \"block\", at = [10, 20, 60]"+more+" }]\nplace = [")
}

// What is told bounds every position that play and accuracy allow, found by brute
// force: each joint anywhere within its slack, mostly at an end. And it is not far above
// what is found.
func TestLocationBoundsBruteForce(t *testing.T) {
	s, r := tilted(t, "").checked(t)
	// A at either end by C at either end, zero and corner of each, and the stack alone.
	if n := len(r.Stack.Locations); n != 2+2*4 {
		t.Fatalf("%d locations", n)
	}
	random := rand.New(rand.NewPCG(7, 11))
	for _, l := range r.Stack.Locations {
		if l.To != check.FromTool || l.Point != check.PartZero {
			continue
		}
		var at motion.Params
		for _, p := range l.At {
			for k := range s.Axes {
				if s.Axes[k].Letter == p.Axis {
					at[k] = p.Value / toDegrees
				}
			}
		}
		rel := motion.Between(s.Spindle.Chain, s.Parts[0].Chain)
		drawn := rel.Pose(at)
		gauge := s.Spindle.Chain.Pose(at)
		worst, along := 0.0, [3]float64{}
		for range 20000 {
			off := motion.Chain{Joints: append([]motion.Joint{}, rel.Joints...), Home: rel.Home}
			for i := range off.Joints {
				f := 2*random.Float64() - 1
				if random.IntN(3) > 0 { // mostly at an end
					f = float64(2*random.IntN(2) - 1)
				}
				off.Joints[i].Offset += f * off.Joints[i].Slack
			}
			pose := off.Pose(at)
			d := gauge.Dir(pose.T.Sub(drawn.T))
			worst = max(worst, d.Norm())
			for k, v := range [3]float64{d.X, d.Y, d.Z} {
				along[k] = max(along[k], v, -v)
			}
		}
		if worst > l.Off || worst < 0.7*l.Off {
			t.Errorf("at %v: %g found, %g told", l.At, worst, l.Off)
		}
		for k := range along {
			if along[k] > l.Along[k] || along[k] < 0.8*l.Along[k] {
				t.Errorf("at %v along %c: %g found, %g told", l.At, "XYZ"[k], along[k], l.Along[k])
			}
		}
		if l.Likely >= l.Off || l.Likely <= 0 {
			t.Errorf("root-sum-square %g of %g", l.Likely, l.Off)
		}
	}
}

// By hand: a block straight on two pins 100 apart, with no other tolerance, its zero in
// the middle, its corner 100 along the pins and 50 aside. Middle: half of the clearance
// along and across. Corner: across e(x) = (|1 - x/L| + |x/L|) c/2 with x = 150, L = 100: 2 c/2;
// along, c/2 and the angle c/L times 50 (the two-pin relations are those of S.H. Werst, "Pinned
// Interfaces", in P.J. Drake (ed.), Dimensioning and Tolerancing Handbook, McGraw-Hill 1999).
func TestLocationByHand(t *testing.T) {
	const c = 0.035 // 16 H7/g6 at most (ISO 286-2)
	block := strings.Replace(barFile, "solid = [", "seat = { pins = [[-50, 0, 0], [50, 0, 0]], fit = \"16 g6\" }\nsolid = [", 1)
	setup := `
kind = "setup"
name = "block"
units = "mm"
machine = "machine.toml"
demand = { default = 1 }
place = [{ name = "block", component = "bar.toml", on = "top", pins = ["D3", "F3"] }]
`
	_, r := newShop().with("bar.toml", block).with("setup.toml", setup).with("bar.stl", box(-100, -50, 0, 100, 50, 25)).
		edit(t, "machine.toml", "position_tolerance = 0.005", "position_tolerance = 0").checked(t)
	zero, corner := r.Stack.Locations[0], r.Stack.Locations[1]
	for what, v := range map[string][2]float64{
		"zero along X": {zero.Along[0], c / 2}, "zero along Y": {zero.Along[1], c / 2}, "zero along Z": {zero.Along[2], 0},
		"corner along X": {corner.Along[0], c/2 + c/100*50}, "corner along Y": {corner.Along[1], c},
		"angle": {corner.Angle, 72.193 / 3600}, // (c + c)/2L with L = 100
	} {
		near(t, what, &v[0], v[1], 1e-5)
	}
	// Against the tool the axes come in: 0.004 each.
	tool := r.Stack.Locations[2]
	near(t, "against the tool", &tool.Along[1], c/2+0.004, 5e-6)
	near(t, "height", &tool.Along[2], 0.004, 5e-6)
}

// What the user allows unprobed work is held against the worst case at the tool, not
// against the root-sum-square.
func TestUnprobedWork(t *testing.T) {
	_, r := tilted(t, ", unprobed_within = 0.5").checked(t)
	goesTogether(t, r)
	worst := 0.0
	likely := 0.0
	for _, l := range r.Stack.Locations {
		near(t, "allowed", l.Wanted, 0.5, 0)
		if l.To == check.FromTool {
			worst, likely = max(worst, l.Off), max(likely, l.Likely)
		}
	}
	if likely > 0.1 || worst < 0.1 {
		t.Fatalf("%g, likely %g", worst, likely)
	}
	_, r = tilted(t, ", unprobed_within = 0.1").checked(t)
	worst = 0
	for _, l := range r.Stack.Locations {
		if l.Verdict == check.WithinPlay {
			worst = max(worst, l.Off)
		}
	}
	f := only(t, r)
	if f.Verdict != check.WithinPlay || f.Question != check.Located || f.Bodies[0] != "cube" || !strings.Contains(f.Reason, "0.1 mm that unprobed work may be") {
		t.Errorf("%s: %q: %s", f.Verdict, f.Bodies, f.Reason)
	}
	if !strings.Contains(f.Reason, mm(worst)) {
		t.Errorf("%s, not of %g", f.Reason, worst)
	}
	if r.Verdict != check.WithinPlay {
		t.Error(r.Verdict)
	}
}

const probeFile = `
kind = "tools"
name = "probe"
units = "mm"
holder = [{ name = "body", profile = [[0, 40], [60, 40]], mass = 1 }]
cutter = [{ name = "stylus", kind = "touch probe", DC = 6, DN = 4, LU = 40, OAL = 40, mass = 0.02 }]
tool = [{ number = 20, cutter = "stylus", holder = "body", stick_out = 40, within = 0.01 }]
`

// probed is the bar in two vises, within 0.1 of its place, with a touch of its top.
func probed(t *testing.T, start, search string) shop {
	return newShop().with("tools.toml", probeFile).edit(t, "machine.toml", `, "tool"]`, "]").edit(t, "setup.toml", "demand =", `tools = ["tools.toml"]
operation = [{ name = "find the top", tool = 20, approach = 10, retract = 30, touch = [{ at = [0, 0, 0], axis = [0, 0, 1], toward = [0, 0, -1], start = `+
		start+`, search = `+search+` }] }]
demand =`)
}

// The surface must be found within the search, and not before it begins.
func TestSearches(t *testing.T) {
	for _, c := range []struct {
		start, search string
		want          check.Verdict
		words         string
	}{
		{"8", "3", check.Clear, ""},
		{"8", "0.1", check.WithinPlay, "the search ends 0.1 mm beyond it"},
		{"0.1", "3", check.WithinPlay, "the search begins 0.1 mm before it"},
	} {
		s, r := probed(t, c.start, c.search).checked(t)
		if len(r.Stack.Searches) != 1 {
			t.Fatalf("%d searches", len(r.Stack.Searches))
		}
		q := r.Stack.Searches[0]
		if q.Verdict != c.want || q.Operation != "find the top" {
			t.Errorf("%+v", q)
		}
		// Along Z: 0.1 of the bar, 0.004 of the axis, 0.01 of the tool's length; the leans
		// are not stated.
		if q.Off < 0.114 || q.Off > 0.1155 {
			t.Errorf("off by %g", q.Off)
		}
		if c.want == check.Clear {
			goesTogether(t, r)
		} else if f := only(t, r); !strings.Contains(f.Reason, c.words) || f.Tool == nil || *f.Tool != 20 {
			t.Errorf("%+v", f)
		}
		// With reach before it, it is the position that was chosen.
		r = check.NewReport(s)
		if err := reach.Check(context.Background(), s, r, reach.Options{Jobs: 2}); err != nil {
			t.Fatal(err)
		}
		r.Findings = nil
		if err := Check(context.Background(), s, r, Options{Jobs: 2}); err != nil {
			t.Fatal(err)
		}
		if got := r.Stack.Searches[0]; got != q {
			t.Errorf("after reach %+v, before %+v", got, q)
		}
	}
}

// Positions are those that reach has chosen, once each.
func TestPositionsOfOperations(t *testing.T) {
	setup, _ := tilted(t, "").checked(t)
	r := check.NewReport(setup)
	deg := func(a, c float64) []check.Position {
		return []check.Position{{Axis: "A", Value: a, Unit: "deg"}, {Axis: "C", Value: c, Unit: "deg"}}
	}
	r.Reach = &check.Reach{Operations: []check.Operation{{Name: "drill", Part: "cube", Features: []check.Feature{
		{Name: "hole 1", Presented: []check.Presented{{At: deg(-45, 90), Chosen: true}, {At: deg(45, 270)}}},
		{Name: "hole 2", Presented: []check.Presented{{At: deg(-45, 90), Chosen: true}}},
	}}}}
	if err := Check(context.Background(), setup, r, Options{}); err != nil {
		t.Fatal(err)
	}
	if n := len(r.Stack.Locations); n != 2+2 {
		t.Fatalf("%d locations", n)
	}
	if at := r.Stack.Locations[3].At; len(at) != 2 || at[0].Value != -45 || at[1].Value != 90 {
		t.Errorf("%v", at)
	}
}

// Nothing placed, nothing told; a context that has ended ends it.
func TestEmptyAndEnded(t *testing.T) {
	r := &check.Report{}
	if err := Check(context.Background(), &machine.Setup{}, r, Options{}); err != nil || r.Stack != nil {
		t.Error(err, r.Stack)
	}
	setup, err := newShop().try()
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := Check(ctx, setup, check.NewReport(setup), Options{}); err == nil {
		t.Error("not ended")
	}
}

// The same report for any number of goroutines.
func TestSameForAnyJobs(t *testing.T) {
	setup, err := retractable(t, `["D3"]`).try()
	if err != nil {
		t.Fatal(err)
	}
	var reports [2]string
	for i, jobs := range []int{1, 4} {
		r := check.NewReport(setup)
		if err := Check(context.Background(), setup, r, Options{Jobs: jobs}); err != nil {
			t.Fatal(err)
		}
		reports[i] = reasons(r)
	}
	if reports[0] != reports[1] || reports[0] == "" {
		t.Errorf("%q, %q", reports[0], reports[1])
	}
}
