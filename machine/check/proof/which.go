package proof

import "hash/fnv"

// Which makes a Question.Which of the words that tell a question from others.
func Which(words ...string) uint64 {
	h := fnv.New64a()
	for _, w := range words {
		_, _ = h.Write([]byte(w))
		_, _ = h.Write([]byte{0})
	}
	return h.Sum64()
}

// WhichOf is the i-th of the questions that another Which stands for.
func WhichOf(which uint64, i int) uint64 {
	// The finaliser of SplitMix64: Steele, Lea, Flood, "Fast splittable pseudorandom number
	// generators", OOPSLA 2014.
	x := which + uint64(i+1)*0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
