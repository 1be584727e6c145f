package main

import (
	"bytes"
	"path/filepath"
	"testing"

	"gridswing/models/varied"
)

// BenchmarkBinder makes a binder of varied setups, first and then unchanged.
func BenchmarkBinder(b *testing.B) {
	const setups = 8
	dir := b.TempDir()
	if err := varied.Write(dir, setups, 1); err != nil {
		b.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	for _, c := range []struct{ name, flag string }{{"first", "--all"}, {"unchanged", "--quiet"}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				var told, errs bytes.Buffer
				if code := run(b.Context(), []string{"binder", filepath.Join(dir, varied.Folder), "--out", out, c.flag}, &told, &errs); code == exitInterrupted || told.Len() == 0 {
					b.Fatalf("exit code %d: %s", code, errs.String())
				}
			}
			b.ReportMetric(float64(setups)*float64(b.N)*60/b.Elapsed().Seconds(), "setups/min")
		})
	}
}
