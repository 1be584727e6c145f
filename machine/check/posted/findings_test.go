package posted

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/program"

	"github.com/golang/geo/r3"
)

// plain is a scene without what is loose: a head of 20 by 20 whose lower face is at Z, a block of 20 by 20 by
// 20 on the table with its top at 10, nothing tilted, and the bed far below.
func plain() *machine.Setup {
	s := scene(rand.New(rand.NewPCG(1, 1)))
	for i := range s.Bodies {
		b := &s.Bodies[i]
		joints := append([]motion.Joint(nil), b.Chain.Joints...)
		for k := range joints {
			joints[k].Slack = 0
		}
		b.Chain.Joints = joints
	}
	ten := r3.Vector{X: 10, Y: 10, Z: 10}
	s.Bodies[0].Solid = block(r3.Vector{Z: -200}, ten)
	s.Bodies[1].Solid = block(r3.Vector{Z: 10}, ten)
	s.Bodies[2].Solid = block(r3.Vector{Y: 300}, ten)
	s.Bodies[3].Solid = block(r3.Vector{}, ten)
	return s
}

func spot(x, y, z float64) (p motion.Params) {
	p[axisX], p[axisY], p[axisZ] = x, y, z
	return p
}

// to makes a program of straight moves from place to place, one a line.
func to(kind program.Kind, places ...motion.Params) (list []program.Step) {
	for i := range places[1:] {
		s := straight(kind, 0, i+1, places[i], places[i+1])
		s.Block = "G1 (a move)"
		list = append(list, s)
	}
	return list
}

// By hand: the head goes down on the block to 3 below its top in steps of 1, and back up. The deepest line is told,
// with its depth, and how many lines are concerned: the top is at 10, and 2 are demanded.
func TestContactByHand(t *testing.T) {
	var places []motion.Params
	for _, z := range []float64{20, 15, 13, 11.5, 10.5, 9.5, 8, 7, 8, 13, 20} {
		places = append(places, spot(0, 0, z))
	}
	s := plain()
	s.Parts = []machine.Part{{Name: "part", Unit: "elsewhere", Chain: s.Bodies[3].Chain}} // its zero is the middle of the block
	r := checked(t, s, steps(to(program.Feed, places...)), Options{})
	list := found(r, "head", "beside")
	if len(list) != 1 {
		t.Fatalf("%d findings, want 1: %+v", len(list), list)
	}
	f := list[0]
	if p := f.PartPoint; p == nil || math.Abs(p[0]) > 10.01 || math.Abs(p[1]) > 10.01 || p[2] < 5 || p[2] > 10.01 {
		t.Errorf("they meet at %v of the part, not at the block's upper end", p)
	}
	if f.Verdict != check.Contact || f.Question != check.Posted || f.Block != "G1 (a move)" || f.ProgramFile != "" {
		t.Errorf("%v %s %q %q", f.Verdict, f.Question, f.Block, f.ProgramFile)
	}
	if f.Line != 7 && f.Line != 8 || f.Depth == nil || math.Abs(*f.Depth-3) > 0.25 {
		t.Errorf("line %d, depth %v: it is 3 deep on lines 7 and 8", f.Line, f.Depth)
	}
	// Below 12 it is on lines 3 to 9: from 13 to 11.5, and at last from 8 to 13.
	if !strings.Contains(f.Reason, "on 7 moves, line 3 to line 9") {
		t.Errorf("%q: less than 2 is left on lines 3 to 9", f.Reason)
	}
	if len(r.Pairs) == 0 || r.Verdict != check.Contact {
		t.Errorf("%v, %d pairs", r.Verdict, len(r.Pairs))
	}
}

// Bodies that are deeper in each other than depths are looked for are told of where they are, and not where the
// move begins, at which they are apart; no depth is told.
func TestVeryDeep(t *testing.T) {
	s := plain()
	wide := r3.Vector{X: 100, Y: 100, Z: 100}
	s.Bodies[1].Solid = block(r3.Vector{Z: 100}, wide)
	s.Bodies[3].Solid = block(r3.Vector{}, wide)
	r := checked(t, s, steps(to(program.Rapid, spot(0, 0, 150), spot(0, 0, -100))), Options{})
	list := found(r, "head", "beside")
	if len(list) != 1 || list[0].Verdict != check.Contact {
		t.Fatalf("%+v", list)
	}
	if f := list[0]; f.Depth != nil || f.Params[axisZ] > 100-mostDepth {
		t.Errorf("%v deep at Z %g: it is deeper than %g below Z %g only", f.Depth, f.Params[axisZ], mostDepth, 100-mostDepth)
	}
}

