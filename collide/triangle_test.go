package collide

import (
	"flag"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"

	"github.com/golang/geo/r3"
)

var trianglePairs = flag.Int("triangles", 3000, "pairs of triangles to hold to the oracle")

// Distances are right to 1e-9 of themselves or 1e-7 mm, whichever is larger, and
// their points lie on the triangles and are that far apart.
func TestTrianglesAgainstOracle(t *testing.T) {
	pairs := uint64(*trianglePairs)
	if testing.Short() {
		pairs = min(pairs, 1000)
	}
	jobs := runtime.GOMAXPROCS(0)
	seen := make([]map[string]int, jobs)
	var wg sync.WaitGroup
	for job := range jobs {
		seen[job] = map[string]int{}
		wg.Go(func() {
			for seed := uint64(job); seed < pairs && !t.Failed(); seed += uint64(jobs) {
				kind, a, b := trianglePair(rand.New(rand.NewPCG(seed, 31)), seed)
				state, err := checkTriangles(&a, &b)
				if err != nil {
					t.Errorf("seed %d (%s): %v\na %#v\nb %#v", seed, kind, err, a, b)
				}
				seen[job][state]++
				seen[job][kind+", "+state]++
			}
		})
	}
	wg.Wait()
	total := map[string]int{}
	for _, m := range seen {
		for k, n := range m {
			total[k] += n
		}
	}
	for k, n := range total {
		t.Logf("%7d %s", n, k)
	}
	if few := int(pairs / 10); !t.Failed() && (total["meet"] < few || total["apart"] < few) {
		t.Errorf("%d of %d pairs meet and %d are apart: the pairs prove nothing", total["meet"], pairs, total["apart"])
	}
}

func checkTriangles(a, b *triangle) (state string, err error) {
	o, err := exactly(a, b)
	if err != nil {
		return "", err
	}
	for _, nearest := range []func(a, b *triangle) (float64, r3.Vector, r3.Vector){nearestPoints, nearestCarefully} {
		if state, err = checkNearest(o, a, b, nearest); err != nil {
			break
		}
	}
	return state, err
}

func checkNearest(o *oracle, a, b *triangle, nearest func(a, b *triangle) (float64, r3.Vector, r3.Vector)) (state string, err error) {
	d2, pa, pb := nearest(a, b)
	got := math.Sqrt(d2)
	want, _ := o.distance().Float64()
	diff, _ := new(big.Float).Sub(o.distance(), big.NewFloat(got)).Float64()
	state = "apart"
	switch {
	case o.meets():
		state = "meet"
	case want < 1e-7:
		state = "all but meet"
	}
	if !(math.Abs(diff) <= max(1e-9*want, 1e-7)) {
		return state, fmt.Errorf("distance %.17g, exactly %.17g", got, want)
	}
	if want > 1e-7 && got == 0 {
		return state, fmt.Errorf("apart by %.17g, but said to meet", want)
	}
	// Rounding, in units of the last place of the largest coordinate.
	off := 0.0
	for i := range 3 {
		off = max(off, a[i].Norm(), b[i].Norm())
	}
	off *= 64 * 0x1p-53
	if gap := pb.Sub(pa).Norm(); math.Abs(gap-got) > max(1e-9*got, off) {
		return state, fmt.Errorf("the points are %.17g apart, distance %.17g", gap, got)
	}
	for _, at := range []struct {
		name string
		off  func() (float64, error)
	}{
		{"a", func() (float64, error) { return offExactly(pa, a) }},
		{"b", func() (float64, error) { return offExactly(pb, b) }},
	} {
		if o, err := at.off(); err != nil || o > max(off, 1e-7) {
			return state, fmt.Errorf("the point of %s is %.17g off it (%v)", at.name, o, err)
		}
	}
	return state, nil
}
