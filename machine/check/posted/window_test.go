package posted

import (
	"math"
	"slices"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/kinematics"
	"gridswing/machine/program"

	"github.com/golang/geo/r3"
)

// besideBlock is a program of the demo's ball end mill along a side of the block at a height, with a tilt: from home, down from
// 60 above, and back, as it goes with a length of the tool.
func besideBlock(t testing.TB, s *machine.Setup, tilt, height, length float64) []program.Step {
	t.Helper()
	axes := make([]kinematics.Axis, len(s.Axes))
	letters := map[string]int{}
	var home motion.Params
	for k := range s.Axes {
		a := &s.Axes[k]
		axes[k] = kinematics.Axis{Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home}
		letters[a.Letter], home[k] = k, a.Home
	}
	m, err := kinematics.New(axes, s.Parts[0].Chain, s.Spindle.Chain)
	if err != nil {
		t.Fatal(err)
	}
	stand := func(x, y, z float64) motion.Params {
		var p motion.Params
		p[letters["A"]] = tilt * math.Pi / 180
		p, err := m.Linear(p, r3.Vector{X: x, Y: y, Z: z}, length)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	first, last := stand(-37, -40, height), stand(-37, 40, height)
	over := first
	over[letters["Z"]] = home[letters["Z"]]
	above := first
	above[letters["Z"]] += 60
	up := last
	up[letters["Z"]] = home[letters["Z"]]
	var list []program.Step
	line := 0
	add := func(kind program.Kind, led bool, from, to motion.Params) {
		line++
		step := straight(kind, 7, line, from, to)
		step.Led = led
		list = append(list, step)
	}
	add(program.Rapid, false, home, over)
	add(program.Rapid, true, over, above)
	add(program.Rapid, true, above, first)
	for i := range 50 {
		add(program.Feed, true, stand(-37, -40+1.6*float64(i), height), stand(-37, -40+1.6*float64(i+1), height))
	}
	add(program.Rapid, false, last, up)
	return list
}

// with is the setup with its ball end mill at another length.
func with(s *machine.Setup, length float64) *machine.Setup {
	other := *s
	other.Tools = slices.Clone(s.Tools)
	for i, x := range other.Tools {
		if x.Number == 7 {
			other.Tools[i] = x.At(length - x.Holder.Length)
		}
	}
	return &other
}

// Within its window a tool that is keyed in at another length goes the same way in the part, and all is clear; where
// the holder or what is behind it ends the window, a millimetre less is not.
func TestWindowAgainstReplays(t *testing.T) {
	s := demoSetup(t)
	trees := proof.NewTrees()
	look := func(length, tilt, height float64, no bool) *check.Report {
		return checked(t, with(s, length), steps(besideBlock(t, s, tilt, height, length)),
			Options{NoStock: true, NoWindow: no, Options: proof.Options{Trees: trees}})
	}
	notClear := func(r *check.Report) (list []string) {
		for i := range r.Findings {
			if f := &r.Findings[i]; f.Bodies[0] != "" || f.Question != check.Posted {
				list = append(list, f.Short())
			}
		}
		return list
	}
	narrowed, windows := 0, 0
	for _, c := range [][2]float64{{0, 50}, {45, 30}, {58, 30}, {60, 30}, {61, 31}} {
		tilt, height := c[0], c[1]
		x := look(125, tilt, height, false).Program.Tools[0]
		if x.Shortest == nil {
			continue
		}
		windows++
		if *x.Shortest > 125 || *x.Longest < 125 {
			t.Errorf("tilt %g: a window of %g to %g does not hold what it is now", tilt, *x.Shortest, *x.Longest)
		}
		for _, length := range []float64{*x.Shortest, (*x.Shortest + 125) / 2, (*x.Longest + 125) / 2, *x.Longest} {
			if list := notClear(look(length, tilt, height, true)); len(list) > 0 {
				t.Errorf("tilt %g: at %g of %g to %g: %v", tilt, length, *x.Shortest, *x.Longest, list)
			}
		}
		if x.ShortWhy == check.GoesTogether {
			continue
		}
		narrowed++
		if list := notClear(look(*x.Shortest-1, tilt, height, true)); len(list) == 0 {
			t.Errorf("tilt %g: %s ends the window at %g, but at 1 less all is clear", tilt, x.ShortWhy, *x.Shortest)
		}
	}
	if windows < 4 || narrowed < 1 {
		t.Errorf("hardly anything was tried: %d windows, %d of them narrowed", windows, narrowed)
	}
}

// Where the length leads the axis, and on which moves a longer tool hangs lower.
func TestLed(t *testing.T) {
	s := plain()
	c := newChecker(s, check.NewReport(s), Options{})
	if c.axial != axisZ || c.up != 1 {
		t.Fatalf("tools stand along axis %d, %g", c.axial, c.up)
	}
	side := &side{window: &window{longest: 20}}
	for _, x := range []struct {
		what     string
		unled    bool // before
		by       bool // the step is led
		from, to motion.Params
		led      [2]bool
		level    bool
	}{
		{"no length", true, false, spot(0, 0, 100), spot(0, 0, 50), [2]bool{}, true},
		{"home to home's height", true, true, spot(0, 0, 100), spot(50, 0, 100), [2]bool{}, true},
		{"down", true, true, spot(0, 0, 100), spot(0, 0, 50), [2]bool{false, true}, false},
		{"down a little", true, true, spot(0, 0, 100), spot(0, 0, 81), [2]bool{false, true}, true},
		{"down and aside", true, true, spot(0, 0, 100), spot(9, 0, 50), [2]bool{false, true}, true},
		{"up from what is lower", true, true, spot(0, 0, 10), spot(0, 0, 50), [2]bool{false, true}, true},
		{"along", false, true, spot(0, 0, 50), spot(9, 0, 50), [2]bool{true, true}, false},
		{"machine coordinates", false, false, spot(0, 0, 50), spot(0, 0, 100), [2]bool{true, false}, false},
		{"machine coordinates, down", false, false, spot(0, 0, 50), spot(0, 0, 10), [2]bool{true, false}, true},
		{"home", false, false, spot(0, 0, 50), spot(0, 0, 60), [2]bool{true, false}, true},
		{"the length ends", false, false, spot(0, 0, 50), spot(0, 0, 100), [2]bool{true, false}, false},
	} {
		r := &reader{c: c, unled: x.unled, ch: &chunk{side: side}}
		l := leg{Leg: program.Leg{From: x.from, To: x.to}}
		r.lead(&l, !x.by)
		if l.led != x.led || l.level != x.level {
			t.Errorf("%s: led %v, level %v", x.what, l.led, l.level)
		}
	}
}
