package layout

import "slices"

// level returns widths that add up to no more than the room: the widest are lowered first,
// to a common width, but none below its least. Where even those are too much, it returns them.
func level(wide, least []float64, room float64) []float64 {
	sum := 0.0
	for _, w := range wide {
		sum += w
	}
	got := slices.Clone(wide)
	if sum <= room {
		return got
	}
	// At which common width the sum is the room: between two of the widths it is linear.
	low, high := 0.0, slices.Max(wide)
	for range 60 {
		middle := (low + high) / 2
		if sum = 0; true {
			for i, w := range wide {
				sum += min(w, max(middle, least[i]))
			}
		}
		if sum > room {
			high = middle
		} else {
			low = middle
		}
	}
	for i, w := range wide {
		got[i] = min(w, max(low, least[i]))
	}
	return got
}
