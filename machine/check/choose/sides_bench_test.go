package choose_test

import (
	"context"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
	"gridswing/machine/check/proof"
	"gridswing/models/many"
)

// BenchmarkSides lays both sides of a job of many features beside each other, from the setup in
// memory: trees are built anew each time.
func BenchmarkSides(b *testing.B) {
	fsys, err := many.FS()
	if err != nil {
		b.Fatal(err)
	}
	s, err := machine.LoadFS(fsys, many.Setup)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		found, err := choose.Sides(context.Background(), s, proof.Options{})
		if err != nil {
			b.Fatal(err)
		}
		if v := found.Plans[found.Recommended].Verdict; v != check.Clear || len(found.Features) != many.Features {
			b.Fatalf("%v, %d features", v, len(found.Features))
		}
	}
	b.ReportMetric(float64(many.Features)*float64(b.N)/b.Elapsed().Seconds(), "features/s")
}
