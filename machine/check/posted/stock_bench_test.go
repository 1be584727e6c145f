package posted

import (
	"io"
	"path"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/offsets"
	"gridswing/machine/program"
	"gridswing/models"
	"gridswing/models/blocks"
)

// opened is a program for the demo's setup.
func opened(t testing.TB, s *machine.Setup, name string, r io.Reader) program.Steps {
	t.Helper()
	computed, err := offsets.Of(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	steps, err := program.Open(name, r, s, Values(s, computed), program.Options{
		Open: func(file string) (io.ReadCloser, error) { return models.Demo.Open(path.Join("programs", file)) },
	})
	if err != nil {
		t.Fatal(err)
	}
	return steps
}

// BenchmarkStock is with the stock as it is, and with reading blocks.
func BenchmarkStock(b *testing.B) {
	s := demoSetup(b)
	const feeds = 100_000
	for _, c := range []struct {
		name string
		five bool
	}{{"one position", false}, {"five axes", true}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				r := check.NewReport(s)
				of := blocks.Raster
				if c.five {
					of = blocks.FiveAxis
				}
				text, err := of(s, feeds)
				if err != nil {
					b.Fatal(err)
				}
				steps := opened(b, s, "raster.nc", text)
				b.StartTimer()
				if _, err := Check(b.Context(), s, r, Program{File: "raster.nc", Steps: steps}, Options{NoWindow: true, NoRemaining: true}); err != nil {
					b.Fatal(err)
				}
				b.StopTimer()
				for i := range r.Findings {
					if f := &r.Findings[i]; i < 10 {
						b.Logf("%v %v %s line %d", f.Verdict, f.Bodies, f.Reason, f.Line)
					}
				}
				b.StartTimer()
			}
			b.ReportMetric(float64(feeds*b.N)/b.Elapsed().Seconds(), "blocks/s")
		})
	}
}
