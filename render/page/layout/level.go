package layout

import "slices"

// level returns widths that add up to no more than the room: the widest are lowered first,
// to a common width, but none below its least. Where even those are too much, it returns them.
func level(wide, least []float64, room float64) []float64 {
	got := slices.Clone(wide)
	lowered := func(to float64) (sum float64) {
		for i, w := range wide {
			got[i] = min(w, max(to, least[i]))
			sum += got[i]
		}
		return sum
	}
	low, high := 0.0, slices.Max(wide)
	if lowered(high) <= room {
		return got
	}
	for range 60 { // the sum grows with the common width, so halving finds it
		if middle := (low + high) / 2; lowered(middle) > room {
			high = middle
		} else {
			low = middle
		}
	}
	lowered(low)
	return got
}