// What is near in one pass after another is told run by run, the last of which holds all that follow.
func TestRunsOfLines(t *testing.T) {
	var places []motion.Params
	for range mostRuns + 3 {
		for i := range apart + 40 { // well away
			places = append(places, spot(60+float64(i%2), 0, 11))
		}
		for i := range 5 {
			places = append(places, spot(float64(i), 0, 11))
		}
	}
	r := checked(t, plain(), steps(to(program.Feed, places...)), Options{})
	list := found(r, "head", "beside")
	if len(list) != mostRuns {
		t.Fatalf("%d findings, want %d", len(list), mostRuns)
	}
	for i, f := range list {
		if f.Verdict != check.Tight || math.Abs(*f.Smallest-1) > 0.02 {
			t.Errorf("%v, %v left: it passes 1 above the block", f.Verdict, *f.Smallest)
		}
		want := ""
		if i == mostRuns-1 {
			want = "with breaks: 4 times"
		}
		if !strings.Contains(f.Reason, want) {
			t.Errorf("%q has no %q", f.Reason, want)
		}
	}
}

// What is equally bad is told in the order in which it comes, in whatever file its line is.
func TestFindingsInTheirOrder(t *testing.T) {
	n := newNotes()
	ch := &chunk{tool: noTool}
	var list []hit
	for i, place := range []program.Place{{File: "main", Line: 40}, {File: "sub", Line: 3}, {File: "main", Line: 41}, {File: "main", Line: 12}} {
		ch.steps = append(ch.steps, step{Place: place, began: float64(i)})
		list = append(list, hit{question: check.Posted, a: 9 - i, step: int32(i), verdict: check.Contact, tell: func() check.Finding { return check.Finding{} }})
	}
	n.chunk(ch, list)
	for i, f := range n.findings("main") {
		if *f.Seconds != float64(i) {
			t.Errorf("%d: line %d of %q at %g s", i, f.Line, f.ProgramFile, *f.Seconds)
		}
	}
}

// On one line the deepest comes first; no depth is one that is deeper than is looked for.
func TestDeepestFirst(t *testing.T) {
	n := newNotes()
	var list []hit
	for i, depth := range []float64{1, 5, 0, 3} {
		f := check.Finding{Depth: &depth}
		if depth == 0 {
			f.Depth = nil
		}
		list = append(list, hit{question: check.Posted, a: i, verdict: check.Contact, tell: func() check.Finding { return f }})
	}
	n.chunk(&chunk{tool: noTool, steps: make([]step, 1)}, list)
	var order []int
	for _, f := range n.findings("test.nc") {
		order = append(order, f.Index[0])
	}
	if !slices.Equal(order, []int{2, 1, 3, 0}) {
		t.Errorf("%v", order)
	}
}

// More than can be told is counted.
func TestTooManyFindings(t *testing.T) {
	n := newNotes()
	var list []hit
	for i := range mostFindings + 30 {
		v := check.Tight
		if i == mostFindings+29 {
			v = check.Contact
		}
		list = append(list, hit{question: check.Posted, a: i, verdict: v, tell: func() check.Finding { return check.Finding{} }})
	}
	n.chunk(&chunk{tool: noTool, steps: make([]step, 1)}, list)
	got := n.findings("test.nc")
	if len(got) != mostFindings || n.left != 30 || got[0].Verdict != check.Contact {
		t.Errorf("%d findings, the first %v, and %d left out", len(got), got[0].Verdict, n.left)
	}
}

