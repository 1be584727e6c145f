package models_test

import (
	"math"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/reach"
	"gridswing/models"
	"gridswing/models/many"
)

// tight is the closest place of an operation, by hand, as drawn, in mm.
type tight struct {
	operation, body, other string
	gap                    float64
}

// The closest place of each operation from the drawings' sizes. In the bracket's
// coordinates the block reaches up to 62 and to 50 at its ends, the jaws' plates up to
// 19 and blocks to 20, from 30 either way; the parallels from 15 and -21 outward, up to 0.
var closest = []tight{
	{"find the block", "T20 cutting part", "vise/moving jaw", 50 - 3 - 20},
	{"face the top", "T1 holder", "stock", 58 + 40 - 62},
	{"rough the walls", "T2 shank", "stock", 12 + 54 - 62},
	{"rough the ends", "T2 shank", "stock", 27 + 54 - 50},
	{"spot the screw holes", "T4 shank", "stock", 10 + 60 - 62},
	{"drill the screw holes", "T5 cutting part", "vise/parallels", 15 - (8 + 3.3)},
	{"drill the bore", "T6 cutting part", "vise/parallels", 15 - 7.75},
	{"finish the flanks", "T3 cutting part", "vise/moving jaw", 23 - 19},
	{"sink the screw holes", "T3 shank", "stock", 5.6 + 60 - 62},
	{"break the bore's edge", "T8 shank", "stock", 54.5 + 20 - 62},
	{"finish the walls' ends", "T7 cutting part", "vise/fixed jaw", 30 - (21.5 + 5)},
}

func reached(t *testing.T, name string) *check.Report {
	t.Helper()
	s := load(t, name)
	r := check.NewReport(s)
	if err := reach.Check(t.Context(), s, r, reach.Options{}); err != nil {
		t.Fatal(err)
	}
	return r
}

func TestAllOfTheGoodSetupCanBeCut(t *testing.T) {
	r := reached(t, models.GoodSetup)
	for _, f := range r.Findings {
		t.Errorf("%s: %s %s %v %s", f.Verdict, f.Operation, f.Feature, f.Bodies, f.Reason)
	}
	if len(r.Reach.Operations) != len(closest) {
		t.Fatalf("%d operations, want %d", len(r.Reach.Operations), len(closest))
	}
	for i, o := range r.Reach.Operations {
		want := closest[i]
		if o.Name != want.operation || o.Verdict != check.Clear {
			t.Fatalf("%s is %s, want %s clear", o.Name, o.Verdict, want.operation)
		}
		nearest := tightest(&o)
		switch {
		case nearest == nil || nearest.Nominal == nil:
			t.Errorf("%s: no closest place", o.Name)
		case nearest.Bodies != [2]string{want.body, want.other} || math.Abs(*nearest.Nominal-want.gap) > 0.02: // chord errors
			t.Errorf("%s: %v are %.4f mm apart, want %s and %s, %.4f", o.Name, nearest.Bodies, *nearest.Nominal, want.body, want.other, want.gap)
		}
	}
}

// Rotary axes can index with a tool 2 mm above the highest that anything comes, which is
// the upper edge of the screw's end: 182 out and 20 + 52 + 11 above the tilt axis with
// everything level, so hypot(182, 83) above it at the most. The tilt axis is 265 above
// the table, the gauge line 700. Steps and what can be off make it a little more.
func TestHeightToIndexEverywhere(t *testing.T) {
	highest := 265 + math.Hypot(182, 83)
	found := 0
	for _, m := range reached(t, models.GoodSetup).Reach.Moves {
		if m.Kind != check.IndexMove {
			continue
		}
		found++
		length := map[int]float64{2: 70 + 58, 4: 70 + 66, 7: 70 + 55}[m.Tool]
		want := highest + 2 + length - 700
		if m.FullHeight == nil || *m.FullHeight < want || *m.FullHeight > want+1.5 {
			t.Errorf("T%d to %s: %v, want %.3f or a little more", m.Tool, m.To, m.FullHeight, want)
		} else if m.Height == nil || *m.Height > *m.FullHeight {
			t.Errorf("T%d to %s: %v for this move, %v for all", m.Tool, m.To, m.Height, *m.FullHeight)
		}
	}
	if found != 5 {
		t.Errorf("%d index moves, want 5", found)
	}
}

// The jaw that is set 2 too narrow stands 28 from the middle of the block, and in the way.
func TestTheBadSetupCannotBeCutEither(t *testing.T) {
	r := reached(t, models.BadSetup)
	want := map[string]float64{"rough the walls": 28 - 27, "finish the walls' ends": 28 - (21.5 + 5)}
	for i := range r.Reach.Operations {
		o := &r.Reach.Operations[i]
		gap, bad := want[o.Name]
		if !bad {
			if o.Verdict != check.Clear {
				t.Errorf("%s is %s", o.Name, o.Verdict)
			}
			continue
		}
		nearest := tightest(o)
		if o.Verdict != check.Tight || nearest == nil || nearest.Bodies[1] != "vise/moving jaw" || math.Abs(*nearest.Nominal-gap) > 0.02 {
			t.Errorf("%s is %s: %+v, want %v mm to the moving jaw", o.Name, o.Verdict, nearest, gap)
		}
	}
}

func tightest(o *check.Operation) *check.Finding {
	for i := range o.Features {
		if f := o.Features[i].Tightest; f != nil {
			return f
		}
	}
	return nil
}

// Of a job in which all is clear as it is set, the windows of the stick-outs hold what is set: they are
// looked for to the end, also where the rotary axes turn far between features.
func TestWindowsHoldWhatIsSet(t *testing.T) {
	files, err := many.FS()
	if err != nil {
		t.Fatal(err)
	}
	s, err := machine.LoadFS(files, many.Setup)
	if err != nil {
		t.Fatal(err)
	}
	r := check.NewReport(s)
	if err := reach.Check(t.Context(), s, r, reach.Options{}); err != nil {
		t.Fatal(err)
	}
	for _, f := range r.Findings {
		t.Errorf("%s: %s %v", f.Verdict, f.Operation, f.Bodies)
	}
	for _, o := range r.Reach.Operations {
		w := o.StickOut
		if w == nil || w.Tool == nil {
			continue
		}
		if w.Now < w.Tool[0]-1e-6 || w.Now > w.Tool[1]+1e-6 {
			t.Errorf("%s: set to %g, good are %v", o.Name, w.Now, *w.Tool)
		}
	}
}
