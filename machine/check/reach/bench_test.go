package reach_test

import (
	"context"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/reach"
	"gridswing/models/many"
)

// BenchmarkManyFeatures looks at a job of many features, all of them clear, from the
// setup in memory: trees are built anew each time.
func BenchmarkManyFeatures(b *testing.B) {
	fsys, err := many.FS()
	if err != nil {
		b.Fatal(err)
	}
	s, err := machine.LoadFS(fsys, many.Setup)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		r := check.NewReport(s)
		if err := reach.Check(context.Background(), s, r, reach.Options{}); err != nil {
			b.Fatal(err)
		}
		if len(r.Findings) > 0 {
			b.Fatalf("%+v", r.Findings[0])
		}
		looked := 0
		for i := range r.Reach.Operations {
			looked += len(r.Reach.Operations[i].Features)
		}
		if looked != many.Features {
			b.Fatalf("%d features looked at, want %d", looked, many.Features)
		}
	}
	b.ReportMetric(float64(many.Features)*float64(b.N)/b.Elapsed().Seconds(), "features/s")
}
