package swing

import (
	"io/fs"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/models"
	"gridswing/models/large"
)

// BenchmarkDemo is the check of the demo's good setup, from solids in memory to
// verdicts and chart, on all cores. testdata/peer/table lays it beside a
// general-purpose library that samples the same motion.
func BenchmarkDemo(b *testing.B) {
	s := loaded(b, models.Demo)
	b.ReportAllocs()
	for b.Loop() {
		checked(b, s)
	}
}

// BenchmarkLarge is the same setup on a machine of three million facets, open,
// overlapping and of many shells, as machine models are delivered.
func BenchmarkLarge(b *testing.B) {
	fsys, err := large.FS(3_000_000)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("load", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			loaded(b, fsys)
		}
	})
	b.Run("check", func(b *testing.B) {
		s := loaded(b, fsys)
		b.ReportAllocs()
		for b.Loop() {
			checked(b, s)
		}
	})
}

func loaded(b *testing.B, fsys fs.FS) *machine.Setup {
	b.Helper()
	s, err := machine.LoadFS(fsys, models.GoodSetup)
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// checked fails the benchmark where the good setup is not found clear: a fast
// wrong answer is worth nothing.
func checked(b *testing.B, s *machine.Setup) {
	b.Helper()
	var r check.Report
	if err := Check(b.Context(), s, &r, Options{}); err != nil {
		b.Fatal(err)
	}
	if r.Verdict != check.Clear {
		b.Fatalf("the verdict is %v, want %v", r.Verdict, check.Clear)
	}
}
