package posted

import (
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"gridswing/machine/program"
)

// Memory does not grow with the program: what is in use after many blocks is what was in use after few.
func TestMemoryIsFlat(t *testing.T) {
	const blocks = 200_000
	s := scene(rand.New(rand.NewPCG(5, 5)))
	use := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	var early, late uint64
	place := func(i int) (x, y, z, a float64) {
		return 60 * math.Sin(float64(i)/500), 0.02 * float64(i%3000), 45 + 20*math.Cos(float64(i)/900), 0.5 * math.Sin(float64(i)/3000)
	}
	var step program.Step
	w := &walk{step: func(i int) *program.Step {
		switch i {
		case blocks / 8:
			early = use()
		case blocks - 1:
			late = use()
		case blocks:
			return nil
		}
		x, y, z, a := place(i)
		from := spot(x, y, z)
		from[axisA] = a
		x, y, z, a = place(i + 1)
		to := spot(x, y, z)
		to[axisA] = a
		step = straight(program.Feed, 0, i+1, from, to)
		step.Block = "G1 X10. Y10. Z10. A10."
		return &step
	}}
	checked(t, s, w, Options{})
	// Chunks on their way are some MB, more or fewer; the moves alone would be 40.
	if late > early+15<<20 {
		t.Errorf("%d MB in use after %d blocks, %d MB after %d", early>>20, blocks/8, late>>20, blocks)
	}
	t.Logf("%.1f MB and %.1f MB in use", float64(early)/(1<<20), float64(late)/(1<<20))
}
