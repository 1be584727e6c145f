package drafting

import (
	"cmp"
	"math"
	"slices"
)

// rungs returns where lines of words stand so that each is as near as can be to what it tells of,
// none nearer to the next than so much, in their order. All lie between top and bottom if there
// is room for them; the least squares of how far they are moved (Barlow, Bartholomew, Bremner,
// Brunk, Statistical Inference under Order Restrictions, 1972: pool adjacent violators).
func rungs(wanted []float64, apart, top, bottom float64) []float64 {
	order := make([]int, len(wanted))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(wanted[a], wanted[b]) })
	type block struct {
		sum float64
		n   int
	}
	var blocks []block
	mean := func(b block) float64 { return b.sum / float64(b.n) }
	for k, i := range order {
		blocks = append(blocks, block{wanted[i] - apart*float64(k), 1})
		for n := len(blocks); n > 1 && mean(blocks[n-2]) > mean(blocks[n-1]); n = len(blocks) {
			blocks[n-2].sum += blocks[n-1].sum
			blocks[n-2].n += blocks[n-1].n
			blocks = blocks[:n-1]
		}
	}
	stands := make([]float64, len(wanted))
	k, last := 0, bottom-apart*float64(len(wanted)-1)
	for _, b := range blocks {
		for range b.n {
			stands[order[k]] = math.Max(top, math.Min(mean(b), last)) + apart*float64(k)
			k++
		}
	}
	return stands
}
