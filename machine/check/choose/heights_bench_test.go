package choose

import (
	"context"
	"testing"

	"gridswing/machine"
	"gridswing/models"
)

// The demo's riser as a spacer between 30 and 120 mm.
func BenchmarkHeightsOfDemo(b *testing.B) {
	d, err := machine.DraftFS(models.Demo, models.GoodSetup)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		h, err := FindHeights(context.Background(), d, "riser", 30, 120, Options{})
		if err != nil || h.Lowest == nil {
			b.Fatal(err, h)
		}
	}
}
