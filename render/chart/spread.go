package chart

// spread moves places, which must not decrease, so that neighbours are at least gap apart,
// by as little as may be and within [lo, hi] as far as they all fit there; if they do not,
// the gap is made smaller.
func spread(wanted []float64, gap, lo, hi float64) []float64 {
	n := len(wanted)
	if n > 1 {
		gap = min(gap, (hi-lo)/float64(n-1))
	}
	type block struct {
		n   int
		sum float64 // of where its first one would be if each had its wish
	}
	first := func(b block) float64 {
		return max(lo, min(b.sum/float64(b.n), hi-gap*float64(b.n-1)))
	}
	var blocks []block
	for _, w := range wanted {
		blocks = append(blocks, block{1, w})
		for len(blocks) > 1 {
			a, b := blocks[len(blocks)-2], blocks[len(blocks)-1]
			if first(a)+gap*float64(a.n) <= first(b) {
				break
			}
			blocks = append(blocks[:len(blocks)-2], block{a.n + b.n, a.sum + b.sum - gap*float64(a.n*b.n)})
		}
	}
	placed := make([]float64, 0, n)
	for _, b := range blocks {
		for k := range b.n {
			placed = append(placed, first(b)+gap*float64(k))
		}
	}
	return placed
}