// Travel is 500 either way and a margin of 2 is demanded; home is at 0.
func TestTravelByHand(t *testing.T) {
	s := plain()
	s.Demand.Travel = 2
	s.Axes[axisZ].Home = 499.5
	for _, c := range []struct {
		what string
		to   motion.Params
		want check.Verdict
		left float64 // of the margin
	}{
		{"well within", spot(490, 0, 60), check.Clear, 0},
		{"1 from the end", spot(499, 0, 60), check.Tight, 1},
		{"3 beyond", spot(0, -503, 60), check.OverTravel, -3},
		{"at home", spot(0, 0, 499.5), check.Clear, 0},
		{"above home", spot(0, 0, 499.6), check.Tight, 0.4},
		{"at the end, but for rounding", spot(-500-1e-10, 0, 60), check.Tight, -1e-10},
	} {
		r := checked(t, s, steps(to(program.Rapid, spot(0, 0, 60), c.to, spot(0, 0, 60))), Options{})
		var f *check.Finding
		for i := range r.Findings {
			if r.Findings[i].Question == check.Travels {
				f = &r.Findings[i]
			}
		}
		switch {
		case c.want == check.Clear:
			if f != nil {
				t.Errorf("%s: %v: %s", c.what, f.Verdict, f.Reason)
			}
		case f == nil || f.Verdict != c.want || math.Abs(*f.Smallest-c.left) > 1e-9 || f.Line != 1:
			t.Errorf("%s: %+v, want %v with %g", c.what, f, c.want, c.left)
		case strings.Contains(f.Reason, "-0.000"):
			t.Errorf("%s: %q", c.what, f.Reason)
		}
	}
	r := checked(t, s, steps(to(program.Rapid, spot(0, 0, 60), motion.Params{axisZ: 60, axisA: -2.1}, spot(0, 0, 60))), Options{})
	if r.Verdict != check.OverTravel || !strings.Contains(r.Findings[0].Reason, "A would have to go to") {
		t.Errorf("%v: A beyond its end: %+v", r.Verdict, r.Findings)
	}
}

// A program that cannot be read on is unproven from there, and what comes before is looked at.
func TestFault(t *testing.T) {
	fault := &program.Fault{Place: program.Place{File: "sub.nc", Line: 7, Column: 3}, Found: "G999", Expected: "a code"}
	list := to(program.Feed, spot(0, 0, 20), spot(0, 0, 5), spot(0, 0, 20))
	w := &broken{walk: steps(list), err: fault}
	r := check.NewReport(plain())
	if _, err := Check(t.Context(), plain(), r, Program{File: "test.nc", Format: check.WordAddress, Steps: w}, Options{}); err != nil {
		t.Fatal(err)
	}
	if r.Verdict != check.Contact || len(found(r, "head", "beside")) != 1 {
		t.Errorf("%v: what comes before is met", r.Verdict)
	}
	last := r.Findings[len(r.Findings)-1]
	if r.Program.Fault == nil || r.Program.Fault.Line != 7 || last.Verdict != check.Unproven || last.Line != 7 || last.ProgramFile != "sub.nc" {
		t.Errorf("%+v, %+v", r.Program.Fault, last)
	}
}

// broken is a program that ends with an error.
type broken struct {
	*walk
	err error
}

func (b *broken) Next() (*program.Step, error) {
	s, err := b.walk.Next()
	if err != nil {
		return nil, b.err
	}
	return s, nil
}

// Tools that are not known are not passed over: a feed with none, any move with one that there is not.
func TestUnknownTools(t *testing.T) {
	with := func(kind program.Kind, tool int) *check.Report {
		list := to(kind, spot(0, 0, 60), spot(5, 0, 60), spot(0, 0, 60))
		for i := range list {
			list[i].Tool = tool
		}
		return checked(t, plain(), steps(list), Options{})
	}
	if r := with(program.Rapid, 0); r.Verdict != check.Clear {
		t.Errorf("a rapid with no tool: %v: %+v", r.Verdict, r.Findings)
	}
	if r := with(program.Feed, 0); r.Verdict != check.Unproven {
		t.Errorf("a feed with no tool: %v", r.Verdict)
	}
	for _, kind := range []program.Kind{program.Rapid, program.Feed} {
		if r := with(kind, 12); r.Verdict != check.Unproven || r.Findings[0].Tool == nil || *r.Findings[0].Tool != 12 {
			t.Errorf("T12, which there is not: %v", r.Verdict)
		}
	}
}

