package check_test

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/driver"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/check/loads"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
	"gridswing/machine/check/stack"
	"gridswing/machine/check/swing"
	"gridswing/models"
)

// rooms are all checks, in the order in which a report is made.
var rooms = []struct {
	name  string
	check func(context.Context, *machine.Setup, *check.Report, proof.Options) error
}{
	{check.SwingCheck, swing.Check}, {check.ReachCheck, reach.Check}, {check.StackCheck, stack.Check},
	{check.DriverCheck, driver.Check}, {check.LoadsCheck, loads.Check},
}

// TestDemoInBrief: on the demo's setups every concern has the verdict of the full check, also
// where the stack is looked at first; and of each there is a margin.
func TestDemoInBrief(t *testing.T) {
	for _, name := range []string{models.GoodSetup, models.BadSetup} {
		s, err := machine.LoadFS(models.Demo, name)
		if err != nil {
			t.Fatal(err)
		}
		o := proof.Options{Trees: proof.NewTrees()}
		full, brief, early := check.NewReport(s), check.NewReport(s), check.NewReport(s)
		for _, room := range rooms {
			if err := room.check(t.Context(), s, full, o); err != nil {
				t.Fatal(err)
			}
		}
		o.Brief = true
		for _, room := range rooms {
			if err := room.check(t.Context(), s, brief, o); err != nil {
				t.Fatal(err)
			}
		}
		for _, check := range []func(context.Context, *machine.Setup, *check.Report, proof.Options) error{
			stack.Check, loads.Check, swing.Check, reach.Check, stack.Locate, driver.Check,
		} {
			if err := check(t.Context(), s, early, o); err != nil {
				t.Fatal(err)
			}
		}
		shoptest.SameInBrief(t, full, brief, check.Concerns()...)
		shoptest.SameInBrief(t, full, early, check.Concerns()...)
		if full.Verdict != brief.Verdict || full.Verdict != early.Verdict {
			t.Errorf("%s: %v in brief, %v with the stack first, want %v", name, brief.Verdict, early.Verdict, full.Verdict)
		}
		if !reflect.DeepEqual(brief.Margins, early.Margins) {
			t.Errorf("%s: margins %+v, with the stack first %+v", name, brief.Margins, early.Margins)
		}
		o.Trees.Ledger = proof.NewLedger()
		for range 2 { // knowing nothing, then everything
			known := check.NewReport(s)
			for _, room := range rooms {
				if err := room.check(t.Context(), s, known, o); err != nil {
					t.Fatal(err)
				}
			}
			if !reflect.DeepEqual(brief.Margins, known.Margins) {
				t.Errorf("%s: margins %+v, with a ledger %+v", name, brief.Margins, known.Margins)
			}
			shoptest.SameInBrief(t, full, known, check.Concerns()...)
		}
		for _, c := range check.Concerns() {
			if !slices.ContainsFunc(brief.Margins, func(m check.Margin) bool { return m.Concern == c }) && c != check.DriverConcern {
				t.Errorf("%s: nothing is told of %s", name, c)
			}
		}
		if len(full.Margins) > 0 {
			t.Errorf("%s: the full report has margins", name)
		}
	}
}

// BenchmarkBrief is what it takes to look at the demo's good setup once more, all trees being
// there already, on one core: room by room, and all of them.
func BenchmarkBrief(b *testing.B) {
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		b.Fatal(err)
	}
	for _, brief := range []string{"brief", "full"} {
		o := proof.Options{Jobs: 1, Trees: proof.NewTrees(), Brief: brief == "brief"}
		whole := check.NewReport(s)
		for _, room := range rooms {
			before := *whole
			b.Run(brief+"/"+room.name, func(b *testing.B) {
				for b.Loop() {
					r := before
					r.Findings, r.Margins = nil, nil
					if err := room.check(b.Context(), s, &r, o); err != nil {
						b.Fatal(err)
					}
				}
			})
			if err := room.check(b.Context(), s, whole, o); err != nil {
				b.Fatal(err)
			}
		}
		if whole.Verdict != check.Clear {
			b.Fatalf("the verdict is %v", whole.Verdict)
		}
	}
}
