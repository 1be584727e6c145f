package pictures

import (
	"os"
	"testing"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render/page"
)

func prepareDemo(b *testing.B) *Scene {
	b.Helper()
	s, err := machine.LoadFS(os.DirFS("../../../../models/demo"), "setups/bracket-op10.toml")
	if err != nil {
		b.Fatal(err)
	}
	sc, err := Prepare(b.Context(), s, 1)
	if err != nil {
		b.Fatal(err)
	}
	return sc
}

// What it takes to list the figures of the demo, nothing drawn.
func BenchmarkFigures(b *testing.B) {
	sc := prepareDemo(b)
	r := check.NewReport(sc.setup)
	for b.Loop() {
		sc.Figures(r)
	}
}

// What it takes to draw one of each kind on plates for a page.
func BenchmarkFigure(b *testing.B) {
	sc := prepareDemo(b)
	seen := map[string]bool{}
	for _, f := range sc.Figures(check.NewReport(sc.setup)) {
		if seen[f.Kind] {
			continue
		}
		seen[f.Kind] = true
		b.Run(f.Kind, func(b *testing.B) {
			for b.Loop() {
				if err := f.Draw(b.Context(), page.NewPlate(1400, 1400/f.Aspect)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