// Where it is not known which way round an axis goes, both count.
func TestOtherWay(t *testing.T) {
	s := plain()
	s.Bodies[2].Solid = block(r3.Vector{Y: 30}, r3.Vector{X: 10, Y: 10, Z: 5}) // turned down by A > 0: the table tilts the other way
	far := spot(0, 0, 25)
	turned := far
	turned[axisA] = 1.2
	list := to(program.Rapid, far, turned)
	if r := checked(t, s, steps(list), Options{}); len(found(r, "head", "tilted")) != 0 {
		t.Fatalf("%+v", r.Findings)
	}
	other := far
	other[axisA] = -1.5
	list[0].OtherWay = []program.Leg{{From: far, To: other}}
	f := found(checked(t, s, steps(list), Options{}), "head", "tilted")
	if len(f) != 1 || f[0].Verdict != check.Contact || !strings.Contains(f[0].Reason, "the other way round") {
		t.Errorf("%+v", f)
	}
}

// A tool change asks the clearance demanded of it where the axes stand.
func TestChange(t *testing.T) {
	s := plain()
	s.ToolChange = &machine.ToolChange{Zones: []machine.Body{{
		Name: "arm", Unit: "machine", Role: "changer", Solid: block(r3.Vector{X: 40, Z: 12}, r3.Vector{X: 5, Y: 5, Z: 1}),
		Chain: motion.Chain{Home: geom.Identity()}, Fixed: true,
	}}}
	change := program.Step{Kind: program.Change, Place: program.Place{File: "test.nc", Line: 2}, Tool: 0}
	run := func(x, z float64) *check.Report {
		list := to(program.Rapid, spot(0, 0, 60), spot(x, 0, z))
		return checked(t, s, steps(append(list, change)), Options{})
	}
	if r := run(0, 60); r.Verdict != check.Clear {
		t.Errorf("far from all: %v: %+v", r.Verdict, r.Findings)
	}
	if f := found(run(0, 14), "head", "beside"); len(f) != 1 || f[0].Verdict != check.Tight || f[0].Line != 2 || f[0].Demand != 5 {
		t.Errorf("4 above the block, where 5 are demanded for a change: %+v", f[0])
	}
	// Programmed X moves the table the other way: at -40 the block is under the arm, 1 below it.
	if f := found(run(-40, 60), "arm", "beside"); len(f) != 1 || f[0].Verdict != check.Tight || math.Abs(*f[0].Smallest-1) > 0.02 {
		t.Errorf("the changer's arm passes 1 above the block: %+v", f)
	}
	// With a tool before and another after it, what is met by neither is one finding, of the change.
	list := to(program.Rapid, spot(0, 0, 60), spot(-40, 0, 14))
	for i := range list {
		list[i].Tool = 8
	}
	change.Tool = 9
	r := checked(t, s, steps(append(list, change)), Options{})
	if f := found(r, "arm", "beside"); len(f) != 1 || f[0].Line != 2 {
		t.Errorf("one change: %+v", f)
	}
}

