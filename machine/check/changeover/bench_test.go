package changeover

import (
	"testing"

	"gridswing/machine"
	"gridswing/machine/check/proof"
	"gridswing/models"
)

// The demo loaded onto the empty machine, its trees ready.
func BenchmarkDemo(b *testing.B) {
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		b.Fatal(err)
	}
	o := Options{Trees: proof.NewTrees()}
	o.Trees.Plant(1, s.Bodies)
	for b.Loop() {
		if _, err := Make(b.Context(), nil, s, o); err != nil {
			b.Fatal(err)
		}
	}
}
