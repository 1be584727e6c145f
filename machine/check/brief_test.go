package check_test

import (
	"context"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/driver"
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