// What ends the context ends the check, wherever it is.
func TestCancelled(t *testing.T) {
	s := plain()
	list := wander(rand.New(rand.NewPCG(3, 3)), 20_000)
	ctx, cancel := context.WithCancel(t.Context())
	w := steps(list)
	step := w.step
	w.step = func(i int) *program.Step {
		if i == 9_000 {
			cancel()
		}
		return step(i)
	}
	_, err := Check(ctx, s, check.NewReport(s), Program{File: "test.nc", Steps: w}, Options{})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// A program of nothing is not clear, and positions that are no numbers are not either.
func TestNothingIsNotClear(t *testing.T) {
	if r := checked(t, plain(), steps(nil), Options{}); r.Verdict != check.Unproven || len(r.Findings) != 1 {
		t.Errorf("%v: %+v", r.Verdict, r.Findings)
	}
	list := to(program.Feed, spot(0, 0, 60), spot(1, 0, 60), spot(2, 0, math.NaN()), spot(3, 0, 60))
	r := checked(t, plain(), steps(list), Options{})
	if f := found(r, "head", "beside"); r.Verdict != check.Unproven || len(f) != 1 || f[0].Line != 2 {
		t.Errorf("%v: %+v", r.Verdict, f)
	}
	off := to(program.Feed, spot(0, 0, 60), spot(1, 0, 60))
	off[0].Legs[0].Within[axisZ] = math.Inf(1)
	if f := found(checked(t, plain(), steps(off), Options{}), "head", "beside"); len(f) != 1 || f[0].Verdict == check.Clear {
		t.Errorf("an axis that may be anywhere: %+v", f)
	}
}

// What the swing has proven over the whole of the commanded range is not asked again: within it there
// is nothing to be found, and beyond it there is.
func TestSwungAlready(t *testing.T) {
	s := plain()
	s.Bodies[2].Solid = block(r3.Vector{Y: 30, Z: 30}, r3.Vector{X: 10, Y: 5, Z: 5})
	s.Bodies[3].Solid = block(r3.Vector{Y: 36, Z: 0}, r3.Vector{X: 10, Y: 10, Z: 10}) // met by the tilted one from about A 45 deg on
	s.Axes[axisA].Commanded = [2]float64{-0.1, 0.1}
	look := func(a float64, verdict check.Verdict) (*check.Report, int) {
		far := spot(0, 0, 400)
		tilted := far
		tilted[axisA] = a
		r := check.NewReport(s)
		r.Pairs = append(r.Pairs, check.Pair{Question: check.Swing, Bodies: [2]string{"tilted", "beside"}, Verdict: verdict})
		if _, err := Check(t.Context(), s, r, Program{File: "test.nc", Steps: steps(to(program.Rapid, far, tilted))}, Options{}); err != nil {
			t.Fatal(err)
		}
		return r, len(found(r, "tilted", "beside"))
	}
	for _, a := range []float64{0.8, -0.8} {
		_, one := look(a, check.Clear)
		_, other := look(a, check.Tight)
		if one != other {
			t.Errorf("A %g, beyond what is commanded: %d findings, without the swing %d", a, one, other)
		}
	}
	if _, n := look(0.8, check.Clear); n == 0 {
		if _, n = look(-0.8, check.Clear); n == 0 {
			t.Error("nothing is met either way")
		}
	}
	if r, _ := look(0.05, check.Clear); !strings.Contains(strings.Join(r.Program.Assumed, " "), "proven by the swing") {
		t.Errorf("%q", r.Program.Assumed)
	}
}

// Of many moves that are too near the nearest is told, to the hundredth: a wave over the block whose troughs are
// lower and lower up to the fifth one.
func TestNearestOfMany(t *testing.T) {
	var places []motion.Params
	for i := range 81 {
		trough := 1.3 - 0.05*float64(min(i/8, 8-i/8))
		places = append(places, spot(float64(i%5), 0, 10+trough+0.1*float64([]int{3, 2, 1, 0, 0, 1, 2, 3}[i%8])))
	}
	f := found(checked(t, plain(), steps(to(program.Feed, places...)), Options{}), "head", "beside")
	if len(f) != 1 || f[0].Verdict != check.Tight || math.Abs(*f[0].Smallest-1.1) > 0.02 {
		t.Fatalf("%+v", f)
	}
	if line := f[0].Line; line < 35 || line > 37 { // to, on and from the lowest
		t.Errorf("line %d", line)
	}
}

// Where a whole pass is too near its moves are taken together, but none that is nearer than the others is missed.
func TestNearestOfAPass(t *testing.T) {
	const moves, dip = 3000, 1900
	var places []motion.Params
	for i := range moves + 1 {
		z := 11.3
		if i == dip {
			z = 11.1
		}
		places = append(places, spot(9*math.Sin(float64(i)/200), 0, z))
	}
	f := found(checked(t, plain(), steps(to(program.Feed, places...)), Options{}), "head", "beside")
	if len(f) != 1 || f[0].Verdict != check.Tight || math.Abs(*f[0].Smallest-1.1) > 0.02 || f[0].Line != dip && f[0].Line != dip+1 {
		t.Fatalf("%d findings, the first %v, %g left on line %d", len(f), f[0].Verdict, *f[0].Smallest, f[0].Line)
	}
	if !strings.Contains(f[0].Reason, "on up to 3000 moves, line 1 to line 3000") {
		t.Errorf("%q", f[0].Reason)
	}
}
